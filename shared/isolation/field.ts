import type { PolicySet } from '../people/policy-set.ts'
import type { ProcedureKind } from '../procedures/work.ts'
import type { Mouth } from '../teeth/mouth.ts'
import { byArchOrder } from '../teeth/span.ts'
import {
  type Arch,
  archOf,
  dentitionOf,
  formOf,
  isAnterior,
  isThirdMolar,
  positionOf,
  type Side,
  type Surface,
  sideOf,
  type Tooth,
} from '../teeth/tooth.ts'
import { placesApart } from './arch.ts'
import type { FieldPolicyId } from './isolation-facts.ts'
import {
  type AnchorMode,
  FIELD_POLICIES,
  type Limit,
  type PolicyRow,
  type RowCondition,
  SILENT_POLICY,
  type ToothClass,
} from './policy.ts'

/** One tooth to be worked on, and by which policy it is to be exposed. */
export interface WorkingTooth {
  tooth: Tooth
  kind: ProcedureKind
  /** Empty: nobody has named them. */
  surfaces: readonly Surface[]
  policy: FieldPolicyId
}

/** The teeth that show through one sheet, from the patient's right to the left. */
export interface Field {
  arch: Arch
  teeth: readonly Tooth[]
  working: readonly WorkingTooth[]
  anchor: AnchorMode
  /** The end that carries the anchor. */
  side: Side
  slit: boolean
  /** Teeth of which their policy says nothing: exposed by another, to be confirmed. */
  silent: readonly { tooth: Tooth; policy: FieldPolicyId; used: FieldPolicyId }[]
}

export interface FieldContext {
  mouth: Mouth
  thirdMolars: PolicySet['isolation']['includeThirdMolar']
  /** The wider end where a source gives a range. */
  wide: boolean
}

const ENDODONTIC: readonly ProcedureKind[] = [
  'root-canal',
  'retreatment',
  'regenerative',
  'pulp-cap',
  'pulp-extirpation',
  'root-canal-dressing',
  'pulpotomy',
  'pulpectomy',
  'internal-bleaching',
]
/** Work inside the tooth: no matrix, no cavity on a contact. */
export const isEndodontic = (kind: ProcedureKind): boolean => ENDODONTIC.includes(kind)
export const isSealant = (kind: ProcedureKind): boolean =>
  kind === 'resin-sealant' || kind === 'glass-ionomer-sealant'
const isPreparation = (kind: ProcedureKind): boolean =>
  kind === 'crown-preparation' || kind === 'crown-removal' || kind === 'impression'
export const isCervical = ({ kind, surfaces }: WorkingTooth): boolean =>
  kind === 'cervical-composite' || surfaces.includes('V')

export function toothClassOf(tooth: Tooth): ToothClass {
  const form = formOf(tooth)
  if (dentitionOf(tooth) === 'primary') {
    if (form === 'incisor' || form === 'canine') return `primary-${form}`
    return 'primary-molar'
  }
  if (form === 'canine' || form === 'premolar') return form
  if (form === 'incisor') return positionOf(tooth) === 1 ? 'central' : 'lateral'
  return positionOf(tooth) === 6 ? 'first-molar' : positionOf(tooth) === 7 ? 'second-molar' : 'third-molar'
}

const CONDITIONS: Record<RowCondition, (work: WorkingTooth) => boolean> = {
  any: () => true,
  small: ({ kind, surfaces }) =>
    isEndodontic(kind) ||
    isSealant(kind) ||
    (surfaces.length > 0 && !surfaces.some((surface) => 'MDVI'.includes(surface))),
  'mesial-only': (work) => work.surfaces.includes('M') && !work.surfaces.includes('D') && !isCervical(work),
  preparation: ({ kind }) => isPreparation(kind),
  'maybe-distal': ({ surfaces }) => surfaces.length === 0 || surfaces.includes('D'),
}

/** The row of a policy that speaks of this work; undefined where the policy is silent. */
export function findRow(work: WorkingTooth): PolicyRow | undefined {
  const toothClass = toothClassOf(work.tooth)
  return FIELD_POLICIES[work.policy].rows.find(
    (row) => row.teeth.includes(toothClass) && CONDITIONS[row.when](work),
  )
}

/** The field of one working tooth by its policy, teeth that are not there passed over. */
export function fieldOf(work: WorkingTooth, context: FieldContext): Field {
  const spoken = findRow(work)
  const used = spoken ? work : { ...work, policy: SILENT_POLICY[isAnterior(work.tooth) ? 'front' : 'back'] }
  const row = spoken ?? findRow(used)
  const policy = FIELD_POLICIES[used.policy]
  const ends = (context.wide ? row?.wide : undefined) ?? row
  const distal = ends ? takeDistal(work, ends.distal, context) : []
  const mesial = ends ? takeMesial(work.tooth, ends.mesial, context) : []
  return {
    arch: archOf(work.tooth),
    teeth: [...distal, work.tooth, ...mesial].sort(byArchOrder),
    working: [work],
    anchor: row?.anchor ?? 'none',
    side: sideOf(work.tooth),
    slit: policy.slit === true,
    silent: spoken ? [] : [{ tooth: work.tooth, policy: work.policy, used: used.policy }],
  }
}

function takeDistal(work: WorkingTooth, limit: Limit, context: FieldContext): readonly Tooth[] {
  const behind = context.mouth.distalTo(work.tooth)
  const usable = behind.filter((tooth) => !isThirdMolar(tooth) || mayTakeThird(work, context))
  const taken = take(usable, limit, (tooth) => positionOf(tooth))
  const third = behind.find(isThirdMolar)
  const wantsThird =
    third !== undefined && !taken.includes(third) && needsThirdForDistal(work, context) && isGraspable(limit)
  return wantsThird ? [...taken, third] : taken
}

/** A limit of no teeth at all (a single tooth, or the tooth itself to be clamped) is not stretched. */
const isGraspable = (limit: Limit): boolean => limit.kind !== 'teeth' || limit.count > 0

const needsThirdForDistal = ({ tooth, surfaces }: WorkingTooth, { thirdMolars }: FieldContext): boolean =>
  thirdMolars !== 'never' && positionOf(tooth) === 7 && surfaces.includes('D')

function mayTakeThird(work: WorkingTooth, context: FieldContext): boolean {
  if (FIELD_POLICIES[work.policy].takesThirdMolars || context.thirdMolars === 'always') return true
  if (context.thirdMolars === 'never') return false
  if (needsThirdForDistal(work, context)) return true
  const others = context.mouth.distalTo(work.tooth).filter((tooth) => !isThirdMolar(tooth))
  return positionOf(work.tooth) < 7 && others.length === 0
}

function takeMesial(tooth: Tooth, limit: Limit, { mouth, thirdMolars }: FieldContext): readonly Tooth[] {
  const ahead = mouth.mesialTo(tooth).filter((other) => !isThirdMolar(other) || thirdMolars === 'always')
  return take(ahead, limit, (other) =>
    sideOf(other) === sideOf(tooth) ? -positionOf(other) : positionOf(other),
  )
}

/** The teeth of a walk up to its limit. `placeOf` grows along the walk; mesially the own side counts below zero. */
function take(walk: readonly Tooth[], limit: Limit, placeOf: (tooth: Tooth) => number): readonly Tooth[] {
  if (limit.kind === 'last') return walk
  if (limit.kind === 'teeth') return walk.slice(0, limit.count)
  const first = walk[0]
  const isMesial = first !== undefined && placeOf(first) < 0
  const goal = isMesial && limit.side === 'same' ? -limit.place : limit.place
  const within = walk.filter((tooth) => placeOf(tooth) <= goal)
  const reached = walk.some((tooth) => placeOf(tooth) === goal)
  const next = walk[within.length]
  return limit.next && !reached && next ? [...within, next] : within
}

/**
 * Fields of one visit as sheets: fields of one arch that touch are one, while the working teeth stand on one
 * side or in front; back teeth on both sides are two sheets, unless the policy takes the whole arch. Each side
 * is joined first, so that front teeth go with the back teeth of their own side.
 */
export function joinFields(fields: readonly Field[], mouth: Mouth): Field[] {
  if (fields.length < 2) return [...fields]
  const sides = SIDES.flatMap((side) =>
    joinTouching(
      fields.filter((field) => field.side === side),
      mouth,
    ),
  )
  return joinTouching(sides, mouth).sort(
    (a, b) =>
      Number(a.arch === 'lower') - Number(b.arch === 'lower') || placeOf(a, mouth) - placeOf(b, mouth),
  )
}

const SIDES: readonly Side[] = ['right', 'left']
const placeOf = ({ teeth, arch }: Field, mouth: Mouth): number =>
  mouth.standingRow(arch).findIndex((tooth) => teeth.includes(tooth))

/** Joins until nothing more touches. */
function joinTouching(fields: readonly Field[], mouth: Mouth): Field[] {
  for (const [at, a] of fields.entries()) {
    const b = fields.slice(at + 1).find((field) => canJoin(a, field, mouth))
    if (!b) continue
    const rest = fields.filter((field) => field !== a && field !== b)
    return joinTouching([...rest, join(a, b, mouth)], mouth)
  }
  return [...fields]
}

const backSides = (...fields: Field[]): Set<Side> =>
  new Set(
    fields.flatMap(({ working }) =>
      working.filter(({ tooth }) => !isAnterior(tooth)).map(({ tooth }) => sideOf(tooth)),
    ),
  )
const isWholeArch = ({ working }: Field): boolean =>
  working.some(({ policy }) => FIELD_POLICIES[policy].wholeArch === true)
/** Veneers and bleaching run round the front: premolars of both sides belong to one field. */
const isAroundFront = ({ working }: Field): boolean =>
  working.every(({ policy }) => policy === 'VENEER_P2_P2' || policy === 'BLEACH_ARCH')

function canJoin(a: Field, b: Field, mouth: Mouth): boolean {
  if (a.arch !== b.arch) return false
  if (isWholeArch(a) || isWholeArch(b)) return true
  if (!(isAroundFront(a) && isAroundFront(b)) && backSides(a, b).size > 1) return false
  return touches(a, b, mouth)
}

/** Whether two fields share a tooth or lie side by side; over a gap they do not touch. */
function touches(a: Field, b: Field, mouth: Mouth): boolean {
  if (a.teeth.some((tooth) => b.teeth.includes(tooth))) return true
  const row = mouth.standingRow(a.arch)
  return a.teeth.some((tooth) => {
    const next = row[row.indexOf(tooth) + 1]
    const before = row[row.indexOf(tooth) - 1]
    return [next, before].some(
      (other) => other !== undefined && b.teeth.includes(other) && placesApart(tooth, other) <= 1,
    )
  })
}

const STRENGTH: readonly AnchorMode[] = ['none', 'working', 'most-distal', 'ends']

function join(a: Field, b: Field, mouth: Mouth): Field {
  const row = mouth.standingRow(a.arch)
  const places = [...a.teeth, ...b.teeth].map((tooth) => row.indexOf(tooth))
  const [from, to] = [Math.min(...places), Math.max(...places)]
  const within = row.slice(from, to + 1)
  const { anchor, side } = anchorOfBoth(a, b)
  return {
    arch: a.arch,
    teeth: from < 0 ? [...new Set([...a.teeth, ...b.teeth])].sort(byArchOrder) : within,
    working: [...a.working, ...b.working],
    anchor,
    side,
    slit: a.slit && b.slit,
    silent: [...a.silent, ...b.silent],
  }
}

/** The stronger hold counts, then the back tooth's; two front fields held from opposite sides are held at both ends. */
function anchorOfBoth(a: Field, b: Field): Pick<Field, 'anchor' | 'side'> {
  const strength = STRENGTH.indexOf(b.anchor) - STRENGTH.indexOf(a.anchor)
  const rank = strength || backSides(b).size - backSides(a).size
  const stronger = rank > 0 ? b : a
  const anchor = stronger.anchor === 'working' ? 'most-distal' : stronger.anchor
  const isTorn = rank === 0 && a.side !== b.side && anchor === 'most-distal'
  return { anchor: isTorn ? 'ends' : anchor, side: stronger.side }
}
