import { archOf, dentitionOf, positionOf, rowOf, sideOf, type Tooth } from './tooth.ts'

/**
 * Where a tooth lies along its arch: negative on the patient's right, 0 between the centrals. A primary tooth
 * and its successor share a place; the primary one, should both stand, counts as the more distal.
 */
export const archPlace = (tooth: Tooth): number =>
  (sideOf(tooth) === 'right' ? -1 : 1) * (positionOf(tooth) + (dentitionOf(tooth) === 'primary' ? 0.25 : 0))

/** As seen facing the patient: from the patient's right to the left. Upper before lower. */
export const byArchOrder = (a: Tooth, b: Tooth): number =>
  archOf(a) === archOf(b) ? archPlace(a) - archPlace(b) : archOf(a) === 'upper' ? -1 : 1

/** The teeth of a row from one place to another, both ends included, in the order walked. */
export function spanBetween(row: readonly Tooth[], from: Tooth, to: Tooth): Tooth[] {
  const [start, end] = [archPlace(from), archPlace(to)]
  const between = row.filter((tooth) => {
    const place = archPlace(tooth)
    return archOf(tooth) === archOf(from) && place >= Math.min(start, end) && place <= Math.max(start, end)
  })
  return start <= end ? between.sort(byArchOrder) : between.sort((a, b) => byArchOrder(b, a))
}

/** Whether teeth of both sides are among these. */
export const crossesMidline = (teeth: readonly Tooth[]): boolean => new Set(teeth.map(sideOf)).size > 1

/** Both ends and what lies between; null where they are not of one row. */
export function rangeOf(from: Tooth | null, to: Tooth | null): Tooth[] | null {
  if (from === null || to === null || !rowOf(from).includes(to)) return null
  return spanBetween(rowOf(from), from, to)
}
