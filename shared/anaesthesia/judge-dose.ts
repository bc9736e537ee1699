import type { AllergyRecord } from '../allergies/allergy-record.ts'
import type { AppointmentId } from '../ids.ts'
import type { Patient } from '../people/patient.ts'
import type { PolicySet } from '../people/policy-set.ts'
import { positionOf, type Side, sideOf, type Tooth } from '../teeth/tooth.ts'
import type { Anaesthetic, Dose, LimitProfileId, PlannedDose, Solution } from './anaesthetic.ts'
import { checkDoses } from './dose.ts'
import type { CheckedDose, DoseAnswer, DoseQuestion } from './dose-question.ts'
import type { AnaesthesiaFinding } from './findings.ts'
import type { Bar } from './gates.ts'
import type { CeilingState } from './limits.ts'

/** What the doses of one patient on one day are checked on. */
export interface DoseSight {
  appointmentId: AppointmentId
  anaesthetic: Anaesthetic | null
  /** Given to this patient today, in whatever appointment, by whoever. */
  given: readonly Dose[]
  patient: Patient | null
  ageYears: number | null
  allergies: AllergyRecord | null
  policy: PolicySet | null
  worked: readonly Tooth[]
}

const CHILD_BELOW = 18

/** Everything open on the entered doses; nothing where none is entered. */
export function judgeDose(sight: DoseSight): AnaesthesiaFinding[] {
  const answer = checkSight(sight)
  if (answer === null) return []
  return [...answer.findings.flatMap((finding) => laidQuiet(finding, sight)), ...judgeSides(sight)]
}

/** The check of all given and planned today against the profile in use; null where none is entered. */
export function checkSight(sight: DoseSight): DoseAnswer | null {
  const doses = dosesOf(sight)
  return doses.length === 0 ? null : checkDoses(questionOf(sight, doses))
}

function questionOf(sight: DoseSight, doses: readonly CheckedDose[]): DoseQuestion {
  const { patient, ageYears, policy } = sight
  return {
    profile: profileOf(sight),
    weight: patient?.weight?.grams ?? null,
    ageYears,
    ageMonths: null,
    ceiling: ceilingOf(patient),
    bars: barsOf(sight),
    combine: policy?.anaesthesia.combine ?? 'lower-of-two',
    doses,
  }
}

/** The one named for this appointment, else the clinic's for this age. */
export function profileOf({ anaesthetic, ageYears, policy }: DoseSight): LimitProfileId | null {
  if (anaesthetic?.profile) return anaesthetic.profile
  if (!policy || ageYears === null) return null
  return ageYears < CHILD_BELOW ? policy.anaesthesia.childProfile : policy.anaesthesia.adultProfile
}

const HEART = /\b(?:heart|cardi\w*|angina|infarct\w*|arrhythm\w*|hypertens\w*)\b/i
const METHAEMOGLOBIN = /meth?a?emoglobin/i
const saysOf = (patient: Patient | null, pattern: RegExp): boolean =>
  patient?.history.some(({ text }) => pattern.test(text)) ?? false

/** A heart history asks for the lower ceiling; without a confirmed history it is not known. */
function ceilingOf(patient: Patient | null): CeilingState {
  if (saysOf(patient, HEART)) return 'cardiac'
  return patient?.historyConfirmed ? 'healthy' : 'unknown'
}

const OF_SUBSTANCE: Record<string, Bar> = { sulfites: 'sulfite', 'amide-anaesthetics': 'amide-allergy' }

function barsOf({ patient, allergies }: DoseSight): Bar[] {
  const listed = allergies?.allergies.filter(
    ({ certainty }) => certainty === 'confirmed' || certainty === 'suspected',
  )
  const bars = (listed ?? []).flatMap(({ substance }) => OF_SUBSTANCE[substance] ?? [])
  return saysOf(patient, METHAEMOGLOBIN) ? [...bars, 'methaemoglobinaemia'] : bars
}

/** What was given and what is planned beyond it. */
function dosesOf({ given, anaesthetic, appointmentId }: DoseSight): CheckedDose[] {
  const left = new Map<string, number>()
  for (const dose of given.filter((each) => each.appointmentId === appointmentId)) {
    const key = solutionKey(dose)
    left.set(key, (left.get(key) ?? 0) + dose.tenthsOfCartridge)
  }
  const planned = (anaesthetic?.planned ?? []).map((dose) => remaining(dose, left))
  return [
    ...given.map((dose) => ({ ...dose, by: dose.by })),
    ...planned.filter(({ tenthsOfCartridge }) => tenthsOfCartridge > 0),
  ]
}

export const solutionKey = ({ agent, milliPercent, vasoconstrictor, ratio }: Solution): string =>
  [agent, milliPercent, vasoconstrictor, ratio].join('/')

function remaining(dose: PlannedDose, given: Map<string, number>): CheckedDose {
  const key = solutionKey(dose)
  const used = Math.min(given.get(key) ?? 0, dose.tenthsOfCartridge)
  given.set(key, (given.get(key) ?? 0) - used)
  return { ...dose, tenthsOfCartridge: dose.tenthsOfCartridge - used, by: null }
}

/** Quiet by default: a grown-up's weight is a line; a ceiling waits for the history that is asked anyway. */
function laidQuiet(finding: AnaesthesiaFinding, { ageYears, patient }: DoseSight): AnaesthesiaFinding[] {
  if (finding.rule === 'dose/ceiling-unknown' && !patient?.historyConfirmed) return []
  if (finding.rule !== 'dose/weight-missing' || ageYears === null || ageYears < CHILD_BELOW) return [finding]
  return [{ rule: 'dose/weight-line', level: 'note', about: finding.about }]
}

/** The side of a planned injection against the side of the work. */
function judgeSides({ anaesthetic, worked, appointmentId }: DoseSight): AnaesthesiaFinding[] {
  const sides = new Set((anaesthetic?.planned ?? []).map(({ side }) => side))
  return [...sides]
    .filter((side) => isOtherSide(side, worked))
    .map((side) => ({
      rule: 'dose/other-side',
      level: 'ask',
      about: `appointment:${appointmentId}`,
      side,
      teeth: [...worked],
    }))
}

/** Next to the midline either side may be meant. */
export const isOtherSide = (side: Side, worked: readonly Tooth[]): boolean =>
  worked.length > 0 && worked.every((tooth) => sideOf(tooth) !== side && positionOf(tooth) > 1)
