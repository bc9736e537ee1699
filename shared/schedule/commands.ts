import { APPOINTMENT_COMMANDS } from './appointment-commands.ts'
import { VISIT_COMMANDS } from './visit-commands.ts'

export const SCHEDULE_COMMANDS = {
  ...APPOINTMENT_COMMANDS,
  ...VISIT_COMMANDS,
}
