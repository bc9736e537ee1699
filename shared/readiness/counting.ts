import { type Instant, instant } from '../base/moment.ts'
import { CATALOGUE } from '../procedures/catalogue.ts'
import type { ProcedureKind } from '../procedures/work.ts'
import type { AppointmentFacts } from './day-index.ts'
import type { HelpOutcome } from './help.ts'

/** Work that is done with a blade. (COMMON: common practice, no source.) */
const CUTTING: ReadonlySet<ProcedureKind> = new Set(['extraction', 'implant', 'apical-surgery'])

/** Files or blades are in the mouth once such work has started; of what is not known it is not said. */
const isSharp = ({ kind }: AppointmentFacts['work'][number]): boolean =>
  kind === 'undetermined' || CUTTING.has(kind) || CATALOGUE[kind].kits.includes('root-canal')

/** Whether a sheet was ever put on in this visit, tied or not, with a clamp or without, recorded as placed or not. */
export const hadDam = ({ visit, asPlaced }: Pick<AppointmentFacts, 'visit' | 'asPlaced'>): boolean =>
  asPlaced.length > 0 || (visit?.steps.some(({ stage }) => stage === 'clamped') ?? false)

/** When the last thing that must be counted out went into this mouth; null: nothing did. */
export function lastWentIn(facts: AppointmentFacts): Instant | null {
  const steps = facts.visit?.steps ?? []
  const at = [
    ...facts.asPlaced.map((placed) => placed.at),
    ...facts.doses.filter(({ technique }) => technique !== 'topical').map((dose) => dose.at),
    ...steps.filter(({ stage }) => stage === 'clamped').map((step) => step.at),
    ...(facts.work.some(isSharp)
      ? steps.filter(({ stage }) => stage === 'started').map((step) => step.at)
      : []),
  ]
  return at.length === 0 ? null : instant(Math.max(...at))
}

/** Whether what went in last is not counted out yet, and the patient did not go to others, who were told. */
export function isUncounted(facts: AppointmentFacts): boolean {
  const went = lastWentIn(facts)
  const counted = facts.visit?.counts?.at ?? null
  return went !== null && (counted === null || counted < went) && !wentToOthers(facts, went)
}

const ELSEWHERE: ReadonlySet<string> = new Set<HelpOutcome>(['referred', 'handed-over'])
const wentToOthers = ({ incidents }: AppointmentFacts, since: Instant): boolean =>
  incidents.some(
    ({ drill, life }) => !drill && life.kind === 'closed' && life.at >= since && ELSEWHERE.has(life.outcome),
  )
