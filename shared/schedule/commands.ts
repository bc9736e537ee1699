import { APPOINTMENT_COMMANDS } from './appointment-commands.ts'
import { AWAY_COMMANDS } from './away-commands.ts'
import { BESIDE_COMMANDS } from './beside-commands.ts'
import { BOOKING_COMMANDS } from './booking-commands.ts'
import { VISIT_COMMANDS } from './visit-commands.ts'

export const SCHEDULE_COMMANDS = {
  ...BOOKING_COMMANDS,
  ...APPOINTMENT_COMMANDS,
  ...VISIT_COMMANDS,
  ...BESIDE_COMMANDS,
  ...AWAY_COMMANDS,
}
