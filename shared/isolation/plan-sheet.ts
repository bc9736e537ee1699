import type { ToothCondition } from '../teeth/mouth-chart.ts'
import { byArchOrder } from '../teeth/span.ts'
import { archOf, dentitionOf, isThirdMolar, type Tooth } from '../teeth/tooth.ts'
import { type Anchored, chooseAnchors } from './anchor.ts'
import { isWingless, sequenceFor } from './clamps.ts'
import { endsOf } from './ends.ts'
import { type Field, isCervical } from './field.ts'
import type { IsolationFinding } from './findings.ts'
import { chooseHole, diameterOf } from './holes.ts'
import { type AgreedClamp, LOWER_FRONTS_MM, type PlacingPick, type SheetGrade } from './isolation-facts.ts'
import type { NoteSigns } from './notes.ts'
import { DEFAULT_PLACING } from './placing-policy.ts'
import type { Assumption, PlannedSheet, PlanRequest } from './plan-types.ts'
import { answerTo } from './questions.ts'
import { judgeSepta, layHoles } from './sheet.ts'
import { SHEET_POLICY, SHEET_SIZES } from './sheet-policy.ts'

export interface SheetContext {
  request: PlanRequest
  signs: NoteSigns
}

export interface SheetPlan {
  sheet: PlannedSheet
  findings: IsolationFinding[]
  assumed: Assumption[]
}

/** One sheet: anchors, openings, holes, places. */
export function planSheet(planned: Field, context: SheetContext): SheetPlan {
  const { request, signs } = context
  const noted = notedConditions(planned, signs)
  const { field, clamps, findings } = chooseAnchors(planned, {
    mouth: request.mouth,
    chosen: request.choice.anchors,
    answers: request.choice.answers,
    noted,
  })
  const opening = openingOf({ field, clamps, findings }, context)
  const laid = lay({ field, clamps, findings }, { ...context, opening, noted })
  return {
    sheet: laid.sheet,
    findings: [...judgeField(field), ...findings, ...opening.findings, ...laid.findings],
    assumed: assumeArch(field),
  }
}

const judgeField = (field: Field): IsolationFinding[] =>
  field.silent.map(({ tooth, policy, used }) => ({
    rule: 'field/policy-silent',
    level: 'ask',
    about: `tooth:${tooth}`,
    tooth,
    policy,
    used,
  }))

const NOTHING: readonly ToothCondition[] = []
const nothingNoted = (): readonly ToothCondition[] => NOTHING

/** What a note says of the teeth of this sheet, as if it were charted. */
function notedConditions(field: Field, signs: NoteSigns): (tooth: Tooth) => readonly ToothCondition[] {
  if (!signs.partlyErupted && !signs.brokenDown) return nothingNoted
  const worked = field.working.map(({ tooth }) => tooth)
  const noted: ToothCondition[] = []
  if (signs.partlyErupted) noted.push('partly-erupted')
  if (signs.brokenDown) noted.push('broken-down')
  return (tooth) => (worked.includes(tooth) ? noted : NOTHING)
}

interface Opening {
  slit: readonly Tooth[]
  /** Teeth that pass through a neighbour's hole. */
  shared: readonly { through: Tooth; tooth: Tooth }[]
  findings: IsolationFinding[]
}

/** Slits and shared holes: by policy, for a wire, a bridge, or a contact that floss does not pass. */
function openingOf({ field, clamps }: Anchored, { request, signs }: SheetContext): Opening {
  const { answers } = request.choice
  const findings: IsolationFinding[] = []
  const wired = field.teeth.filter(
    (tooth) => signs.wire || request.mouth.conditionsOf(tooth).includes('bracketed'),
  )
  const wireAnswer = answerTo(answers, { rule: 'field/wire', about: 'field' })
  if (wired.length > 0 && wireAnswer === null) {
    findings.push({ rule: 'field/wire', level: 'ask', about: 'field', teeth: wired })
  }
  if (field.slit || (wired.length > 0 && wireAnswer === 'slit')) {
    return { slit: field.teeth.length > 1 ? field.teeth : [], shared: [], findings }
  }
  const bridge = bridgeIn(field, request)
  if (bridge.length > 0) {
    findings.push({ rule: 'field/pontic', level: 'note', about: 'field', teeth: bridge })
  }
  const contact = contactIn(field, signs)
  const about = `teeth:${contact.join('-')}`
  const answer = answerTo(answers, { rule: 'field/contact-closed', about })
  if (contact.length > 0 && answer === null) {
    findings.push({ rule: 'field/contact-closed', level: 'ask', about, teeth: contact })
  }
  const [a, b] = contact
  const isHeld = clamps.some((clamp) => clamp.tooth === b)
  const shared =
    answer === 'one-hole' && a && b ? [isHeld ? { through: b, tooth: a } : { through: a, tooth: b }] : []
  return { slit: answer === 'slit' ? contact : bridge, shared, findings }
}

/** The two standing teeth on either side of a pontic inside the field. */
function bridgeIn(field: Field, { mouth }: PlanRequest): Tooth[] {
  if (field.teeth.length < 2 || mouth.pontics.length === 0) return []
  const pontics = mouth.pontics.filter((tooth) => archOf(tooth) === field.arch)
  const at = field.teeth.findIndex((tooth, place) => {
    const next = field.teeth[place + 1]
    return next !== undefined && pontics.some((pontic) => isBetween(pontic, tooth, next))
  })
  return at < 0 ? [] : field.teeth.slice(at, at + 2)
}

const isBetween = (tooth: Tooth, ...[from, to]: [Tooth, Tooth]): boolean =>
  byArchOrder(tooth, from) > 0 && byArchOrder(tooth, to) < 0

const contactIn = (field: Field, { closedContacts }: NoteSigns): Tooth[] => {
  const pair = closedContacts.find((teeth) => teeth.every((tooth) => field.teeth.includes(tooth)))
  return pair ? [...pair].sort(byArchOrder) : []
}

interface LayContext extends SheetContext {
  opening: Opening
  noted: (tooth: Tooth) => readonly ToothCondition[]
}

function lay(
  { field, clamps }: Anchored,
  { request, signs, opening, noted }: LayContext,
): { sheet: PlannedSheet; findings: IsolationFinding[] } {
  const { policy, mouth } = request
  const placing = policy.placing ?? DEFAULT_PLACING.value
  const anchors = clamps.filter(({ role }) => role !== 'retractor')
  const anchor = anchors.find(({ role }) => role === 'anchor')?.tooth ?? null
  const sequence = sequenceFor(
    anchors.map(({ family }) => family),
    placing.sequence,
  )
  const punched = punchedOf(field, { anchors, opening }).map((tooth) => {
    const clamp = anchors.find((one) => one.tooth === tooth)
    const size = chooseHole({
      tooth,
      scheme: policy.holeScheme,
      anchorHole: policy.anchorHole,
      isClamped: clamp !== undefined,
      isClampFirst: clamp !== undefined && isWingless(clamp.family),
      hasRetractor:
        clamps.some((one) => one.tooth === tooth && one.role === 'retractor') ||
        opening.shared.some(({ through }) => through === tooth),
      conditions: mouth.conditionsOf(tooth),
    })
    return { tooth, size, diameterMm: diameterOf(size, policy.holeScheme, policy.plateMicrometres) }
  })
  const isChild = isChildsField(field, request)
  const size = request.sheet ?? (isChild ? SHEET_SIZES.child : SHEET_SIZES.adult)
  const malposed = malposedIn(field, { request, signs, noted })
  const layout = layHoles({
    arch: field.arch,
    row: mouth.standingRow(field.arch),
    punched,
    anchors: anchors.map(({ tooth }) => tooth),
    sheet: size,
    isChild,
    slit: opening.slit,
    shifts: shiftsOf(field, signs),
    spacing: policy.spacing?.wanted ?? null,
    lowerFrontMm: placing.lowerFrontMm ?? LOWER_FRONTS_MM[0],
    measure: request.measure,
  })
  const runsBack = isListedBackwards(field, anchors)
  return {
    sheet: {
      field: turned(field.teeth, runsBack),
      anchor,
      clamps,
      slit: turned(opening.slit, runsBack),
      arch: field.arch,
      working: [...new Set(field.working.map(({ tooth }) => tooth))],
      policy: field.working[0]?.policy ?? 'ENDO_SINGLE',
      widthMm: size.widthMm,
      heightMm: size.heightMm,
      grade: gradeFor(field, placing),
      placing,
      sequence,
      holes: turned(layout.holes, runsBack),
      septa: turned(layout.septa, runsBack),
      ends: endsOf({ field: field.teeth, clamps, slit: opening.slit }, request.latex),
      ligated: field.working.some((work) => work.policy === 'PAED_ANT') ? turned(field.teeth, runsBack) : [],
      layout: { frame: layout.frame, arcs: layout.arcs },
      markInMouth: malposed.length > 0,
    },
    findings: [
      ...judgeSepta(layout.septa, policy.spacing ?? undefined),
      ...(malposed.length > 0
        ? [{ rule: 'sheet/mark-in-mouth' as const, level: 'note' as const, about: 'sheet', teeth: malposed }]
        : []),
    ],
  }
}

const turned = <T>(list: readonly T[], runsBack: boolean): T[] => (runsBack ? list.toReversed() : [...list])

/** Teeth that get a hole of their own: inside a slit only its ends and clamped teeth do. */
function punchedOf(
  field: Field,
  { anchors, opening }: { anchors: readonly AgreedClamp[]; opening: Opening },
): Tooth[] {
  const { slit, shared } = opening
  if (slit.length === 0 && shared.length === 0) return [...field.teeth]
  return field.teeth.filter(
    (tooth) =>
      (!isInside(tooth, slit) || anchors.some((clamp) => clamp.tooth === tooth)) &&
      !shared.some((pair) => pair.tooth === tooth),
  )
}

const isInside = (tooth: Tooth, slit: readonly Tooth[]): boolean =>
  slit.includes(tooth) && tooth !== slit[0] && tooth !== slit.at(-1)

const isChildsField = (field: Field, { mouth }: PlanRequest): boolean =>
  field.working.some(({ tooth }) => dentitionOf(tooth) === 'primary') ||
  (mouth.ageYears !== null && mouth.ageYears < SHEET_POLICY.childUnder.value)

function shiftsOf(field: Field, signs: NoteSigns): Map<Tooth, number> {
  const shifts = new Map<Tooth, number>()
  for (const work of field.working) {
    if (isCervical(work)) shifts.set(work.tooth, SHEET_POLICY.cervicalShift.value)
  }
  for (const { tooth, towards } of signs.malposed) {
    if (tooth === null || towards === 'unsaid') continue
    const amount = SHEET_POLICY.malposedShift.value
    shifts.set(tooth, (shifts.get(tooth) ?? 0) + (towards === 'lingual' ? -amount : amount))
  }
  return shifts
}

/** Teeth out of line: the drawn arch is an outline only. */
function malposedIn(field: Field, { request, signs, noted }: Omit<LayContext, 'opening'>): Tooth[] {
  if (signs.crowded || signs.malposed.some(({ tooth }) => tooth === null)) return [...field.teeth]
  return field.teeth.filter(
    (tooth) =>
      request.mouth.conditionsOf(tooth).includes('malposed') ||
      noted(tooth).includes('malposed') ||
      signs.malposed.some((sign) => sign.tooth === tooth),
  )
}

/** Heavy for a retractor (restatement of Sturdevant), else the clinic's own. */
const gradeFor = (field: Field, { grade }: PlacingPick): SheetGrade =>
  field.working.some(isCervical) ? 'heavy' : grade

/** From the anchor's end; without one, or with both ends clamped, as the quadrants are numbered. */
function isListedBackwards(field: Field, anchors: readonly AgreedClamp[]): boolean {
  const [first, second] = anchors
  if (!first || second) return field.arch === 'lower'
  return field.teeth.indexOf(first.tooth) > (field.teeth.length - 1) / 2
}

/** Third molars and primary teeth lie on a continuation of the published arch. */
function assumeArch(field: Field): Assumption[] {
  const teeth = field.teeth.filter((tooth) => isThirdMolar(tooth) || dentitionOf(tooth) === 'primary')
  return teeth.length === 0 ? [] : [{ kind: 'arch-continued', teeth }]
}
