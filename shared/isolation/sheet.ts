import { type Arch, dentitionOf, positionOf, type Tooth } from '../teeth/tooth.ts'
import {
  type ArchPoint,
  type Curve,
  curveOf,
  facialAt,
  placesApart,
  placeTeeth,
  pointAt,
  type ToothPlace,
} from './arch.ts'
import type { IsolationFinding } from './findings.ts'
import type { Spacing, SpacingPick } from './isolation-facts.ts'
import { DEFAULT_SPACING, SHEET_POLICY } from './sheet-policy.ts'

/** One hole. x grows to the viewer's right, y downwards, in mm from the sheet's top left corner, facing the patient. */
export interface Hole {
  tooth: Tooth
  size: number
  xMm: number
  yMm: number
  diameterMm: number
}

/** Two neighbouring holes: from centre to centre, from edge to edge, and as the teeth stand. */
export interface Septum {
  teeth: [Tooth, Tooth]
  centreMm: number
  edgeMm: number
  naturalMm: number
  /** A place without a tooth lies between, a cut joins them, or they are a slit sheet: the limits do not apply. */
  declared: 'none' | 'gap' | 'cut' | 'slit'
}

export interface SheetSize {
  widthMm: number
  heightMm: number
}

export interface LayRequest {
  arch: Arch
  /** Standing teeth of the arch, from the patient's right to the left. */
  row: readonly Tooth[]
  /** Teeth that get a hole, in the same order. */
  punched: readonly { tooth: Tooth; size: number; diameterMm: number }[]
  anchors: readonly Tooth[]
  sheet: SheetSize
  isChild: boolean
  /** Teeth that share one slit opening, its ends among the punched. */
  slit: readonly Tooth[]
  /** Millimetres towards lip and cheek (minus: towards the tongue). */
  shifts: ReadonlyMap<Tooth, number>
  spacing: Spacing | null
  /** What lower incisors keep to the bottom edge of a tall sheet. */
  lowerFrontMm: number
  /** The patient's own arch against the table's: 1 where nobody has measured. */
  measure: number
}

export interface Layout {
  holes: Hole[]
  septa: Septum[]
  frame: Placement
  /** Centres of the arch's standing teeth along it, as they lie on this sheet. */
  arcs: ReadonlyMap<Tooth, number>
}

/** Where an arch lies on its sheet: the incisal point of the midline, and which way backwards is. */
export interface Placement {
  curve: Curve
  xMm: number
  yMm: number
  /** 1: molars below the incisors (upper arch); -1: above (lower arch). */
  backwards: 1 | -1
}

/** A point of the arch on the sheet. */
export const onSheet = (
  point: ArchPoint,
  { xMm, yMm, backwards }: Placement,
): { xMm: number; yMm: number } => ({
  xMm: tenth(xMm + Math.sign(point.x) * tenth(Math.abs(point.x))),
  yMm: tenth(yMm + backwards * point.y),
})

const tenth = (mm: number): number => Math.round(mm * 10) / 10

/** Lays the holes of one sheet. */
export function layHoles(request: LayRequest): Layout {
  const { row, arch, punched } = request
  const base = curveOf(row, arch)
  const curve = { arch, scale: base.scale * request.measure }
  const places = placeTeeth(row, arch)
  const arcs = slitArcs(request, spacedArcs(request, places))
  const placement = placeArch(request, { curve, arcs })
  const points = punched.map(({ tooth }) => shiftedPoint(tooth, request.shifts, { curve, arcs }))
  const centre = isChildsSingle(request)
  const holes = punched.map((hole, place): Hole => {
    const { xMm, yMm } = centre ?? onSheet(points[place] ?? MIDLINE, placement)
    return { tooth: hole.tooth, size: hole.size, xMm, yMm, diameterMm: hole.diameterMm }
  })
  return { holes, septa: septaOf(request, { points, places }), frame: placement, arcs }
}

const MIDLINE: ArchPoint = { x: 0, y: 0 }

type Places = ReadonlyMap<Tooth, ToothPlace>
/** As the tooth stands in this patient's arch. */
const naturalArc = (tooth: Tooth, places: Places, measure: number): number =>
  (places.get(tooth)?.arc ?? 0) * measure

/** A child's single hole stands in the middle of the sheet (Welbury, Paediatric Dentistry 2005, READ). */
const isChildsSingle = ({ isChild, punched, sheet }: LayRequest): { xMm: number; yMm: number } | null =>
  isChild && punched.length === 1 && sheet.widthMm <= 125
    ? { xMm: sheet.widthMm / 2, yMm: sheet.heightMm / 2 }
    : null

/** Arc lengths of all teeth: natural for a single hole, else a little farther apart, or as wanted. */
function spacedArcs(request: LayRequest, places: Places): Map<Tooth, number> {
  const { punched, spacing, measure } = request
  const arcs = new Map<Tooth, number>()
  const spread = punched.length > 1 ? SHEET_POLICY.spread.value : 0
  for (const [tooth, { arc, rank }] of places) {
    const natural = arc * measure
    arcs.set(tooth, natural + Math.sign(natural) * (rank + 0.5) * spread)
  }
  return spacing === null ? arcs : wantedArcs({ punched, spacing, measure, places }, arcs)
}

function wantedArcs(
  {
    punched,
    spacing,
    measure,
    places,
  }: { places: Places; spacing: Spacing } & Pick<LayRequest, 'punched' | 'measure'>,
  arcs: Map<Tooth, number>,
): Map<Tooth, number> {
  const first = punched[0]
  const last = punched.at(-1)
  if (!first || !last) return arcs
  const middle = (naturalArc(first.tooth, places, measure) + naturalArc(last.tooth, places, measure)) / 2
  let at = 0
  const steps = punched.map((hole, place) => {
    const before = punched[place - 1]
    if (before) at += wantedCentre(spacing, before.diameterMm, hole.diameterMm)
    return at
  })
  punched.forEach(({ tooth }, place) => {
    arcs.set(tooth, middle - at / 2 + (steps[place] ?? 0))
  })
  return arcs
}

const wantedCentre = ({ measure, mm }: Spacing, ...diameters: [number, number]): number =>
  measure === 'centre-to-centre' ? mm : mm + (diameters[0] + diameters[1]) / 2

/** A sheet of two holes joined by a cut: they stand 10–15 mm apart, about the middle of its teeth. */
function slitArcs({ slit, punched }: LayRequest, arcs: Map<Tooth, number>): Map<Tooth, number> {
  const [first, last] = punched
  if (!first || !last || !isSlitSheet({ slit, punched })) return arcs
  const [from, to] = [arcs.get(first.tooth) ?? 0, arcs.get(last.tooth) ?? 0]
  const { least, most } = SHEET_POLICY.slit.value
  const length = Math.min(most, Math.max(least, to - from))
  const middle = (from + to) / 2
  return arcs.set(first.tooth, middle - length / 2).set(last.tooth, middle + length / 2)
}

/** A cut between two teeth of a wider field leaves its holes where the teeth are. */
const isSlitSheet = ({ slit, punched }: Pick<LayRequest, 'slit' | 'punched'>): boolean =>
  punched.length === 2 && punched.every(({ tooth }) => slit.includes(tooth))

interface Pointing {
  curve: Curve
  arcs: ReadonlyMap<Tooth, number>
}

const pointOf = (tooth: Tooth, { curve, arcs }: Pointing): ArchPoint => pointAt(curve, arcs.get(tooth) ?? 0)

function shiftedPoint(tooth: Tooth, shifts: LayRequest['shifts'], pointing: Pointing): ArchPoint {
  const point = pointOf(tooth, pointing)
  const shift = shifts.get(tooth)
  if (shift === undefined) return point
  const facial = facialAt(pointing.curve, pointing.arcs.get(tooth) ?? 0)
  return { x: point.x + facial.x * shift, y: point.y + facial.y * shift }
}

/** The upper centrals 25 mm below the top edge; a lower arch hangs on its anchor; a single hole stays in its quadrant. */
function placeArch(request: LayRequest, pointing: Pointing): Placement {
  const { arch, sheet, punched } = request
  const single = punched.length === 1 ? punched[0] : undefined
  const placement: Placement = {
    curve: pointing.curve,
    xMm: sheet.widthMm / 2,
    yMm: arch === 'upper' ? SHEET_POLICY.upperCentralFromTop.value : lowerMidline(request, pointing),
    backwards: arch === 'upper' ? 1 : -1,
  }
  return single ? keepInQuadrant(placement, { tooth: single.tooth, sheet, pointing }) : placement
}

/** How far down the sheet the midline of a lower arch lies, in mm. */
function lowerMidline({ anchors, sheet, punched, lowerFrontMm }: LayRequest, pointing: Pointing): number {
  const middle = sheet.heightMm / 2
  const [single] = punched.length === 1 ? punched : []
  const hung = anchors.length > 0 || !single ? anchors : [single.tooth]
  const backs = hung.map((tooth) => belowMiddle(tooth) + pointOf(tooth, pointing).y)
  const back =
    backs.length === 0
      ? pointAt(pointing.curve, FIRST_MOLAR_ARC * pointing.curve.scale).y
      : backs.reduce((sum, one) => sum + one, 0) / backs.length
  const kept = sheet.heightMm > 125 ? lowerFrontMm : SHEET_POLICY.lowerIncisorFromBottom.value
  const lowest = sheet.heightMm - kept
  return single ? middle + back : Math.min(middle + back, lowest)
}

/** The lower first molar's centre along the permanent arch at natural distance. */
const FIRST_MOLAR_ARC = 37

/** The last primary molar hangs like a first molar, the one before it like a second premolar. */
function belowMiddle(tooth: Tooth): number {
  const place = positionOf(tooth) + (dentitionOf(tooth) === 'primary' && positionOf(tooth) > 3 ? 1 : 0)
  return SHEET_POLICY.lowerAnchorBelowMiddle.value[place - 1] ?? 0
}

interface SingleHole {
  tooth: Tooth
  sheet: SheetSize
  pointing: Pointing
}

/** Upper teeth on or above the middle line, lower teeth on or below (single-tooth method page, READ). */
function keepInQuadrant(placement: Placement, { tooth, sheet, pointing }: SingleHole): Placement {
  const { y } = pointOf(tooth, pointing)
  const at = placement.yMm + placement.backwards * y
  const middle = sheet.heightMm / 2
  const wanted = placement.backwards === 1 ? Math.min(at, middle) : Math.max(at, middle)
  return { ...placement, yMm: placement.yMm + wanted - at }
}

function septaOf(
  { punched, slit, row, measure }: LayRequest,
  { points, places }: { points: readonly ArchPoint[]; places: Places },
): Septum[] {
  return punched.slice(1).map((hole, place): Septum => {
    const before = punched[place] ?? hole
    const [a, b] = [points[place], points[place + 1]]
    const centreMm = a && b ? distance(a, b) : 0
    return {
      teeth: [before.tooth, hole.tooth],
      centreMm,
      edgeMm: edgeGap(centreMm, before.diameterMm, hole.diameterMm),
      naturalMm: naturalArc(hole.tooth, places, measure) - naturalArc(before.tooth, places, measure),
      declared: declaredBetween([before.tooth, hole.tooth], { slit, row, punched }),
    }
  })
}

function declaredBetween(
  [a, b]: [Tooth, Tooth],
  { slit, row, punched }: Pick<LayRequest, 'slit' | 'row' | 'punched'>,
): Septum['declared'] {
  if (slit.includes(a) && slit.includes(b)) return isSlitSheet({ slit, punched }) ? 'slit' : 'cut'
  const isNeighbour = row.indexOf(b) - row.indexOf(a) === 1
  return isNeighbour && placesApart(a, b) <= 1 ? 'none' : 'gap'
}

const distance = (a: ArchPoint, b: ArchPoint): number => Math.sqrt((b.x - a.x) ** 2 + (b.y - a.y) ** 2)

/** Rubber left between two holes in mm: the centre distance less half of both diameters (arithmetic). */
export const edgeGap = (centreMm: number, firstMm: number, secondMm: number): number =>
  centreMm - (firstMm + secondMm) / 2

/** A septum too narrow refuses; a fold is noted; a slit's length is noted outside 10–15 mm. */
export const judgeSepta = (
  septa: readonly Septum[],
  spacing: SpacingPick = DEFAULT_SPACING.value,
): IsolationFinding[] =>
  septa.flatMap((septum): IsolationFinding[] => {
    if (septum.declared === 'slit') return judgeSlit(septum)
    if (septum.declared === 'cut') return []
    if (across(septum, spacing.least) < spacing.least.mm) return [tooNarrow(septum, spacing.least)]
    return septum.declared === 'none' && isTooFar(septum, spacing.most) ? [fold(septum)] : []
  })

const across = ({ edgeMm, centreMm }: Septum, { measure }: Spacing): number =>
  measure === 'edge-to-edge' ? edgeMm : centreMm

const isTooFar = (septum: Septum, most: Spacing | null): boolean =>
  most === null
    ? septum.centreMm > septum.naturalMm + SHEET_POLICY.foldAbove.value
    : across(septum, most) > most.mm

const tooNarrow = (septum: Septum, least: Spacing): IsolationFinding => ({
  rule: 'sheet/septum-narrow',
  level: 'stop',
  about: `teeth:${septum.teeth.join('-')}`,
  teeth: [...septum.teeth],
  mm: tenth(across(septum, least)),
  leastMm: least.mm,
  measure: least.measure,
})

const fold = ({ teeth, centreMm, naturalMm }: Septum): IsolationFinding => ({
  rule: 'sheet/fold',
  level: 'note',
  about: `teeth:${teeth.join('-')}`,
  teeth: [...teeth],
  centreMm: tenth(centreMm),
  naturalMm: tenth(naturalMm),
})

const judgeSlit = ({ centreMm, teeth }: Septum): IsolationFinding[] =>
  isSlitLength(centreMm)
    ? []
    : [{ rule: 'sheet/slit-length', level: 'note', about: `teeth:${teeth.join('-')}`, mm: tenth(centreMm) }]

/** Whether the end holes of a slit stand 10–15 mm apart; chords of an arch are a little shorter than its arc. */
export const isSlitLength = (mm: number): boolean =>
  mm >= SHEET_POLICY.slit.value.least - 0.5 && mm <= SHEET_POLICY.slit.value.most
