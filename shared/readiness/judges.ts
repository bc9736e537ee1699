import { judgeAllergies } from '../allergies/conflicts.ts'
import { judgeLatexRoom } from '../allergies/latex.ts'
import { type AllergySight, latexNow } from '../allergies/sight.ts'
import { judgeLabelAnswered, judgeLabelRead, type LabelSight } from '../anaesthesia/cartridge.ts'
import { type DoseSight, judgeDose } from '../anaesthesia/judge-dose.ts'
import { judgeNumbness } from '../anaesthesia/numbness.ts'
import { addMinutes, ageInYears, type Instant } from '../base/moment.ts'
import type { Finding } from '../finding.ts'
import type { AsPlaced } from '../isolation/isolation-facts.ts'
import { CATALOGUE } from '../procedures/catalogue.ts'
import { judgeWork } from '../procedures/judge-work.ts'
import { hasReached } from '../schedule/appointment.ts'
import { judgeLate } from '../schedule/delay.ts'
import { likenessOf } from '../schedule/identity.ts'
import { isSameTeeth, isSedated, judgeSeat } from '../schedule/seat.ts'
import type { Tooth } from '../teeth/tooth.ts'
import { judgeTray } from '../trays/judge.ts'
import { alertsFor, expectedStartOf, rivalsOf, rostersOn } from './around.ts'
import { isUncounted } from './counting.ts'
import type { AppointmentFacts, DayIndex } from './day-index.ts'
import type { ReadinessFinding } from './findings.ts'
import { expectsInjection, isAllGiven, isInjected, needsDam, stageOf } from './gates.ts'
import { findOpenHelp } from './help.ts'
import { judgeLines } from './lines.ts'
import { isOverridden } from './override.ts'
import { findStaying } from './staying.ts'
import { findStop } from './stop.ts'
import { withoutTwins } from './twins.ts'
import { judgeWord } from './word.ts'

/** What a judge looks at: one appointment, its day around it, and the moment. */
export interface Sight {
  facts: AppointmentFacts
  day: DayIndex
  now: Instant
}

export const aboutOf = ({ facts }: Sight): string => `appointment:${facts.appointment.id}`
export const workedTeeth = (facts: AppointmentFacts): Tooth[] => [
  ...new Set(facts.work.flatMap((work) => work.teeth)),
]

/** "Stop, check side" holds until it is cleared, whatever else is in order. */
function judgeStopped(sight: Sight): ReadinessFinding[] {
  const stop = findStop(sight.facts)
  return stop
    ? [{ rule: 'side/stopped', level: 'stop', about: aboutOf(sight), since: stop.at, by: stop.by }]
    : []
}

/** A plan that is not there, or still waits for an answer, is never taken for a plan. */
function judgePlan(sight: Sight): ReadinessFinding[] {
  const { plan } = sight.facts
  const about = aboutOf(sight)
  if (plan === null) return [{ rule: 'plan/none-yet', level: 'ask', about }]
  const { number } = plan
  const { state, open } = plan.agreed
  if (open.length === 0 && state !== 'draft' && state !== 'undetermined') return []
  return open.length > 0 && open.every((rule) => rule === 'mouth/not-charted')
    ? [{ rule: 'plan/uncharted', level: 'ask', about, number }]
    : [{ rule: 'plan/question', level: 'ask', about, number, open }]
}

/** A call for help holds the chair until a dentist closes it; a drill is only told. */
const judgeHelp = (sight: Sight): Finding[] =>
  findOpenHelp(sight.facts).map((incident): Finding => {
    const told = { about: aboutOf(sight), kind: incident.kind, since: incident.at }
    return incident.drill
      ? { rule: 'help/drill', level: 'note', ...told }
      : { rule: 'help/open', level: 'stop', ...told }
  })

/** Which work, which tooth, and whether it can be there. */
function judgeWorks({ facts }: Sight): Finding[] {
  if (hasReached(stageOf(facts), 'finished')) return []
  const around = {
    chart: facts.chart,
    ageYears: ageOf(facts),
    sideConfirmed: isReadBack(facts),
  }
  return facts.work.flatMap((work) => judgeWork(work, around))
}

/** Tooth and side are read back before the needle, for the plan that stands now. */
const judgeReadBack = (sight: Sight): ReadinessFinding[] =>
  hasReached(stageOf(sight.facts), 'started') ? [] : readBackMissing(sight)

/** The same at any stage: another needle under other work is read back as the first was. */
export function readBackMissing(sight: Sight): ReadinessFinding[] {
  const teeth = workedTeeth(sight.facts)
  if (teeth.length === 0 || isReadBack(sight.facts)) return []
  return [{ rule: 'side/not-read-back', level: 'ask', about: aboutOf(sight), teeth }]
}

/** Whether tooth and side were read back for the plan that stands, and for its very teeth. */
export const isReadBack = (facts: AppointmentFacts): boolean =>
  agrees(facts, facts.visit?.readBack ?? null) || agrees(facts, facts.visit?.timeOut ?? null)

const agrees = (facts: AppointmentFacts, said: { teeth: Tooth[]; planNumber: number } | null): boolean =>
  said !== null &&
  said.planNumber === (facts.plan?.number ?? 0) &&
  isSameTeeth(said.teeth, workedTeeth(facts))

/** Whether the time-out was held on the plan that stands. */
export const hasTimeOut = (facts: AppointmentFacts): boolean => agrees(facts, facts.visit?.timeOut ?? null)

/** A day's history is confirmed once, on the day. */
function judgeHistory(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  const arrived = facts.visit?.steps.find((step) => step.stage === 'arrived' || step.stage === 'seated')
  const confirmed = facts.patient?.historyConfirmed ?? null
  if (hasReached(stageOf(facts), 'started')) return []
  if (confirmed !== null && arrived !== undefined && confirmed.at >= arrived.at) return []
  return [{ rule: 'history/not-confirmed', level: 'ask', about: aboutOf(sight) }]
}

/** What was counted for the teeth of the work as it is: under other teeth's number it is not counted at all. */
export function recountOf(facts: AppointmentFacts): { before: Instant | null; through: Instant | null } {
  const counted = facts.visit?.recounted ?? null
  if (counted === null || !isSameTeeth(counted.teeth ?? [], workedTeeth(facts)))
    return { before: null, through: null }
  const { before, through } = counted
  return { before, through: before !== null && through !== null && through >= before ? through : null }
}

/** Counted before the dam and again through it. */
function judgeRecount(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  if (!needsDam(facts.plan) || hasReached(stageOf(facts), 'started')) return []
  const counted = recountOf(facts)
  if (counted.before !== null && counted.through !== null) return []
  return [{ rule: 'teeth/not-recounted', level: 'ask', about: aboutOf(sight), teeth: workedTeeth(facts) }]
}

function judgeTimeOut(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  const teeth = workedTeeth(facts)
  if (teeth.length === 0 || hasReached(stageOf(facts), 'started') || hasTimeOut(facts)) return []
  return [{ rule: 'time-out/missing', level: 'ask', about: aboutOf(sight), teeth }]
}

/** What went into the mouth is counted out of it before the patient leaves. */
function judgeCounts(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  if (stageOf(facts) === 'left' || !isUncounted(facts)) return []
  return [{ rule: 'counts/not-done', level: 'ask', about: aboutOf(sight) }]
}

/** The tray as it stands; no tray at all is never taken for "no tray needed". */
function judgeTrayOf(sight: Sight): Finding[] {
  const { facts, now } = sight
  const stage = stageOf(facts)
  if (facts.tray !== null) {
    return judgeTray(facts.tray, { appointment: facts.appointment, stage, policy: facts.policy, now })
  }
  if (hasReached(stage, 'finished')) return []
  return [{ rule: 'tray/none-yet', level: 'ask', about: aboutOf(sight) }]
}

/** The sight that allergies are judged by; null where the world does not hold the patient. */
export const allergySightOf = ({ facts }: Sight): AllergySight | null =>
  facts.patient && {
    record: facts.allergies,
    patient: facts.patient,
    tray: facts.tray,
    stage: stageOf(facts),
    policy: facts.policy,
    today: facts.appointment.day,
  }

function judgeAllergiesOf(sight: Sight): Finding[] {
  const seen = allergySightOf(sight)
  return seen ? judgeAllergies(seen) : []
}

/** A latex allergy and the room: offered elsewhere, or wiped down, until the patient is seated. */
function judgeLatexRoomOf(sight: Sight): Finding[] {
  const { facts, day } = sight
  const seen = allergySightOf(sight)
  const { operatory, occupancy } = facts
  if (!seen || operatory === null || hasReached(stageOf(facts), 'seated')) return []
  return judgeLatexRoom({
    latex: latexNow(seen),
    latexSafe: operatory.latexSafe,
    latexUsed: occupancy?.life.kind === 'turning-over' && occupancy.life.latexUsed,
    isFirst: day.ofOperatory.get(operatory.id)?.[0]?.id === facts.appointment.id,
    about: aboutOf(sight),
  })
}

/** Where jaws sit: as placed where the mouth differed from the plan that stands, else as planned. */
export function clampedTeeth({ plan, asPlaced }: AppointmentFacts): Tooth[] {
  if (!needsDam(plan)) return []
  const placed = asPlaced
    .filter(({ planNumber }) => planNumber === plan?.number)
    .reduce<AsPlaced | null>((latest, each) => (latest && latest.at > each.at ? latest : each), null)
  const clamps = placed?.clamps ?? plan?.agreed.sheets.flatMap((sheet) => sheet.clamps) ?? []
  return [...new Set(clamps.map((clamp) => clamp.tooth))]
}

/** Teeth to be tested: whose pulp the work may touch, and every worked one where there is an injection. */
export const testedTeeth = (facts: AppointmentFacts): Tooth[] => {
  const isMeantNumb = facts.anaesthetic?.intent.kind === 'injection' || facts.doses.some(isInjected)
  return [
    ...new Set(
      facts.work.flatMap(({ kind, teeth }) =>
        isMeantNumb || (kind !== 'undetermined' && CATALOGUE[kind].pulpal) ? teeth : [],
      ),
    ),
  ]
}

/** When the patient last sat down; null: not yet. */
export const seatedAtOf = ({ visit }: AppointmentFacts): Instant | null =>
  visit?.steps.findLast(({ stage }) => stage === 'seated')?.at ?? null

/** Whether the warning was handed over after the last injection. */
const hasAftercare = ({ visit, doses }: AppointmentFacts): boolean =>
  visit?.aftercare != null && doses.filter(isInjected).every(({ at }) => at <= (visit.aftercare?.at ?? 0))

function judgeNumbnessOf({ facts, now }: Sight): Finding[] {
  const { appointment, patient, policy } = facts
  const seatedAt = seatedAtOf(facts)
  return judgeNumbness({
    appointmentId: appointment.id,
    stage: stageOf(facts),
    anaesthetic: facts.anaesthetic,
    doses: facts.doses,
    numbness: facts.numbness,
    clamped: clampedTeeth(facts),
    pulpal: testedTeeth(facts),
    seatedAt,
    endsAt: addMinutes(seatedAt ?? appointment.start, appointment.minutes),
    // Without a policy nothing is known to last: a second look is due at once.
    recheckMinutes: policy?.anaesthesia.recheckMinutes ?? 0,
    ageYears: ageOf(facts),
    hasCarer: patient?.guardian != null,
    aftercareGiven: hasAftercare(facts),
    staysSince: findStaying(facts)?.at ?? null,
    now,
  })
}

/** The doses planned and given, against the profile in use: before the needle, and once more after each. */
const judgeDoses = ({ facts }: Sight): Finding[] =>
  hasReached(stageOf(facts), 'finished') ? [] : judgeDose(doseSightOf(facts))

/** The label of what is drawn up: read back before the first needle; one that differs holds the chair at any time. */
function judgeLabels({ facts }: Sight): Finding[] {
  if (hasReached(stageOf(facts), 'finished')) return []
  const sight = labelSightOf(facts)
  const differs = judgeLabelRead(sight)
  const isDue = stageOf(facts) === 'seated' && expectsInjection(facts) && !isAllGiven(facts)
  return differs.length > 0 || !isDue ? differs : judgeLabelAnswered(sight)
}

/** The sight that a cartridge's label is judged by. */
export const labelSightOf = (facts: AppointmentFacts): LabelSight => ({
  appointmentId: facts.appointment.id,
  anaesthetic: facts.anaesthetic,
  seatedAt: seatedAtOf(facts),
  notForBlocks: facts.policy?.anaesthesia.notForBlocks ?? [],
})

/** The sight that doses are checked by. */
export const doseSightOf = (facts: AppointmentFacts): DoseSight => ({
  appointmentId: facts.appointment.id,
  anaesthetic: facts.anaesthetic,
  given: facts.given,
  patient: facts.patient,
  day: facts.appointment.day,
  zone: facts.appointment.zone,
  allergies: facts.allergies,
  policy: facts.policy,
  worked: workedTeeth(facts),
  sedated: isSedated(facts),
})

const ageOf = ({ patient, appointment }: AppointmentFacts): number | null =>
  ageInYears(patient?.born ?? null, appointment.day)

/** Who, when and where, as far as the booking and the room go. */
const judgeBooked = ({ facts, day, now }: Sight): Finding[] => {
  const { appointment } = facts
  const nameAlerts = alertsFor(day, appointment)
  return [
    ...judgeSeat(facts, {
      now,
      others: rivalsOf(day, appointment),
      rosters: rostersOn(day, appointment.day),
      likeness: likenessOf(facts.patient, nameAlerts),
    }),
    ...nameAlerts.map(
      ({ kind, other }): Finding => ({
        rule: 'name/alert',
        level: 'note',
        about: `appointment:${appointment.id}`,
        kind,
        other: `${other.given} ${other.family}`,
      }),
    ),
  ]
}

/** The day's lateness, as it reaches a patient who still waits. */
function judgeLateness({ facts, day, now }: Sight): Finding[] {
  const { appointment, policy } = facts
  if (policy === null || hasReached(stageOf(facts), 'seated')) return []
  const expected = expectedStartOf(day, appointment, now)
  return judgeLate({ id: appointment.id, start: appointment.start, expected }, policy.schedule)
}

type Judge = (sight: Sight) => Finding[]
const JUDGES: readonly Judge[] = [
  judgeBooked,
  judgeLateness,
  judgeStopped,
  judgeHelp,
  judgeWorks,
  judgePlan,
  ({ facts, now }) => judgeWord(facts, now),
  judgeReadBack,
  judgeHistory,
  ({ facts }) => judgeLines(facts),
  judgeRecount,
  judgeTimeOut,
  judgeCounts,
  judgeTrayOf,
  judgeAllergiesOf,
  judgeLatexRoomOf,
  judgeDoses,
  judgeLabels,
  judgeNumbnessOf,
]

/** Everything that stands open on an appointment, from every area. */
export const judgeOpen = (sight: Sight): Finding[] =>
  withoutTwins(
    JUDGES.flatMap((judge) => judge(sight)).filter((finding) => !isOverridden(finding, sight.facts)),
  )
