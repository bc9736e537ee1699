import type { Instant } from '#shared/base/moment.ts'
import type { Change } from '#shared/change.ts'
import type { Command } from '#shared/command.ts'
import type { Finding } from '#shared/finding.ts'
import type { ClinicId } from '#shared/ids.ts'
import type { Trouble } from '../http/reply.ts'

/** A command, and the clinic it is asked of. `command.input` is as it came: it is parsed by the command's own rule. */
export interface Asked {
  clinicId: ClinicId
  command: Command
  /** The clinic's clock where it is told, as when a day is played; else it is read. */
  at?: Instant
}

/**
 * What came of a command. Done: the revision it stands at and what it changed. Refused: why, as findings; or, where the command could
 * not even be read, as a trouble in three parts.
 */
export type Performed =
  | { refused: false; revision: number; findings: Finding[]; change: Change }
  | { refused: true; findings: Finding[]; trouble: Trouble | null }

export const refusedFor = (...findings: Finding[]): Performed => ({ refused: true, findings, trouble: null })
export const unreadable = (trouble: Trouble): Performed => ({ refused: true, findings: [], trouble })
