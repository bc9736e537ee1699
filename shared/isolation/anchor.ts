import type { Mouth } from '../teeth/mouth.ts'
import type { ToothCondition } from '../teeth/mouth-chart.ts'
import { archPlace, byArchOrder } from '../teeth/span.ts'
import { isThirdMolar, type Side, sideOf, type Tooth } from '../teeth/tooth.ts'
import { chooseClamp } from './clamps.ts'
import { type Field, isCervical, isEndodontic, isSealant, type WorkingTooth } from './field.ts'
import type { IsolationFinding } from './findings.ts'
import type { AgreedClamp } from './isolation-facts.ts'
import { answerTo, type GivenAnswer } from './questions.ts'

export interface AnchorContext {
  mouth: Mouth
  /** Teeth a person named to carry the clamp. */
  chosen: readonly Tooth[]
  answers: readonly GivenAnswer[]
  /** What a note adds to the chart, by tooth. */
  noted: (tooth: Tooth) => readonly ToothCondition[]
}

/** A field with what holds it. */
export interface Anchored {
  field: Field
  clamps: AgreedClamp[]
  findings: IsolationFinding[]
}

const NO_ANCHOR: readonly ToothCondition[] = ['implant', 'mobile']

const conditionsOf = (tooth: Tooth, { mouth, noted }: AnchorContext): readonly ToothCondition[] => {
  const extra = noted(tooth)
  return extra.length === 0 ? mouth.conditionsOf(tooth) : [...mouth.conditionsOf(tooth), ...extra]
}

/** Why a tooth may not carry a clamp without the dentist's word; null where it may. */
function barOf(tooth: Tooth, context: AnchorContext): ToothCondition | null {
  const conditions = conditionsOf(tooth, context)
  if (conditions.length === 0) return null
  const bar = NO_ANCHOR.find((condition) => conditions.includes(condition))
  const about = `tooth:${tooth}`
  if (bar) return answerTo(context.answers, { rule: 'anchor/unsuitable', about }) === 'accept' ? null : bar
  const moved = answerTo(context.answers, { rule: 'anchor/ceramic-crown', about }) === 'move'
  return moved && conditions.includes('ceramic-crown') ? 'ceramic-crown' : null
}

/** Which teeth carry the sheet: the policy's choice, or the next in the order of fall-backs. */
export function chooseAnchors(field: Field, context: AnchorContext): Anchored {
  const own = context.chosen.filter((tooth) => isOnThisSheet(tooth, field, context))
  if (own.length > 0) return holdByChoice(field, own, context)
  switch (field.anchor) {
    case 'none':
      return dress({ field, anchors: [], findings: [] }, context)
    case 'ends':
      return holdEnds(field, context)
    case 'working':
    case 'most-distal':
      return holdDistal(field, context)
  }
}

interface Holding {
  field: Field
  anchors: readonly Tooth[]
  findings: IsolationFinding[]
}

/** A tooth named by a person belongs to the sheet of its side, or to the only one of its arch. */
const isOnThisSheet = (tooth: Tooth, field: Field, { mouth }: AnchorContext): boolean =>
  mouth.isStanding(tooth) &&
  mouth.standingRow(field.arch).includes(tooth) &&
  (field.teeth.includes(tooth) || sideOf(tooth) === field.side)

function holdByChoice(field: Field, chosen: readonly Tooth[], context: AnchorContext): Anchored {
  const findings = chosen.flatMap((tooth) => unsuitable(tooth, barOf(tooth, context)))
  const first = chosen[0]
  const side = first && chosen.length === 1 ? sideOf(first) : field.side
  return dress({ field: stretch({ ...field, side }, chosen, context), anchors: chosen, findings }, context)
}

const unsuitable = (tooth: Tooth, why: ToothCondition | null): IsolationFinding[] =>
  why === null ? [] : [{ rule: 'anchor/unsuitable', level: 'ask', about: `tooth:${tooth}`, tooth, why }]

/** The field with these teeth and all standing teeth between. */
function stretch(field: Field, teeth: readonly Tooth[], { mouth }: AnchorContext): Field {
  const row = mouth.standingRow(field.arch)
  const places = [...field.teeth, ...teeth].map((tooth) => row.indexOf(tooth)).filter((place) => place >= 0)
  return { ...field, teeth: row.slice(Math.min(...places), Math.max(...places) + 1) }
}

function holdEnds(field: Field, context: AnchorContext): Anchored {
  const ends = [field.teeth[0], field.teeth.at(-1)].filter((tooth) => tooth !== undefined)
  const anchors = [...new Set(ends)].filter((tooth) => barOf(tooth, context) === null)
  return dress({ field, anchors, findings: [] }, context)
}

/** Nearest the far end of the anchor's side first. */
const fromBack = (teeth: readonly Tooth[], side: Side): Tooth[] =>
  side === 'right' ? [...teeth].sort(byArchOrder) : [...teeth].sort((a, b) => byArchOrder(b, a))

function holdDistal(field: Field, context: AnchorContext): Anchored {
  const first = field.side === 'right' ? field.teeth[0] : field.teeth.at(-1)
  if (first === undefined) return dress({ field, anchors: [], findings: [] }, context)
  const about = `tooth:${first}`
  if (answerTo(context.answers, { rule: 'anchor/unsuitable', about }) === 'no-clamp') {
    return dress({ field, anchors: [], findings: [] }, context)
  }
  const isWorking = field.working.some(({ tooth }) => tooth === first)
  if (isWorking && answerTo(context.answers, { rule: 'anchor/broken-down', about }) === 'clamp-neighbour') {
    return holdBehind(field, first, context)
  }
  const why = barOf(first, context)
  if (why === null) return dress({ field, anchors: [first], findings: [] }, context)
  return fallBack({ field, from: first, why }, context)
}

interface Fall {
  field: Field
  from: Tooth
  why: ToothCondition
}

/** The order: the next tooth further back, the working tooth, the next tooth in front; else the dentist is asked. */
function fallBack({ field, from, why }: Fall, context: AnchorContext): Anchored {
  const behind = context.mouth
    .distalTo(from)
    .find((tooth) => !isThirdMolar(tooth) && barOf(tooth, context) === null)
  const moved = (to: Tooth): IsolationFinding => ({
    rule: 'anchor/moved',
    level: 'note',
    about: `tooth:${to}`,
    from,
    to,
    why,
  })
  if (behind) {
    const wider = stretch(field, [behind], context)
    return dress({ field: wider, anchors: [behind], findings: [moved(behind)] }, context)
  }
  const isWorked = field.working.some(({ tooth }) => tooth === from)
  const [next] = fromBack(
    field.working.map(({ tooth }) => tooth),
    field.side,
  ).filter((tooth) => barOf(tooth, context) === null)
  const cutsOff = next !== undefined && field.working.some(({ tooth }) => isBehind(tooth, next, field.side))
  if (next && !isWorked && !cutsOff) {
    const narrower = { ...field, teeth: field.teeth.filter((tooth) => !isBehind(tooth, next, field.side)) }
    return dress({ field: narrower, anchors: [next], findings: [moved(next)] }, context)
  }
  return dress({ field, anchors: [from], findings: unsuitable(from, why) }, context)
}

const isBehind = (tooth: Tooth, anchor: Tooth, side: Side): boolean =>
  side === 'right' ? archPlace(tooth) < archPlace(anchor) : archPlace(tooth) > archPlace(anchor)

/** The crown cannot hold a clamp: a neighbour does, the sheet slit between. */
function holdBehind(field: Field, worked: Tooth, context: AnchorContext): Anchored {
  const free = (tooth: Tooth): boolean => barOf(tooth, context) === null
  const neighbour = context.mouth.distalTo(worked).find(free) ?? context.mouth.mesialTo(worked).find(free)
  if (!neighbour) return dress({ field, anchors: [], findings: [] }, context)
  const wider = { ...stretch(field, [neighbour], context), slit: true }
  return dress({ field: wider, anchors: [neighbour], findings: [] }, context)
}

/** Puts the clamps on: families by form, second clamps at ends, retractors on cervical work; and what is to be said. */
function dress({ field, anchors, findings }: Holding, context: AnchorContext): Anchored {
  const dressed = anchors.map((tooth, place) => dressOne({ tooth, place, field }, context))
  const retractors = field.working
    .filter((work) => isCervical(work) && !anchors.includes(work.tooth))
    .map(
      ({ tooth }): AgreedClamp => ({
        tooth,
        family: anchors.length > 0 ? 'CERV_RETR' : 'ANT_DBL',
        role: 'retractor',
      }),
    )
  return {
    field,
    clamps: [...dressed.map(({ clamp }) => clamp), ...retractors],
    findings: [...findings, ...dressed.flatMap((one) => one.findings)],
  }
}

interface Dressing {
  tooth: Tooth
  place: number
  field: Field
}

function dressOne(
  { tooth, place, field }: Dressing,
  context: AnchorContext,
): { clamp: AgreedClamp; findings: IsolationFinding[] } {
  const conditions = conditionsOf(tooth, context)
  const work = field.working.find((one) => one.tooth === tooth)
  const about = `tooth:${tooth}`
  const farAnswer = answerTo(context.answers, { rule: 'anchor/distal-of-last', about })
  const isFarSide = work !== undefined && hasFarSide(work)
  const family = chooseClamp({
    tooth,
    conditions,
    needsMatrix: work !== undefined && needsMatrix(work),
    farSide: !isFarSide ? 'none' : farAnswer === 'wingless-low' ? 'wingless-low' : 'extended-jaw',
  })
  return {
    clamp: { tooth, family, role: place === 0 ? 'anchor' : 'second' },
    findings: [
      ...judgeCondition(tooth, conditions, { work, context }),
      ...judgeWorkedAnchor({ tooth, work, field, context }, { isFarSide, farAnswer }),
    ],
  }
}

const isFilled = ({ kind }: WorkingTooth): boolean => !isEndodontic(kind) && !isSealant(kind)
const hasFarSide = (work: WorkingTooth): boolean => isFilled(work) && work.surfaces.includes('D')
const needsMatrix = (work: WorkingTooth): boolean =>
  isFilled(work) && (work.surfaces.includes('M') || work.surfaces.includes('D'))

function judgeWorkedAnchor(
  {
    tooth,
    work,
    field,
    context,
  }: Omit<Dressing, 'place'> & { work: WorkingTooth | undefined; context: AnchorContext },
  { isFarSide, farAnswer }: { isFarSide: boolean; farAnswer: string | null },
): IsolationFinding[] {
  if (!work || field.anchor === 'ends') return []
  const about = `tooth:${tooth}`
  const findings: IsolationFinding[] = []
  if (isFarSide && farAnswer === null) {
    findings.push({ rule: 'anchor/distal-of-last', level: 'ask', about, tooth })
  }
  if (field.anchor === 'most-distal' && isFilled(work)) {
    const [behind = null] = context.mouth.distalTo(tooth)
    findings.push({ rule: 'anchor/working-tooth', level: 'note', about, tooth, behind })
  }
  if (needsMatrix(work)) findings.push({ rule: 'anchor/matrix', level: 'note', about, tooth })
  return findings
}

function judgeCondition(
  tooth: Tooth,
  conditions: readonly ToothCondition[],
  { work, context }: { work: WorkingTooth | undefined; context: AnchorContext },
): IsolationFinding[] {
  if (conditions.length === 0) return []
  const about = `tooth:${tooth}`
  const findings: IsolationFinding[] = []
  const isOpen = (rule: 'anchor/ceramic-crown' | 'anchor/broken-down'): boolean =>
    answerTo(context.answers, { rule, about }) === null
  if (conditions.includes('ceramic-crown') && isOpen('anchor/ceramic-crown')) {
    findings.push({ rule: 'anchor/ceramic-crown', level: 'ask', about, tooth })
  }
  if (conditions.includes('broken-down')) {
    if (work && isOpen('anchor/broken-down')) {
      findings.push({ rule: 'anchor/broken-down', level: 'ask', about, tooth })
    }
    findings.push({ rule: 'anchor/may-not-hold', level: 'note', about, tooth, why: 'broken-down' })
  }
  if (conditions.includes('partly-erupted')) {
    findings.push({ rule: 'anchor/may-not-hold', level: 'note', about, tooth, why: 'partly-erupted' })
  }
  if (conditions.includes('malposed')) {
    findings.push({ rule: 'anchor/may-not-hold', level: 'note', about, tooth, why: 'malposed' })
  }
  if (conditions.includes('abutment')) {
    findings.push({ rule: 'anchor/abutment', level: 'note', about, tooth })
  }
  return findings
}
