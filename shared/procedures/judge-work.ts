import { eruptionOf } from '../teeth/eruption.ts'
import type { TeethFinding } from '../teeth/findings.ts'
import { findLookAlikes } from '../teeth/look-alike.ts'
import { type Mouth, mouthOf } from '../teeth/mouth.ts'
import type { MouthChart, ToothCondition } from '../teeth/mouth-chart.ts'
import { findInEachQuadrant, parseIso, parseUniversal } from '../teeth/notation.ts'
import {
  dentitionOf,
  findTooth,
  formOf,
  positionOf,
  predecessorOf,
  quadrantOf,
  type Tooth,
} from '../teeth/tooth.ts'
import { CATALOGUE } from './catalogue.ts'
import type { ProcedureFinding } from './findings.ts'
import type { ProcedureKind, ToothMention, ToothSource, Work } from './work.ts'

export interface WorkAround {
  chart: MouthChart | null
  ageYears: number | null
  /** Tooth and side were read back on the patient; an edited image then no longer asks. */
  sideConfirmed: boolean
}

/** What stands open on one line of work: which work, which tooth, and whether that tooth can be there. */
export function judgeWork(work: Work, around: WorkAround): (TeethFinding | ProcedureFinding)[] {
  return [...judgeKind(work), ...judgeMentions(work, around), ...judgeTeeth(work, around)]
}

const aboutOf = (work: Work): string => `work:${work.id}`
const openMentions = (work: Work): ToothMention[] =>
  work.mentions.filter((mention) => mention.source !== 'patient' && isOpen(mention, work))
/** More than one tooth, or one of the booking's own that the work has not taken. */
const isOpen = ({ candidates, source }: ToothMention, { teeth }: Work): boolean => {
  const [only] = candidates
  return candidates.length > 1 || (source === 'booking' && only !== undefined && !teeth.includes(only))
}

function judgeKind(work: Work): ProcedureFinding[] {
  if (work.kind === 'undetermined') {
    return [{ rule: 'work/undetermined', level: 'ask', about: aboutOf(work), text: work.text }]
  }
  if (work.teeth.length > 0 || !needsTooth(work.kind) || openMentions(work).length > 0) return []
  if (work.mentions.some(({ source }) => source === 'patient')) return []
  return [{ rule: 'work/no-tooth', level: 'ask', about: aboutOf(work), kind: work.kind, text: work.text }]
}

const ON_TEETH: ReadonlySet<string> = new Set([
  'extraction',
  'implant',
  'apical-surgery',
  'steel-crown-no-preparation',
])
/** Work of which nothing may be planned or done without its tooth. */
export const needsTooth = (kind: ProcedureKind): boolean => {
  const { value } = CATALOGUE[kind].need
  return ON_TEETH.has(kind) || (value !== 'not-needed' && value !== 'undetermined')
}

function judgeMentions(work: Work, around: WorkAround): TeethFinding[] {
  const asked = openMentions(work).map((mention): TeethFinding => {
    const rule = contradicts(mention) ? 'tooth/words-contradict' : 'tooth/ambiguous'
    const { text, notation, candidates } = mention
    return { rule, level: 'ask', about: aboutOf(work), text, notation, candidates }
  })
  return [
    ...asked,
    ...judgeUnread(work),
    ...judgeSources(work),
    ...judgeReferral(work),
    ...judgeImages(work, around),
  ]
}

/** Beside a tooth that was read, what names none may be a second one: never passed over. */
function judgeUnread(work: Work): TeethFinding[] {
  const words = work.mentions.filter(({ unread }) => unread).map(({ text }) => text)
  const isTold = work.teeth.length > 0 || openMentions(work).length > 0
  if (words.length === 0 || !isTold || work.kind === 'undetermined' || !needsTooth(work.kind)) return []
  return [{ rule: 'tooth/unread', level: 'ask', about: aboutOf(work), text: work.text, words }]
}

/**
 * Whether some candidate is none of what the number means by itself in any notation, or lies in another quadrant than
 * the clinic's own. `UR 6` is no contradiction by Universal: number 6 and the sixth are both in the upper right.
 */
function contradicts({ text, candidates, notation }: ToothMention): boolean {
  if (candidates.length < 2) return false
  const value = text.replace(/^\D*(?=\d)/, '').replace(/\s.*$/, '')
  const byNumber = [parseIso(value), parseUniversal(value), ...findInEachQuadrant(value)]
  const own = notation === 'iso' ? parseIso(value) : notation === 'universal' ? parseUniversal(value) : null
  const isElsewhere = own !== null && candidates.some((tooth) => quadrantOf(tooth) !== quadrantOf(own))
  return isElsewhere || candidates.some((tooth) => !byNumber.includes(tooth))
}

/**
 * All that each source names against the work and, where the work names no tooth, against the first that does. An
 * image shows what it shows; every other source means the whole of the work.
 */
function judgeSources(work: Work): TeethFinding[] {
  const said = work.mentions
    .filter(
      ({ source, mirrored, candidates }) => source !== 'booking' && !mirrored && candidates.length === 1,
    )
    .map(({ source, text, candidates }) => ({ source, text, teeth: candidates }))
  const bySource = new Map<ToothSource, Set<Tooth>>()
  for (const { source, teeth } of said)
    bySource.set(source, new Set([...(bySource.get(source) ?? []), ...teeth]))
  const [first] = bySource.values()
  const base = work.teeth.length > 0 ? work.teeth : [...(first ?? [])]
  const differs = [...bySource].some(
    ([source, teeth]) =>
      [...teeth].some((tooth) => !base.includes(tooth)) ||
      (source !== 'image' && base.some((tooth) => !teeth.has(tooth))),
  )
  if (!differs) return []
  const booked = { source: 'booking' as const, text: work.text, teeth: work.teeth }
  return [
    {
      rule: 'tooth/sources-disagree',
      level: 'ask',
      about: aboutOf(work),
      said: work.teeth.length > 0 ? [booked, ...said] : said,
    },
  ]
}

/** A patient's own words are kept and never stand in for a referral. */
function judgeReferral(work: Work): TeethFinding[] {
  const statement = work.mentions.find(({ source }) => source === 'patient')
  const isReferred = work.mentions.some(({ source }) => source === 'referral')
  if (!statement || isReferred || work.teeth.length > 0) return []
  return [{ rule: 'tooth/referral-missing', level: 'ask', about: aboutOf(work), statement: statement.text }]
}

function judgeImages(work: Work, { sideConfirmed }: WorkAround): TeethFinding[] {
  if (sideConfirmed) return []
  return work.mentions
    .filter(({ mirrored }) => mirrored)
    .map(({ text }) => ({ rule: 'tooth/image-mirrored', level: 'ask', about: aboutOf(work), text }))
}

/** Work that puts in what is not there, or takes no notice of it. */
const NEEDS_NO_STANDING_TOOTH: ReadonlySet<string> = new Set([
  'implant',
  'denture',
  'impression',
  'exam',
  'other',
])

function judgeTeeth(work: Work, { chart, ageYears }: WorkAround): TeethFinding[] {
  if (work.teeth.length === 0) return []
  const mouth = mouthOf(chart, { ageYears, worked: work.teeth })
  const needsStanding = !NEEDS_NO_STANDING_TOOTH.has(work.kind)
  return work.teeth.flatMap((tooth) => [
    ...(needsStanding ? judgeStanding({ tooth, mouth, ageYears }) : []),
    ...judgeMolar(tooth, mouth),
    ...judgeLookAlike(work, { tooth, mouth }),
  ])
}

interface ToothSeen {
  tooth: Tooth
  mouth: Mouth
  ageYears: number | null
}
const aboutTooth = (tooth: Tooth): string => `tooth:${tooth}`
const ABSENT: readonly ToothCondition[] = ['missing', 'unerupted', 'pontic']

/** A tooth charted as standing answers for itself, whatever its age or its neighbours. */
function judgeStanding({ tooth, mouth, ageYears }: ToothSeen): TeethFinding[] {
  const conditions = mouth.conditionsOf(tooth)
  const about = aboutTooth(tooth)
  const condition = conditions.find((each) => ABSENT.includes(each))
  if (condition) return [{ rule: 'tooth/not-standing', level: 'ask', about, tooth, condition }]
  if (conditions.length > 0) return []
  const predecessor = predecessorOf(tooth)
  if (predecessor !== null && isChartedStanding(predecessor, mouth)) {
    return [{ rule: 'tooth/predecessor-present', level: 'ask', about, tooth, predecessor }]
  }
  const expected = ageYears === null ? null : findAgeDoubt(tooth, ageYears)
  if (ageYears === null || expected === null) return []
  return [{ rule: 'tooth/implausible-at-age', level: 'ask', about, tooth, ageYears, expected }]
}

const isChartedStanding = (tooth: Tooth, mouth: Mouth): boolean =>
  mouth.conditionsOf(tooth).length > 0 && mouth.isStanding(tooth)

/** Months by which a tooth may differ from the print before anyone is asked: common practice. */
const EARLY = 18
const LATE = 24

/** The printed ages, where this age lies well outside them; else null. Age in whole years. */
function findAgeDoubt(tooth: Tooth, ageYears: number): string | null {
  const { earliest, latest, shed } = eruptionOf(tooth)
  const atMost = ageYears * 12 + 11
  if (atMost < earliest - EARLY) return `erupts at ${saySpan(earliest, latest)}`
  if (shed && ageYears * 12 > shed.latest + LATE) return `is shed at ${saySpan(shed.earliest, shed.latest)}`
  return null
}

const saySpan = (earliest: number, latest: number): string =>
  latest >= 60 ? `${earliest / 12} to ${latest / 12} years` : `${earliest} to ${latest} months`

/** Which molar is which: two charted as standing and the third not spoken of leaves the pair open. */
function judgeMolar(tooth: Tooth, mouth: Mouth): TeethFinding[] {
  if (formOf(tooth) !== 'molar' || dentitionOf(tooth) === 'primary' || !mouth.charted) return []
  const molars = [6, 7, 8].flatMap((position) => findTooth(quadrantOf(tooth), position) ?? [])
  const present = molars.filter((molar) => isChartedStanding(molar, mouth))
  const unspoken = molars.filter((molar) => mouth.conditionsOf(molar).length === 0)
  const [unknown] = unspoken
  const about = aboutTooth(tooth)
  if (present.length === 2 && unknown) {
    return [{ rule: 'tooth/which-molar', level: 'ask', about, tooth, present, unknown }]
  }
  const missing = molars.filter((molar) => isInFront(molar, tooth) && mouth.conditionsOf(molar).some(isGone))
  if (missing.length === 0) return []
  const standing = molars.filter((molar) => mouth.isStanding(molar))
  return [{ rule: 'tooth/first-standing-molar', level: 'note', about, tooth, missing, standing }]
}

const isInFront = (molar: Tooth, tooth: Tooth): boolean => positionOf(molar) < positionOf(tooth)
const isGone = (condition: ToothCondition): boolean => condition === 'missing' || condition === 'unerupted'

function judgeLookAlike(work: Work, { tooth, mouth }: Omit<ToothSeen, 'ageYears'>): TeethFinding[] {
  const alike = findLookAlikes(tooth, mouth).filter((other) => !work.teeth.includes(other))
  return alike.length > 0
    ? [{ rule: 'tooth/look-alike', level: 'note', about: aboutTooth(tooth), tooth, alike }]
    : []
}
