import { ALLERGY_COMMANDS } from './allergies/commands.ts'
import { ANAESTHESIA_COMMANDS } from './anaesthesia/commands.ts'
import { ISOLATION_COMMANDS } from './isolation/commands.ts'
import { JOURNAL_COMMANDS } from './journal/commands.ts'
import { PEOPLE_COMMANDS } from './people/commands.ts'
import { PROCEDURE_COMMANDS } from './procedures/commands.ts'
import { READINESS_COMMANDS } from './readiness/commands.ts'
import { CALENDAR_COMMANDS } from './schedule/calendar-commands.ts'
import { SCHEDULE_COMMANDS } from './schedule/commands.ts'
import { IMPORT_COMMANDS } from './schedule/import-commands.ts'
import { NAME_COMMANDS } from './schedule/name-commands.ts'
import { STERILITY_COMMANDS } from './sterility/commands.ts'
import { TEETH_COMMANDS } from './teeth/commands.ts'
import { TRAY_COMMANDS } from './trays/commands.ts'

/** Everything that can happen, by kind. */
export const COMMANDS = {
  ...TEETH_COMMANDS,
  ...PROCEDURE_COMMANDS,
  ...ISOLATION_COMMANDS,
  ...ANAESTHESIA_COMMANDS,
  ...ALLERGY_COMMANDS,
  ...TRAY_COMMANDS,
  ...STERILITY_COMMANDS,
  ...SCHEDULE_COMMANDS,
  ...IMPORT_COMMANDS,
  ...NAME_COMMANDS,
  ...CALENDAR_COMMANDS,
  ...PEOPLE_COMMANDS,
  ...READINESS_COMMANDS,
  ...JOURNAL_COMMANDS,
}
export type Commands = typeof COMMANDS
export type CommandKind = keyof Commands
