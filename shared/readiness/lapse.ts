import type { PlannedDose } from '../anaesthesia/anaesthetic.ts'
import { solutionKey } from '../anaesthesia/cartridge.ts'
import { placeKey } from '../anaesthesia/left-to-give.ts'
import { isElsewhere } from '../anaesthesia/place.ts'
import type { Instant } from '../base/moment.ts'
import { COMMON, read, type Source } from '../base/source.ts'
import type { World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import type { LapseCause, Word } from '../isolation/isolation-facts.ts'
import { hasReached } from '../schedule/appointment.ts'
import { becameAnother } from '../schedule/identity.ts'
import { isSameWork } from '../schedule/seat.ts'
import type { Pack } from '../sterility/sterility-facts.ts'
import { type AppointmentFacts, findAppointment, indexDay } from './day-index.ts'
import { isInjected, stageOf } from './gates.ts'
import { isTooOld } from './word.ts'

/** An appointment as it stood and as it stands now. */
export interface Passage {
  before: AppointmentFacts
  after: AppointmentFacts
  /** Packs on its tray that stood well before and do not any more. */
  failedPacks: Pack[]
  now: Instant
}

interface Lapse {
  cause: LapseCause
  has: (passage: Passage) => boolean
  source: Source
}

const DERIVED = COMMON
const MISMATCH = read(
  'outpatient correct-site policy 2011–12: a mismatch is put right and the check done again',
)
const HAND_OVER = read('AAOS summary of Joint Commission guidelines: verify again when responsibility passes')
const INTERRUPTION = read('US Naval Hospital pre-procedure checklist: restart when interrupted')

/** The one table by which a dentist's word lapses. The first row that holds is the reason kept. */
export const LAPSES: readonly Lapse[] = [
  { cause: 'stopped', has: isStopped, source: MISMATCH },
  { cause: 'patient-changed', has: isOtherPatient, source: DERIVED },
  { cause: 'dentist-changed', has: differs((facts) => facts.appointment.dentistId), source: HAND_OVER },
  { cause: 'day-changed', has: differs((facts) => facts.appointment.day), source: DERIVED },
  { cause: 'plan-changed', has: differs((facts) => facts.plan?.digest ?? null), source: MISMATCH },
  { cause: 'consent-changed', has: isConsentChanged, source: DERIVED },
  { cause: 'allergies-changed', has: differs(knownAllergies), source: DERIVED },
  { cause: 'history-changed', has: differs(knownHistory), source: DERIVED },
  { cause: 'weight-changed', has: differs((facts) => facts.patient?.weight?.grams ?? null), source: DERIVED },
  { cause: 'dose-changed', has: isDoseChanged, source: DERIVED },
  { cause: 'pack-failed', has: ({ failedPacks }) => failedPacks.length > 0, source: DERIVED },
  { cause: 'left-chair', has: hasLeftChair, source: COMMON },
  { cause: 'interrupted', has: isInterrupted, source: INTERRUPTION },
  { cause: 'too-long-ago', has: isTooLongAgo, source: COMMON },
]

/**
 * Why a word on this appointment no longer holds after a change; empty where it still does. The operatory, the
 * start time, a clamp of the same family and an equal pack swapped in are not among the reasons.
 */
export const lapseCausesOf = (passage: Passage): LapseCause[] =>
  LAPSES.filter((row) => row.has(passage)).map((row) => row.cause)

/** The same, out of two whole worlds. */
export function lapseCauses(
  worlds: { before: World; after: World },
  appointmentId: AppointmentId,
  now: Instant,
): LapseCause[] {
  const before = findAppointment(indexDay(worlds.before), appointmentId)
  const after = findAppointment(indexDay(worlds.after), appointmentId)
  if (!before || !after) return []
  return lapseCausesOf({ before, after, failedPacks: findFailedPacks(worlds, appointmentId), now })
}

/** A live word as it stands after a lapse; any other word as it is: a lapse never heals, nor changes its reason. */
export function lapseWord(word: Word, { after, now }: Pick<Passage, 'after' | 'now'>, why: LapseCause): Word {
  if (word.life.kind !== 'live') return word
  const kind = hasReached(stageOf(after), 'started') ? 'changed-since-start' : 'lapsed'
  return { ...word, life: { kind, at: now, why } }
}

/** Packs on an appointment's tray, before or after, that were well before and are held or failed now. */
export function findFailedPacks(
  { before, after }: { before: World; after: World },
  appointmentId: AppointmentId,
): Pack[] {
  const trays = new Set(
    [...before.tray, ...after.tray]
      .filter((tray) => tray.appointmentId === appointmentId)
      .map((tray) => tray.id),
  )
  if (trays.size === 0) return []
  const onTray = new Set(
    [...before.trayLine, ...after.trayLine]
      .filter((line) => trays.has(line.trayId) && line.packId !== null)
      .map((line) => line.packId),
  )
  const failedBefore = new Set(before.pack.filter(hasFailed).map((pack) => pack.id))
  return after.pack.filter((pack) => onTray.has(pack.id) && hasFailed(pack) && !failedBefore.has(pack.id))
}

const hasFailed = ({ life, seen }: Pack): boolean =>
  life.kind === 'held' || seen?.inner === 'not-changed' || seen?.outer === 'not-changed'

function differs(part: (facts: AppointmentFacts) => unknown): Lapse['has'] {
  return ({ before, after }) => JSON.stringify(part(before)) !== JSON.stringify(part(after))
}

/** Another record, or a record that became another's. */
function isOtherPatient({ before, after }: Passage): boolean {
  if (before.appointment.patientId !== after.appointment.patientId) return true
  return (
    before.patient !== null &&
    after.patient !== null &&
    becameAnother(before.patient, after.patient).length > 0
  )
}

function knownAllergies({ allergies }: AppointmentFacts): unknown {
  if (!allergies) return ['not-asked', 'not-asked', []]
  const listed = allergies.allergies.map(({ substance, certainty, severity }) => [
    substance,
    certainty,
    severity,
  ])
  return [allergies.state, allergies.latex, listed]
}

function knownHistory({ patient }: AppointmentFacts): unknown {
  return patient?.history.map((item) => item.text) ?? []
}

function isStopped({ before, after }: Passage): boolean {
  const known = new Set(before.incidents.map((incident) => incident.id))
  return after.incidents.some((incident) => incident.kind === 'stop-check-side' && !known.has(incident.id))
}

/** A first consent that agrees with the work changes nothing the dentist agreed to. */
function isConsentChanged({ before, after }: Passage): boolean {
  const [earlier, later] = [before.visit?.consent ?? null, after.visit?.consent ?? null]
  if (later === null) return earlier !== null
  if (earlier !== null) {
    const isSame = isSameWork(earlier.work ?? null, later.work ?? [])
    return earlier.text !== later.text || `${earlier.teeth}` !== `${later.teeth}` || !isSame
  }
  const planned = new Set(after.work.flatMap((work) => work.teeth))
  return later.teeth.some((tooth) => !planned.has(tooth))
}

function hasLeftChair({ before, after }: Pick<Passage, 'before' | 'after'>): boolean {
  return hasReached(stageOf(before), 'seated') && !hasReached(stageOf(after), 'seated')
}

/** A read-back or time-out that was held and is blank again, with the patient still in the chair. */
function isInterrupted({ before, after }: Passage): boolean {
  if (hasLeftChair({ before, after })) return false
  const blanked = (what: 'readBack' | 'timeOut') => before.visit?.[what] != null && !after.visit?.[what]
  return blanked('readBack') || blanked('timeOut')
}

function isTooLongAgo({ before, after, now }: Passage): boolean {
  if (hasReached(stageOf(after), 'started')) return false
  return before.words.some((word) => word.life.kind === 'live' && isTooOld(word, after, now))
}

const tenthsBy = (doses: readonly PlannedDose[], key: (dose: PlannedDose) => string): Map<string, number> => {
  const sums = new Map<string, number>()
  for (const dose of doses) sums.set(key(dose), (sums.get(key(dose)) ?? 0) + dose.tenthsOfCartridge)
  return sums
}

/** Another agent or place, more of one, another limit profile, or more given than was planned. Less is no change. */
function isDoseChanged({ before, after }: Passage): boolean {
  return (
    isPlannedOtherwise(before, after) ||
    profilesOf(before) !== profilesOf(after) ||
    beyondPlan(after) > beyondPlan(before)
  )
}

function isPlannedOtherwise(before: AppointmentFacts, after: AppointmentFacts): boolean {
  const earlier = tenthsBy(before.anaesthetic?.planned ?? [], placeKey)
  const later = tenthsBy(after.anaesthetic?.planned ?? [], placeKey)
  if ([...earlier.keys()].some((place) => !later.has(place))) return true
  return [...later].some(([place, tenths]) => tenths > (earlier.get(place) ?? -1))
}

const profilesOf = ({ anaesthetic, policy }: AppointmentFacts): string =>
  anaesthetic?.profile ?? `${policy?.anaesthesia.adultProfile}/${policy?.anaesthesia.childProfile}`

/**
 * Tenths of cartridges injected beyond what was meant: elsewhere than at work and plan, where none was intended, or of
 * other or more solutions than planned. Each that is added lapses a word given after the last.
 */
function beyondPlan({ appointment, anaesthetic, work, doses: given }: AppointmentFacts): number {
  const doses = given.filter(isInjected)
  if (doses.length === 0) return 0
  const planned = anaesthetic?.planned ?? []
  const meant = { appointmentId: appointment.id, worked: work.flatMap(({ teeth }) => teeth), planned }
  const elsewhere = tenthsOf(doses.filter((dose) => isElsewhere(dose, meant)))
  if (planned.length === 0) return elsewhere + (anaesthetic?.intent.kind === 'none' ? tenthsOf(doses) : 0)
  const allowed = tenthsBy(planned.filter(isInjected), solutionKey)
  const over = [...tenthsBy(doses, solutionKey)].map(([solution, tenths]) =>
    Math.max(0, tenths - (allowed.get(solution) ?? 0)),
  )
  return elsewhere + over.reduce((total, tenths) => total + tenths, 0)
}

const tenthsOf = (doses: readonly PlannedDose[]): number =>
  doses.reduce((total, { tenthsOfCartridge }) => total + tenthsOfCartridge, 0)
