import type { AllergyRecord } from '../allergies/allergy-record.ts'
import { ageInMonths, ageInYears, type Day, dayOf, type Zone } from '../base/moment.ts'
import type { AppointmentId } from '../ids.ts'
import { CHILD_BELOW } from '../people/child.ts'
import type { Patient } from '../people/patient.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { Anaesthetic, Dose, LimitProfileId, PlannedDose } from './anaesthetic.ts'
import { labelOf, solutionKey } from './cartridge.ts'
import { checkDoses, resultOf } from './dose.ts'
import type { CheckedDose, DoseAnswer, DoseQuestion } from './dose-question.ts'
import { COUNTED, vasoconstrictorUsed } from './dose-together.ts'
import type { AnaesthesiaFinding, DoseFinding } from './findings.ts'
import type { Bar } from './gates.ts'
import { cautionsOf, readHeart } from './history.ts'
import { leftToGive } from './left-to-give.ts'
import { type CeilingState, VASOCONSTRICTOR_CEILINGS } from './limits.ts'
import { judgePlaces, judgePlacesGiven, judgeSideSaid, type Meant } from './place.ts'

/** What the doses of one patient on one day are checked on. */
export interface DoseSight {
  appointmentId: AppointmentId
  anaesthetic: Anaesthetic | null
  /** Given to this patient today, in whatever appointment, by whoever. */
  given: readonly Dose[]
  patient: Patient | null
  /** The day of the appointment: what was weighed, and how old the patient is, is counted to it. */
  day: Day
  zone: Zone
  allergies: AllergyRecord | null
  policy: PolicySet | null
  worked: readonly Tooth[]
  /** Sedation is booked with this visit. */
  sedated: boolean
}

/** Everything open on the entered doses; nothing where none is entered. */
export function judgeDose(sight: DoseSight): AnaesthesiaFinding[] {
  const answer = checkSight(sight)
  if (answer === null) return []
  return [
    ...answer.findings.flatMap((finding) => laidQuiet(finding, sight)),
    ...judgePlacesOf(sight),
    ...judgeBlocks(sight),
  ]
}

/** The check of all given and planned today against the profile in use; null where none is entered. */
export function checkSight(sight: DoseSight): DoseAnswer | null {
  const doses = dosesOf(sight)
  if (doses.length === 0) return null
  const answer = checkDoses(questionOf(sight, doses))
  const findings = [
    ...answer.findings,
    ...overByOldWeight(sight, doses).filter(
      (over) => !answer.findings.some(({ rule }) => rule === over.rule),
    ),
    ...judgeCeilingByHistory(sight, doses),
    ...judgeCautions(sight, doses),
  ]
  return { ...answer, findings, result: resultOf(findings) }
}

/** A grown-up's weight of long ago leaves the dose unchecked; what is over even by that weight is over. */
function overByOldWeight(sight: DoseSight, doses: readonly CheckedDose[]): DoseFinding[] {
  const weight = sight.patient?.weight?.grams ?? null
  if (weight === null || !isWeighedTooLongAgo(sight) || mustBeWeighed(sight)) return []
  return checkDoses({ ...questionOf(sight, doses), weight }).findings.filter(({ level }) => level === 'stop')
}

/** Beyond the lower ceiling a history that names no heart is not taken for a healthy one: the dentist reads it. */
function judgeCeilingByHistory({ patient }: DoseSight, doses: readonly CheckedDose[]): DoseFinding[] {
  const { isNamed, open: texts } = readHeart(patient)
  if (isNamed || texts.length === 0) return []
  return COUNTED.flatMap((which): DoseFinding[] => {
    const used = vasoconstrictorUsed(which, doses)
    const limit = VASOCONSTRICTOR_CEILINGS[which].cardiac.value
    if (used <= limit) return []
    return [{ rule: 'dose/ceiling-by-history', level: 'ask', about: which, which, used, limit, texts }]
  })
}

function judgeCautions({ patient, sedated }: DoseSight, doses: readonly CheckedDose[]): DoseFinding[] {
  const cautions = cautionsOf(patient, doses)
  const isTold = cautions.some(({ why }) => why === 'sedation')
  const booked = sedated && !isTold ? [{ why: 'sedation', text: 'booked with sedation' } as const] : []
  return [...cautions, ...booked].map((each) => ({
    rule: 'dose/caution',
    level: 'ask',
    about: 'patient',
    ...each,
  }))
}

function questionOf(sight: DoseSight, doses: readonly CheckedDose[]): DoseQuestion {
  const { patient, policy, day } = sight
  return {
    profile: profileOf(sight),
    weight: isWeighedTooLongAgo(sight) ? null : (patient?.weight?.grams ?? null),
    ageYears: ageOf(sight),
    ageMonths: ageInMonths(patient?.born ?? null, day),
    ceiling: ceilingOf(patient),
    bars: barsOf(sight),
    unsaid: patient?.historyConfirmed ? [] : ['methaemoglobinaemia'],
    combine: policy?.anaesthesia.combine ?? 'lower-of-two',
    doses,
  }
}

const ageOf = ({ patient, day }: DoseSight): number | null => ageInYears(patient?.born ?? null, day)

/** The one named for this appointment, else the clinic's for this age. */
export function profileOf(sight: DoseSight): LimitProfileId | null {
  const { anaesthetic, policy } = sight
  const ageYears = ageOf(sight)
  if (anaesthetic?.profile) return anaesthetic.profile
  if (!policy || ageYears === null) return null
  return ageYears < CHILD_BELOW ? policy.anaesthesia.childProfile : policy.anaesthesia.adultProfile
}

const METHAEMOGLOBIN = /meth?a?emoglobin/i
const saysOf = (patient: Patient | null, pattern: RegExp): boolean =>
  patient?.history.some(({ text }) => pattern.test(text)) ?? false

/** A heart history asks for the lower ceiling; without a confirmed history it is not known. */
function ceilingOf(patient: Patient | null): CeilingState {
  if (readHeart(patient).isNamed) return 'cardiac'
  return patient?.historyConfirmed ? 'healthy' : 'unknown'
}

const OF_SUBSTANCE: Record<string, Bar> = {
  sulfites: 'sulfite',
  'amide-anaesthetics': 'amide-allergy',
  'ester-anaesthetics': 'ester-allergy',
}

function barsOf({ patient, allergies }: DoseSight): Bar[] {
  const listed = allergies?.allergies.filter(
    ({ certainty }) => certainty === 'confirmed' || certainty === 'suspected',
  )
  const bars = (listed ?? []).flatMap(({ substance }) => OF_SUBSTANCE[substance] ?? [])
  return saysOf(patient, METHAEMOGLOBIN) ? [...bars, 'methaemoglobinaemia'] : bars
}

/** What was given and what is planned beyond it, wherever it went. */
function dosesOf({ given, anaesthetic, appointmentId }: DoseSight): CheckedDose[] {
  const here = given.filter((each) => each.appointmentId === appointmentId)
  return [
    ...given.map((dose) => ({ ...dose, by: dose.by })),
    ...leftToGive(anaesthetic?.planned ?? [], here, solutionKey).map((dose) => ({ ...dose, by: null })),
  ]
}

/** Below this a grown-up's weight is asked as a child's is. */
const LIGHT_BELOW_GRAMS = 50_000
/** How long a weight counts for who must be weighed, where the clinic sets nothing else (COMMON: no source). */
export const WEIGHT_MONTHS = 6
/** The same for everyone else (COMMON: no source). */
export const ADULT_WEIGHT_MONTHS = 24

/** Those under 18, of unknown age, or under 50 kg when last weighed. */
const mustBeWeighed = (sight: DoseSight): boolean => {
  const age = ageOf(sight)
  const grams = sight.patient?.weight?.grams ?? null
  return age === null || age < CHILD_BELOW || (grams !== null && grams < LIGHT_BELOW_GRAMS)
}

/** A weight that a growing or light patient may have left behind is no weight to check against. */
function isWeighedTooLongAgo(sight: DoseSight): boolean {
  const weighed = sight.patient?.weight?.at
  if (weighed === undefined) return false
  const { weightMonths, adultWeightMonths } = sight.policy?.anaesthesia ?? {}
  const months = mustBeWeighed(sight)
    ? (weightMonths ?? WEIGHT_MONTHS)
    : (adultWeightMonths ?? ADULT_WEIGHT_MONTHS)
  const age = ageInMonths(dayOf(weighed, sight.zone), sight.day)
  return age !== null && age >= months
}

/** Quiet by default: a grown-up's weight is a line; ceiling and allergies wait for what is asked anyway. */
function laidQuiet(finding: AnaesthesiaFinding, sight: DoseSight): AnaesthesiaFinding[] {
  const { patient } = sight
  if (finding.rule === 'dose/ceiling-unknown' && !patient?.historyConfirmed) return []
  if (finding.rule === 'dose/bar-unsaid') return []
  if (finding.rule !== 'dose/weight-missing') return [finding]
  const { about } = finding
  const weight = patient?.weight
  const last = weight && isWeighedTooLongAgo(sight) ? { ...weight.entered, at: weight.at } : null
  if (!mustBeWeighed(sight)) return [{ rule: 'dose/weight-line', level: 'note', about, last }]
  return last === null ? [finding] : [{ rule: 'dose/weight-old', level: 'ask', about, ...last }]
}

/** The house's own rule, told wherever a block is planned or was given with such an agent. */
function judgeBlocks({ anaesthetic, given, policy, appointmentId }: DoseSight): AnaesthesiaFinding[] {
  const blocks = [...(anaesthetic?.planned ?? []), ...given].filter(({ technique }) => technique === 'block')
  const agents = policy?.anaesthesia.notForBlocks ?? []
  return agents
    .filter((agent) => blocks.some((dose) => dose.agent === agent))
    .map((agent) => ({
      rule: 'dose/not-for-blocks',
      level: 'note',
      about: `appointment:${appointmentId}`,
      agent,
    }))
}

/** Where injections of this appointment are meant to be. */
export const meantOf = ({ anaesthetic, worked, appointmentId }: DoseSight): Meant => ({
  appointmentId,
  worked,
  planned: anaesthetic?.planned ?? [],
})

/** What is planned, and what is in, against the work and the plan. */
function judgePlacesOf(sight: DoseSight): AnaesthesiaFinding[] {
  const meant = meantOf(sight)
  const doses = sight.given.filter(
    ({ appointmentId, technique }) => appointmentId === sight.appointmentId && technique !== 'topical',
  )
  return [
    ...judgePlaces(meant.planned, meant),
    ...judgePlacesGiven(doses, meant),
    ...judgeSideSaid(doses, meant),
  ]
}

/** The cartridge against the plan; its place is judged with all that is planned and given. */
export function judgeSolution(
  given: PlannedDose,
  { anaesthetic, appointmentId }: DoseSight,
): AnaesthesiaFinding[] {
  const about = `appointment:${appointmentId}`
  const planned = anaesthetic?.planned ?? []
  if (planned.length === 0 || planned.some((each) => solutionKey(each) === solutionKey(given))) return []
  const label = labelOf(given)
  return [{ rule: 'dose/not-as-planned', level: 'stop', about, label, planned: planned.map(labelOf) }]
}
