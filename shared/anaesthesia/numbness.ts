import { type Instant, instant, type Minutes } from '../base/moment.ts'
import type { AppointmentId } from '../ids.ts'
import { childhoodOf } from '../people/child.ts'
import { hasReached, type VisitStage } from '../schedule/appointment.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { Anaesthetic, Dose, Numbness, NumbnessPlace } from './anaesthetic.ts'
import type { AnaesthesiaFinding } from './findings.ts'
import { worksFrom } from './timing.ts'
import { earliestEnd, overdue } from './window.ts'

/** What numbness is judged on, for one appointment. */
export interface NumbnessSight {
  appointmentId: AppointmentId
  stage: VisitStage
  anaesthetic: Anaesthetic | null
  doses: readonly Dose[]
  numbness: readonly Numbness[]
  /** When the patient last sat down: an answer from before a pause is only a baseline. Null: not seated. */
  seatedAt: Instant | null
  /** Teeth that carry a clamp. */
  clamped: readonly Tooth[]
  /** Teeth whose pulp the work may touch, and every worked one where there is an injection. */
  pulpal: readonly Tooth[]
  /** When the work is expected to end. */
  endsAt: Instant | null
  recheckMinutes: Minutes
  ageYears: number | null
  hasCarer: boolean
  aftercareGiven: boolean
  /** Who stays with the patient after the needle, as last named; null: nobody. */
  staysSince: Instant | null
  now: Instant
}

/** What stands open on numbness: never answered by a timer alone, and lip, gum and tooth are answers apart. */
export function judgeNumbness(sight: NumbnessSight): AnaesthesiaFinding[] {
  return [...judgeBefore(sight), ...judgeWindow(sight), ...judgeAlone(sight), ...judgeAftercare(sight)]
}

const aboutOf = ({ appointmentId }: NumbnessSight): string => `appointment:${appointmentId}`
const injectedOf = ({ doses }: NumbnessSight): Dose[] =>
  doses.filter(({ technique }) => technique !== 'topical')

function judgeBefore(sight: NumbnessSight): AnaesthesiaFinding[] {
  const { anaesthetic, stage } = sight
  const intent = anaesthetic?.intent
  if (hasReached(stage, 'started')) return judgeUnderWay(sight)
  // What is in outweighs what was meant.
  if (intent?.kind === 'none' && injectedOf(sight).length === 0) {
    return [...judgeByIntent(sight, intent), ...judgeFelt(sight)]
  }
  if (
    sight.doses.length === 0 &&
    intent?.kind !== 'injection' &&
    sight.clamped.length === 0 &&
    sight.pulpal.length === 0
  ) {
    return []
  }
  return [
    ...judgeNoneGiven(sight),
    ...judgeFelt(sight),
    ...judgeGum(sight),
    ...judgeTooth(sight),
    ...judgeWait(sight),
  ]
}

/** An answer "numb" says nothing of what was given: an injection that is intended is recorded, or ruled out. */
function judgeNoneGiven(sight: NumbnessSight): AnaesthesiaFinding[] {
  const { intent, planned = [] } = sight.anaesthetic ?? {}
  const isOnlyLaidOn = planned.length > 0 && planned.every(({ technique }) => technique === 'topical')
  if (intent?.kind !== 'injection' || isOnlyLaidOn || injectedOf(sight).length > 0) return []
  return [{ rule: 'numbness/none-given', level: 'ask', about: aboutOf(sight) }]
}

/** After the start a top-up, or another tooth, is tested as the first was. */
function judgeUnderWay(sight: NumbnessSight): AnaesthesiaFinding[] {
  const doses = injectedOf(sight)
  if (doses.length === 0 || hasReached(sight.stage, 'finished')) return []
  const since = instant(Math.max(...doses.map(({ at }) => at)))
  const teeth = sight.pulpal.filter((tooth) => latestFor({ kind: 'tooth', tooth }, sight) === null)
  const untested: AnaesthesiaFinding[] =
    teeth.length === 0
      ? []
      : [{ rule: 'numbness/re-check', level: 'ask', about: aboutOf(sight), since, teeth, why: 'dose' }]
  return [...untested, ...judgeFelt(sight)]
}

const judgeByIntent = (
  sight: NumbnessSight,
  { reason, topicalAtClamp }: { reason: string; topicalAtClamp: boolean },
): AnaesthesiaFinding[] => [
  { rule: 'numbness/by-intent', level: 'note', about: aboutOf(sight), reason, topicalAtClamp },
]

/** Where the jaws of each clamp will sit: cheek side and tongue side, whichever tooth is treated. */
export const gumPlaces = (clamped: readonly Tooth[]): NumbnessPlace[] =>
  clamped.flatMap((tooth) => [
    { kind: 'gum', tooth, side: 'cheek' } as const,
    { kind: 'gum', tooth, side: 'tongue' } as const,
  ])

const isSamePlace = (a: NumbnessPlace, b: NumbnessPlace): boolean =>
  a.tooth === b.tooth && (a.kind === 'gum' ? b.kind === 'gum' && a.side === b.side : b.kind === 'tooth')

/** The latest answer for a place since the last injection and since the patient sat down; an earlier one is only a baseline. */
export function latestFor(
  place: NumbnessPlace,
  { numbness, doses, seatedAt }: Pick<NumbnessSight, 'numbness' | 'doses' | 'seatedAt'>,
): Numbness | null {
  if (numbness.length === 0) return null
  const injected = doses.filter(({ technique }) => technique !== 'topical')
  const since = Math.max(seatedAt ?? Number.NEGATIVE_INFINITY, ...injected.map(({ at }) => at))
  const answers = numbness.filter((each) => isSamePlace(each.place, place) && each.at >= since)
  return answers.sort((a, b) => a.at - b.at).at(-1) ?? null
}

/** Under the dam only a place where no clamp was to sit before is asked: after a top-up the tooth itself is tested. */
function judgeGum(sight: NumbnessSight): AnaesthesiaFinding[] {
  const answers = hasReached(sight.stage, 'clamped') ? { ...sight, doses: [] } : sight
  const places = gumPlaces(sight.clamped).filter((place) => {
    const answer = latestFor(place, answers)?.answer
    return answer === undefined || answer === 'not-suitable'
  })
  if (places.length === 0) return []
  return [{ rule: 'numbness/not-tested', level: 'ask', about: aboutOf(sight), places }]
}

/** A numb lip says nothing of the tooth: the tooth is tested by itself, or said not to be testable. */
function judgeTooth(sight: NumbnessSight): AnaesthesiaFinding[] {
  const teeth = sight.pulpal.filter((tooth) => latestFor({ kind: 'tooth', tooth }, sight) === null)
  if (teeth.length === 0) return []
  const gumNumb = gumPlaces(sight.clamped).every((place) => latestFor(place, sight)?.answer === 'numb')
  return [{ rule: 'numbness/tooth-not-tested', level: 'ask', about: aboutOf(sight), teeth, gumNumb }]
}

function judgeFelt(sight: NumbnessSight): AnaesthesiaFinding[] {
  if (sight.numbness.length === 0) return []
  const teeth = sight.pulpal.map((tooth): NumbnessPlace => ({ kind: 'tooth', tooth }))
  return [...gumPlaces(sight.clamped), ...teeth].flatMap((place): AnaesthesiaFinding[] => {
    const latest = latestFor(place, sight)
    if (latest?.answer !== 'felt') return []
    return [{ rule: 'numbness/felt', level: 'ask', about: aboutOf(sight), place, at: latest.at }]
  })
}

function judgeWait(sight: NumbnessSight): AnaesthesiaFinding[] {
  const until = Math.max(0, ...sight.doses.map(worksFrom)) as Instant
  if (until <= sight.now) return []
  return [{ rule: 'numbness/waiting', level: 'note', about: aboutOf(sight), until }]
}

/** Once the shortest printed time of a tooth is over a second look is due; before, it is told if the work will outlast it. */
function judgeWindow(sight: NumbnessSight): AnaesthesiaFinding[] {
  const { endsAt, stage } = sight
  const ends = earliestEnd(sight)
  if (ends === null || hasReached(stage, 'finished')) return []
  const isAskedAnyway = judgeUnderWay(sight).some(({ rule }) => rule === 'numbness/re-check')
  const over = hasReached(stage, 'started') && isAskedAnyway ? [] : overdue(sight)
  if (over.length > 0) {
    const since = instant(Math.min(...over.map((window) => window.ends)))
    const teeth = over.flatMap(({ tooth }) => tooth ?? [])
    return [{ rule: 'numbness/re-check', level: 'ask', about: aboutOf(sight), since, teeth, why: 'time' }]
  }
  if (endsAt === null || endsAt <= ends || sight.now >= ends) return []
  return [{ rule: 'numbness/window-ends', level: 'note', about: aboutOf(sight), at: ends }]
}

/** Between the needle and what comes next the patient is not left alone: somebody is named after the last injection. */
function judgeAlone(sight: NumbnessSight): AnaesthesiaFinding[] {
  const injected = injectedOf(sight)
  const last = Math.max(...injected.map(({ at }) => at))
  if (injected.length === 0 || hasReached(sight.stage, 'clamped')) return []
  if (sight.staysSince !== null && sight.staysSince >= last) return []
  return [{ rule: 'numbness/nobody-stays', level: 'ask', about: aboutOf(sight) }]
}

/**
 * Children, those with a carer, those whose age nobody knows, and anyone after a block take a written warning home:
 * from the needle on, whether the work was done or not.
 */
function judgeAftercare(sight: NumbnessSight): AnaesthesiaFinding[] {
  const { ageYears, hasCarer, aftercareGiven, stage } = sight
  const injected = injectedOf(sight)
  if (injected.length === 0 || aftercareGiven || stage === 'left') return []
  const childhood = childhoodOf(ageYears)
  const isAfterBlock = injected.some(({ technique }) => technique === 'block')
  const mayBeChild = childhood === 'unknown' ? 'age-unknown' : null
  const why = childhood === 'child' ? 'child' : hasCarer ? 'carer' : isAfterBlock ? 'block' : mayBeChild
  return why === null ? [] : [{ rule: 'aftercare/not-given', level: 'ask', about: aboutOf(sight), why }]
}
