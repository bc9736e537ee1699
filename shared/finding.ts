import type { AllergyFinding } from './allergies/findings.ts'
import type { AnaesthesiaFinding } from './anaesthesia/findings.ts'
import { LEVELS, type Level } from './base/rule.ts'
import type { IsolationFinding } from './isolation/findings.ts'
import type { JournalFinding } from './journal/findings.ts'
import type { PeopleFinding } from './people/findings.ts'
import type { ProcedureFinding } from './procedures/findings.ts'
import type { ReadinessFinding } from './readiness/findings.ts'
import type { ScheduleFinding } from './schedule/findings.ts'
import type { ImportFinding } from './schedule/import-findings.ts'
import type { SterilityFinding } from './sterility/findings.ts'
import type { TeethFinding } from './teeth/findings.ts'
import type { TrayFinding } from './trays/findings.ts'

/** All areas' findings, joined. */
export type Finding =
  | TeethFinding
  | ProcedureFinding
  | IsolationFinding
  | AnaesthesiaFinding
  | AllergyFinding
  | TrayFinding
  | SterilityFinding
  | ScheduleFinding
  | ImportFinding
  | PeopleFinding
  | ReadinessFinding
  | JournalFinding

/** The gravest level among findings; null where there are none. */
export const worst = (findings: readonly { level: Level }[]): Level | null =>
  LEVELS.find((level) => findings.some((finding) => finding.level === level)) ?? null
