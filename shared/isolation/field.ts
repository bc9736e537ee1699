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
 * side or in front; back teeth on both sides are two sheets, unless the policy takes the whole arch.
 */
export function joinFields(fields: readonly Field[], mouth: Mouth): Field[] {
  const sheets: Field[] = []
  for (const field of inOrder(fields)) {
    const at = sheets.findIndex((sheet) => canJoin(sheet, field, mouth))
    const sheet = sheets[at]
    if (sheet) sheets[at] = join(sheet, field, mouth)
    else sheets.push(field)
  }
  return sheets.length < fields.length ? joinFields(sheets, mouth) : sheets
}

/** Upper before lower; back teeth before front ones, so that a front field joins a side and never bridges two. */
const inOrder = (fields: readonly Field[]): Field[] =>
  [...fields].sort(
    (a, b) =>
      Number(a.arch === 'lower') - Number(b.arch === 'lower') ||
      Number(isFront(a)) - Number(isFront(b)) ||
      Number(a.side === 'left') - Number(b.side === 'left'),
  )

const isFront = (field: Field): boolean => field.working.every(({ tooth }) => isAnterior(tooth))
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

/** Whether two fields share a tooth or lie side by side among the standing teeth. */
function touches(a: Field, b: Field, mouth: Mouth): boolean {
  const row = mouth.standingRow(a.arch)
  const rangeOf = ({ teeth }: Field): number[] => teeth.map((tooth) => row.indexOf(tooth))
  const [left, right] = [rangeOf(a), rangeOf(b)]
  return Math.min(...left) <= Math.max(...right) + 1 && Math.min(...right) <= Math.max(...left) + 1
}

const STRENGTH: readonly AnchorMode[] = ['none', 'working', 'most-distal', 'ends']

function join(a: Field, b: Field, mouth: Mouth): Field {
  const row = mouth.standingRow(a.arch)
  const places = [...a.teeth, ...b.teeth].map((tooth) => row.indexOf(tooth))
  const [from, to] = [Math.min(...places), Math.max(...places)]
  const within = row.slice(from, to + 1)
  const stronger = STRENGTH.indexOf(b.anchor) > STRENGTH.indexOf(a.anchor) ? b : a
  return {
    arch: a.arch,
    teeth: from < 0 ? [...new Set([...a.teeth, ...b.teeth])].sort(byArchOrder) : within,
    working: [...a.working, ...b.working],
    anchor: stronger.anchor === 'working' ? 'most-distal' : stronger.anchor,
    side: stronger.side,
    slit: a.slit && b.slit,
    silent: [...a.silent, ...b.silent],
  }
}
