import { makePalmer, makeUniversal } from '../teeth/notation.ts'
import type { Notation } from '../teeth/notation-names.ts'
import { type Dentition, dentitionOf, type Tooth } from '../teeth/tooth.ts'
import { crownWidth, facialAt, pointAt } from './arch.ts'
import { type Box, boxOf, type Disc, type Label, type Point, placeLabels, type Wanted } from './labels.ts'
import type { PlannedSheet } from './plan-types.ts'

/** Facing the patient, or from behind the head: the same sheet turned by half a turn, never mirrored. */
export type SheetView = 'facing' | 'behind'

export interface DrawnHole extends Disc {
  tooth: Tooth
  dentition: Dentition
  isWorking: boolean
  isClamped: boolean
}

export interface DrawnClamp {
  tooth: Tooth
  /** Two jaws and the bow, as one SVG path; the bow lies to the back. */
  path: string
}

/** A picture of a sheet or of its field, in millimetres of its own frame. */
export interface Picture {
  widthMm: number
  heightMm: number
  /** Millimetres drawn for one of the sheet. */
  scale: number
  arch: Point[]
  /** Teeth of the arch that do not show through. */
  outside: (Point & { tooth: Tooth; dentition: Dentition })[]
  holes: DrawnHole[]
  /** The cut between holes; empty where there is none. */
  slit: Point[]
  clamps: DrawnClamp[]
  labels: Label[]
}

export interface SheetPicture {
  whole: Picture & {
    /** Marks the corner at the nose edge on the patient's right. */
    corner: Point[]
    frame: string
  }
  field: Picture
}

export interface DrawingOf {
  view: SheetView
  notation: Notation
}

/** All geometry of the drawing of one sheet. */
export function drawSheet(sheet: PlannedSheet, how: DrawingOf): SheetPicture {
  const whole = lens(sheet, how, { scale: 1, from: { x: 0, y: 0 } })
  const edges = nameEdges(sheet, how.view)
  const corner = cornerOf(sheet, how.view)
  const drawn = draw(sheet, how, {
    ...whole,
    widthMm: sheet.widthMm,
    heightMm: sheet.heightMm,
    letter: 4,
    distances: false,
    taken: [...edges, boxAround(corner)],
  })
  return {
    whole: { ...drawn, labels: [...drawn.labels, ...edges], corner, frame: framePath(sheet, how.view) },
    field: drawField(sheet, how),
  }
}

interface Lens {
  toPicture: (point: Point) => Point
  scale: number
}

/** From the sheet's millimetres to the picture's: turned for the operator behind the head, cut out and magnified. */
function lens(
  sheet: PlannedSheet,
  { view }: DrawingOf,
  { scale, from }: { scale: number; from: Point },
): Lens {
  const turned = (point: Point): Point => turn(point, sheet, view)
  return {
    scale,
    toPicture: (point) => {
      const { x, y } = turned(point)
      return { x: (x - from.x) * scale, y: (y - from.y) * scale }
    },
  }
}

const turn = ({ x, y }: Point, { widthMm, heightMm }: PlannedSheet, view: SheetView): Point =>
  view === 'facing' ? { x, y } : { x: widthMm - x, y: heightMm - y }

/** The field alone, as large as fits, with the distances between its holes. */
function drawField(sheet: PlannedSheet, how: DrawingOf): Picture {
  const margin = 13
  const points = sheet.holes.map(({ xMm, yMm }) => turn({ x: xMm, y: yMm }, sheet, how.view))
  const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)]
  const from = { x: Math.min(...xs) - margin, y: Math.min(...ys) - margin }
  const width = Math.max(...xs) + margin - from.x
  const height = Math.max(...ys) + margin - from.y
  const scale = FIELD_MM / Math.max(width, height)
  return draw(sheet, how, {
    ...lens(sheet, how, { scale, from }),
    widthMm: width * scale,
    heightMm: height * scale,
    letter: 5,
    distances: true,
    taken: [],
  })
}
/** The longer edge of the magnified field's picture. */
const FIELD_MM = 130

interface Drawing extends Lens {
  widthMm: number
  heightMm: number
  letter: number
  distances: boolean
  taken: readonly Box[]
}

function draw(sheet: PlannedSheet, how: DrawingOf, drawing: Drawing): Picture {
  const { toPicture, scale, widthMm, heightMm } = drawing
  const holes = sheet.holes.map(
    ({ tooth, xMm, yMm, diameterMm }): DrawnHole => ({
      tooth,
      dentition: dentitionOf(tooth),
      ...toPicture({ x: xMm, y: yMm }),
      r: (diameterMm / 2) * scale,
      isWorking: sheet.working.includes(tooth),
      isClamped: sheet.clamps.some((clamp) => clamp.tooth === tooth),
    }),
  )
  const jaws = sheet.clamps.flatMap((clamp) => {
    const hole = holes.find(({ tooth }) => tooth === clamp.tooth)
    return hole ? [jawsOf(sheet, { hole, how, drawing })] : []
  })
  const slit = sheet.slit.length > 0 ? holes.filter(({ tooth }) => sheet.slit.includes(tooth)) : []
  const discs = [...holes, ...jaws.flatMap(({ discs }) => discs)]
  const wanted = [
    ...holes.map((hole) => nameHole(sheet, { hole, how, drawing, jaws })),
    ...(drawing.distances ? nameDistances(sheet, { holes, how, drawing }) : []),
  ]
  return {
    widthMm,
    heightMm,
    scale,
    arch: archLine(sheet).map(toPicture),
    outside: outsideOf(sheet).map(({ tooth, at }) => ({
      tooth,
      dentition: dentitionOf(tooth),
      ...toPicture(at),
    })),
    holes,
    slit: slit.map(({ x, y }) => ({ x, y })),
    clamps: jaws.map(({ tooth, path }) => ({ tooth, path })),
    labels: placeLabels(wanted, { widthMm, heightMm, discs, taken: drawing.taken }),
  }
}

/** The arch as a line, a little beyond its last teeth. */
function archLine({ layout }: PlannedSheet): Point[] {
  const arcs = [...layout.arcs.values()]
  const [from, to] = [Math.min(0, ...arcs), Math.max(0, ...arcs)]
  const steps = 60
  return Array.from({ length: steps + 1 }, (_, step) => at(layout, from + ((to - from) * step) / steps))
}

const at = ({ frame }: PlannedSheet['layout'], arc: number): Point => {
  const { x, y } = pointAt(frame.curve, arc)
  return { x: frame.xMm + x, y: frame.yMm + frame.backwards * y }
}

function outsideOf({ layout, field, holes }: PlannedSheet): { tooth: Tooth; at: Point }[] {
  // A child's single hole stands in the middle, off the drawn arch.
  const isApart = holes.length === 1 && field.length === 1 && isOffArch(layout, holes[0])
  return isApart
    ? []
    : [...layout.arcs].flatMap(([tooth, arc]) =>
        field.includes(tooth) ? [] : [{ tooth, at: at(layout, arc) }],
      )
}

function isOffArch(layout: PlannedSheet['layout'], hole: PlannedSheet['holes'][number] | undefined): boolean {
  const arc = hole && layout.arcs.get(hole.tooth)
  if (!hole || arc === undefined) return false
  const { x, y } = at(layout, arc)
  return Math.abs(x - hole.xMm) + Math.abs(y - hole.yMm) > 5
}

interface Beside {
  hole: DrawnHole
  how: DrawingOf
  drawing: Drawing
}

/** Unit vector towards lip and cheek as it lies in the picture. */
function facialIn({ layout }: PlannedSheet, { hole, how }: Pick<Beside, 'hole' | 'how'>): Point {
  const { x, y } = facialAt(layout.frame.curve, layout.arcs.get(hole.tooth) ?? 0)
  const sign = how.view === 'facing' ? 1 : -1
  return { x: sign * x, y: sign * y * layout.frame.backwards }
}

interface Jaws extends DrawnClamp {
  discs: Disc[]
}

/** A clamp from above: a jaw on each side of the tooth, the bow behind it. */
function jawsOf(sheet: PlannedSheet, { hole, how, drawing }: Beside): Jaws {
  const out = facialIn(sheet, { hole, how })
  const back = backOf(sheet, { hole, how, drawing })
  const half = crownWidth(hole.tooth) * 0.42 * drawing.scale
  const point = (outwards: number, backwards: number): string =>
    `${round(hole.x + out.x * outwards + back.x * backwards)} ${round(hole.y + out.y * outwards + back.y * backwards)}`
  const [fore, aft, bow] = [-half * 0.5, half * 0.5, half * 2]
  const disc = (outwards: number, backwards: number): Disc => ({
    x: hole.x + out.x * outwards + back.x * backwards,
    y: hole.y + out.y * outwards + back.y * backwards,
    r: half * 0.55,
  })
  return {
    tooth: hole.tooth,
    path:
      `M${point(half, fore)}Q${point(half * 1.35, 0)} ${point(half, aft)}` +
      `C${point(half, bow)} ${point(-half, bow)} ${point(-half, aft)}Q${point(-half * 1.35, 0)} ${point(-half, fore)}`,
    discs: [
      disc(half, 0),
      disc(-half, 0),
      disc(half * 0.7, half),
      disc(-half * 0.7, half),
      disc(0, half * 1.4),
    ],
  }
}

/** Along the arch, away from the midline. */
function backOf({ layout }: PlannedSheet, { hole, how }: Beside): Point {
  const arc = layout.arcs.get(hole.tooth) ?? 0
  const { x, y } = facialAt(layout.frame.curve, arc)
  const side = arc < 0 ? -1 : 1
  const sign = (how.view === 'facing' ? 1 : -1) * side
  return { x: -y * sign, y: x * sign * layout.frame.backwards }
}

const round = (value: number): number => Math.round(value * 100) / 100

/** A tooth's name beside its hole, on the outer side; the working tooth's is larger. */
function nameHole(
  sheet: PlannedSheet,
  { hole, how, drawing, jaws }: Beside & { jaws: readonly Jaws[] },
): Wanted {
  const clamp = jaws.find(({ tooth }) => tooth === hole.tooth)
  const reach = clamp ? crownWidth(hole.tooth) * 0.42 * drawing.scale * 1.4 : hole.r
  return {
    kind: 'tooth',
    text: nameIn(hole.tooth, how.notation),
    at: { x: hole.x, y: hole.y, r: Math.max(hole.r, reach) },
    towards: facialIn(sheet, { hole, how }),
    size: drawing.letter * (hole.isWorking ? 1.3 : 1),
  }
}

export const nameIn = (tooth: Tooth, notation: Notation): string =>
  notation === 'universal' ? makeUniversal(tooth) : notation === 'palmer' ? makePalmer(tooth) : tooth

/** Centre to centre in millimetres, on the inner side between two holes. */
function nameDistances(
  sheet: PlannedSheet,
  { holes, how, drawing }: { holes: readonly DrawnHole[]; how: DrawingOf; drawing: Drawing },
): Wanted[] {
  return sheet.septa.flatMap(({ teeth, centreMm }): Wanted[] => {
    const [a, b] = teeth.map((tooth) => holes.find((hole) => hole.tooth === tooth))
    if (!a || !b) return []
    const out = facialIn(sheet, { hole: a, how })
    return [
      {
        kind: 'distance',
        text: centreMm.toFixed(1),
        at: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, r: 0.5 },
        towards: { x: -out.x, y: -out.y },
        size: drawing.letter * 0.72,
      },
    ]
  })
}

/** Nose edge above and chin below as the patient wears it, the patient's right on the viewer's left. */
function nameEdges({ widthMm, heightMm }: PlannedSheet, view: SheetView): Label[] {
  const [top, bottom] = view === 'facing' ? ['nose edge', 'chin'] : ['chin', 'nose edge']
  const [left, right] =
    view === 'facing' ? ["patient's right", "patient's left"] : ["patient's left", "patient's right"]
  const size = 3.6
  const label = (text: string, x: number, y: number): Label => ({
    ...boxOf({ text, size }, { x, y }),
    kind: 'edge',
    text,
  })
  const side = 8 + ("patient's right".length * size * 0.62) / 2
  return [
    label(top, widthMm / 2, view === 'facing' ? 5 : 11),
    label(bottom, widthMm / 2, heightMm - (view === 'facing' ? 11 : 5)),
    label(left, side, heightMm * (view === 'facing' ? 0.14 : 0.86)),
    label(right, widthMm - side, heightMm * (view === 'facing' ? 0.14 : 0.86)),
  ]
}

function cornerOf(sheet: PlannedSheet, view: SheetView): Point[] {
  const [near, far] = [8, 15]
  return [
    { x: near, y: near },
    { x: far, y: near },
    { x: near, y: far },
  ].map((point) => turn(point, sheet, view))
}

function boxAround(points: readonly Point[]): Box {
  const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)]
  const [left, right] = [Math.min(...xs), Math.max(...xs)]
  const [top, bottom] = [Math.min(...ys), Math.max(...ys)]
  return { x: (left + right) / 2, y: (top + bottom) / 2, w: right - left, h: bottom - top }
}

/** Where the frame's pins reach out to the sheet's edge, as shares of the sheet: from the frame, to the edge. */
const PINS = [
  ...[0.12, 0.32, 0.52, 0.7].flatMap((y) => [
    [0.03, y, 0.006, y],
    [0.97, y, 0.994, y],
  ]),
  ...[0.34, 0.5, 0.66].map((x) => [x, 0.97, x, 0.994]),
] as [number, number, number, number][]

/** A U whose open ends point to the eyes and whose curve lies at the chin; the sheet's edges sit on its pins. */
function framePath(sheet: PlannedSheet, view: SheetView): string {
  const { widthMm: w, heightMm: h } = sheet
  const point = (x: number, y: number): string => {
    const at = turn({ x: x * w, y: y * h }, sheet, view)
    return `${round(at.x)} ${round(at.y)}`
  }
  const pins = PINS.map(([x, y, outX, outY]) => `M${point(x, y)}L${point(outX, outY)}`).join('')
  return `${pins}M${point(0.03, 0.02)}L${point(0.03, 0.7)}C${point(0.03, 0.9)} ${point(0.15, 0.97)} ${point(0.3, 0.97)}L${point(0.7, 0.97)}C${point(0.85, 0.97)} ${point(0.97, 0.9)} ${point(0.97, 0.7)}L${point(0.97, 0.02)}`
}

/** Twice the signed area of hole, marked corner and middle of the nose edge: its sign tells a mirror image. */
export function handedness({ holes, corner, labels, widthMm }: SheetPicture['whole']): number {
  const [hole] = holes
  const [mark] = corner
  const nose = labels.find(({ text }) => text === 'nose edge')
  if (!hole || !mark || !nose) return 0
  const top = { x: widthMm / 2, y: nose.y }
  return (mark.x - hole.x) * (top.y - hole.y) - (top.x - hole.x) * (mark.y - hole.y)
}
