import { type Cited, COMMON, memory, read } from '../base/source.ts'
import {
  type Arch,
  archOf,
  type Dentition,
  dentitionOf,
  positionOf,
  sideOf,
  type Tooth,
} from '../teeth/tooth.ts'

/** A point of the arch in millimetres: x to the patient's left, y from the incisal point of the midline backwards. */
export interface ArchPoint {
  x: number
  y: number
}

/** Teeth sit on places 1 to 8 of a side; a primary tooth shares the place of the tooth that replaces it. */
export type Row = readonly number[]

/**
 * Greatest mesiodistal width of the crown in mm, places 1 to 8.
 * Permanent: Wheeler's Dental Anatomy, Table 1-1; primary: Black 1902 after Wheeler, Table 3-1.
 */
export const CROWN_WIDTHS: Record<Dentition, Record<Arch, Cited<Row>>> = {
  permanent: {
    upper: {
      value: [8.5, 6.5, 7.5, 7, 7, 10, 9, 8.5],
      source: memory("Wheeler's Dental Anatomy, Table 1-1 (places 1, 2, 5, 6 READ)"),
    },
    lower: {
      value: [5, 5.5, 7, 7, 7, 11, 10.5, 10],
      source: memory("Wheeler's Dental Anatomy, Table 1-1 (place 1 READ)"),
    },
  },
  primary: {
    upper: {
      value: [6.5, 5.1, 7, 7.3, 8.2],
      source: memory("Black 1902 after Wheeler's Dental Anatomy, Table 3-1"),
    },
    lower: {
      value: [4.2, 4.1, 5, 7.7, 9.9],
      source: memory("Black 1902 after Wheeler's Dental Anatomy, Table 3-1"),
    },
  },
}

/** The curve y = a·x⁶ + b·x². */
export interface Sextic {
  a: number
  b: number
}

/**
 * Fitted so that the arc to the canine's and to the first molar's centre equals the summed widths while the
 * chords equal the published means of 76 Class I casts (35.41 and 53.82 mm above, 26.85 and 51.71 mm below).
 */
export const SEXTIC_ARCH: Record<Arch, Cited<Sextic>> = {
  upper: {
    value: { a: 4.5239e-8, b: 0.0113 },
    source: read('form: Noroozi et al., Angle Orthod 2001;71:386–389 (abstract); constants computed'),
  },
  lower: {
    value: { a: 3.3967e-8, b: 0.01782 },
    source: read('form: Noroozi et al., Angle Orthod 2001;71:386–389 (abstract); constants computed'),
  },
}

/**
 * A primary arch takes the same curve, smaller by the ratio of the summed widths of places 1 to 5; no published
 * curve was found. Beyond the second molar, and for primary arches, the curve is a continuation.
 */
export const PRIMARY_SCALE: Cited<Record<Arch, number>> = {
  value: { upper: 34.1 / 36.5, lower: 30.9 / 31.5 },
  source: COMMON,
}

const STEP = 0.1
const STEPS = 1_200

/** Half a curve as points at equal steps of arc length, from the midline backwards. */
function halfCurve({ a, b }: Sextic): ArchPoint[] {
  const points: ArchPoint[] = [{ x: 0, y: 0 }]
  const parts = 8
  const advance = (at: number, by: number): number => {
    const slope = at * (6 * a * at * at * at * at + 2 * b)
    return by / Math.sqrt(1 + slope * slope)
  }
  let x = 0
  for (let step = 1; step <= STEPS; step++) {
    for (let part = 0; part < parts; part++) {
      const middle = x + advance(x, STEP / parts / 2)
      x += advance(middle, STEP / parts)
    }
    points.push({ x, y: a * x ** 6 + b * x * x })
  }
  return points
}

const CURVES: Record<Arch, ArchPoint[]> = {
  upper: halfCurve(SEXTIC_ARCH.upper.value),
  lower: halfCurve(SEXTIC_ARCH.lower.value),
}

export interface Curve {
  arch: Arch
  /** 1 for the permanent arch; also a patient's own measure. */
  scale: number
}

/**
 * The point at an arc length in mm, negative to the patient's right. Exact to about 0.001 mm within 120 mm, which is
 * farther than the teeth of both sets on one side reach.
 */
export function pointAt({ arch, scale }: Curve, arc: number): ArchPoint {
  const half = CURVES[arch]
  const at = Math.min(Math.abs(arc) / scale / STEP, STEPS - 1)
  const from = half[Math.floor(at)] ?? half[0]
  const to = half[Math.floor(at) + 1] ?? from
  if (!from || !to) return { x: 0, y: 0 }
  const part = at - Math.floor(at)
  const x = (from.x + (to.x - from.x) * part) * scale
  const y = (from.y + (to.y - from.y) * part) * scale
  return { x: arc < 0 ? -x : x, y }
}

/** The unit vector towards lip and cheek at an arc length. */
export function facialAt(curve: Curve, arc: number): ArchPoint {
  const before = pointAt(curve, arc - STEP)
  const after = pointAt(curve, arc + STEP)
  const [dx, dy] = [after.x - before.x, after.y - before.y]
  const length = Math.sqrt(dx * dx + dy * dy)
  return { x: dy / length, y: -dx / length }
}

export const crownWidth = (tooth: Tooth): number =>
  CROWN_WIDTHS[dentitionOf(tooth)][archOf(tooth)].value[positionOf(tooth) - 1] ?? 0

/**
 * Along the arch at natural distance, in mm, from the outer contact of one standing tooth to that of another, places
 * between them kept open; of one crown where `to` is null. Null where one of them does not stand in the row.
 */
export function spanWidth(
  row: readonly Tooth[],
  { tooth, to }: { tooth: Tooth; to: Tooth | null },
): number | null {
  const places = placeTeeth(row, archOf(tooth))
  const [a, b] = [places.get(tooth), places.get(to ?? tooth)]
  if (!a || !b || !row.includes(tooth) || !row.includes(to ?? tooth)) return null
  return Math.abs(b.arc - a.arc) + (crownWidth(tooth) + crownWidth(to ?? tooth)) / 2
}

/** The width of an empty place: that of the primary tooth where its side still has primary teeth, else the permanent one. */
export const gapWidth = (arch: Arch, place: number, hasPrimary: boolean): number =>
  (hasPrimary ? CROWN_WIDTHS.primary[arch].value[place - 1] : undefined) ??
  CROWN_WIDTHS.permanent[arch].value[place - 1] ??
  0

/** A tooth's centre along the arch in mm from the midline, negative to the patient's right, and how many teeth and gaps stand before it. */
export interface ToothPlace {
  arc: number
  rank: number
}

/** Centres along the arch of a row in arch order, at natural distance: half the sum of crown widths, empty places kept open. */
export function placeTeeth(row: readonly Tooth[], arch: Arch): Map<Tooth, ToothPlace> {
  const places = new Map<Tooth, ToothPlace>()
  for (const side of ['right', 'left'] as const) placeSide(row, { arch, side, places })
  return places
}

interface SidePlacing {
  arch: Arch
  side: 'right' | 'left'
  places: Map<Tooth, ToothPlace>
}

function placeSide(row: readonly Tooth[], { arch, side, places }: SidePlacing): void {
  const sign = side === 'right' ? -1 : 1
  const own = row.filter((tooth) => sideOf(tooth) === side)
  const outwards = side === 'right' ? own.reverse() : own
  const hasPrimary = own.some((tooth) => dentitionOf(tooth) === 'primary')
  let edge = 0
  let rank = 0
  let place = 1
  for (const tooth of outwards) {
    for (; place < positionOf(tooth); place++) {
      edge += gapWidth(arch, place, hasPrimary)
      rank++
    }
    const width = crownWidth(tooth)
    places.set(tooth, { arc: sign * (edge + width / 2), rank })
    edge += width
    rank++
    place = positionOf(tooth) + 1
  }
}

/** The curve for a row: the primary one where no permanent incisor, canine or premolar stands. */
export function curveOf(row: readonly Tooth[], arch: Arch): Curve {
  const isPrimary =
    row.some((tooth) => dentitionOf(tooth) === 'primary') &&
    !row.some((tooth) => dentitionOf(tooth) === 'permanent' && positionOf(tooth) <= 5)
  return { arch, scale: isPrimary ? PRIMARY_SCALE.value[arch] : 1 }
}

/** Bolton's ratios in percent: lower over upper, canine to canine and first molar to first molar. */
export function boltonRatios(): { anterior: number; overall: number } {
  const sum = (arch: Arch, places: number): number =>
    CROWN_WIDTHS.permanent[arch].value.slice(0, places).reduce((total, width) => total + width, 0)
  return {
    anterior: (sum('lower', 3) / sum('upper', 3)) * 100,
    overall: (sum('lower', 6) / sum('upper', 6)) * 100,
  }
}

/** Places walked from one tooth to the next: 11 and 21 are one apart. */
export const placesApart = (a: Tooth, b: Tooth): number => {
  const [from, to] = [signedPlace(a), signedPlace(b)]
  return Math.sign(from) === Math.sign(to) ? Math.abs(to - from) : Math.abs(to - from) - 1
}
const signedPlace = (tooth: Tooth): number => (sideOf(tooth) === 'right' ? -1 : 1) * positionOf(tooth)
