import type { Sentences } from '../../base/rule.ts'
import type { ScheduleFinding } from '../../schedule/findings.ts'

export const SCHEDULE_SENTENCES: Sentences<ScheduleFinding> = {
  'appointment/vanished': { says: () => 'The last import no longer lists this appointment.', desk: null },
}
