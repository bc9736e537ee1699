import type { Day, Instant } from '../base/moment.ts'
import type { Patient } from '../people/patient.ts'
import type { PolicySet } from '../people/policy-set.ts'
import { VISIT_STAGES, type VisitStage } from '../schedule/appointment.ts'
import type { Tray } from '../trays/tray.ts'
import type { AllergyRecord } from './allergy-record.ts'
import { isHighRisk } from './high-risk.ts'
import { readStatement, type StatementReading } from './statement.ts'

/** What allergies are judged by: the record, the patient's history, the tray's own contents and the stage. */
export interface AllergySight {
  /** Null: nobody has recorded anything, so nothing was asked. */
  record: AllergyRecord | null
  patient: Pick<Patient, 'id' | 'history'>
  /** Null where no tray stands. */
  tray: Pick<Tray, 'contains'> | null
  stage: VisitStage
  policy: Pick<PolicySet, 'allergies'> | null
  today: Day
}

export const isSeated = (stage: VisitStage): boolean =>
  VISIT_STAGES.indexOf(stage) >= VISIT_STAGES.indexOf('seated')
/** Past the point where an answer could still change what is used. */
export const isOverFor = (stage: VisitStage): boolean =>
  VISIT_STAGES.indexOf(stage) >= VISIT_STAGES.indexOf('finished')

type Asked = AllergyRecord['asked']

const monthsBetween = (from: Day, to: Day): number =>
  (Number(to.slice(0, 4)) - Number(from.slice(0, 4))) * 12 +
  Number(to.slice(5, 7)) -
  Number(from.slice(5, 7)) -
  (to.slice(8) < from.slice(8) ? 1 : 0)

/** "None" ages out after the clinic's months; one without a day, or without a policy, has no age to trust. */
export const isAged = (asked: Asked, { policy, today }: Pick<AllergySight, 'policy' | 'today'>): boolean =>
  asked === null || policy === null || monthsBetween(asked.day, today) >= policy.allergies.noneKnownMonths

/** Words of the history that make latex likelier, with when they were written. */
export const highRiskOf = ({ patient }: AllergySight): { text: string; at: Instant }[] =>
  patient.history.filter(({ text }) => isHighRisk(text))

export interface ReadWords {
  text: string
  /** Where it was said: `visit` for what was noted at the chair. */
  source: string
  at: Instant
  reading: StatementReading
}

/** Every statement with what it says, read once for each record: several questions are judged by the same words. */
export function readWords(record: AllergyRecord | null): readonly ReadWords[] {
  if (record === null) return []
  const known = READ.get(record)
  if (known) return known
  const words = record.statements.map((said) => ({ ...said, reading: readStatement(said.text) }))
  READ.set(record, words)
  return words
}
const READ = new WeakMap<AllergyRecord, readonly ReadWords[]>()

/**
 * What is known of latex now. A "none" that aged out, or that is older than a history that makes latex likelier,
 * is no answer any more.
 */
export function latexNow(sight: AllergySight): AllergyRecord['latex'] {
  const { record } = sight
  if (record === null) return 'not-asked'
  if (record.latex !== 'none-known') return record.latex
  const asked = record.latexAsked
  const isOvertaken = asked !== null && highRiskOf(sight).some(({ at }) => at > asked.at)
  return isAged(asked, sight) || isOvertaken ? 'not-asked' : 'none-known'
}

/** Words that ask about latex and that nobody has put to the patient since. */
export const isAnsweredSince = (asked: Asked, at: Instant): boolean => asked !== null && asked.at >= at
