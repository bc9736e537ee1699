import { CLINIC_COMMANDS } from './clinic-commands.ts'
import { PATIENT_COMMANDS } from './patient-commands.ts'

export const PEOPLE_COMMANDS = {
  ...CLINIC_COMMANDS,
  ...PATIENT_COMMANDS,
}
