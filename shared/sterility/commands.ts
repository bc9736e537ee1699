import { LOAD_COMMANDS } from './load-commands.ts'
import { PACK_COMMANDS } from './pack-commands.ts'
import { STERILISER_COMMANDS } from './steriliser-commands.ts'
import { TRANSIT_COMMANDS } from './transit-commands.ts'
import { TURNAROUND_COMMANDS } from './turnaround-commands.ts'

export const STERILITY_COMMANDS = {
  ...LOAD_COMMANDS,
  ...PACK_COMMANDS,
  ...STERILISER_COMMANDS,
  ...TRANSIT_COMMANDS,
  ...TURNAROUND_COMMANDS,
}
