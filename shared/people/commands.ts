import { CLINIC_COMMANDS } from './clinic-commands.ts'
import { PATIENT_COMMANDS } from './patient-commands.ts'
import { ROOM_COMMANDS } from './room-commands.ts'
import { ROSTER_COMMANDS } from './roster-commands.ts'

export const PEOPLE_COMMANDS = {
  ...CLINIC_COMMANDS,
  ...ROOM_COMMANDS,
  ...PATIENT_COMMANDS,
  ...ROSTER_COMMANDS,
}
