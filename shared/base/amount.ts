import type { Brand } from './brand.ts'

/** Amounts are integers in the smallest unit; no arithmetic on doubles anywhere. */
export type Nanograms = Brand<number, 'Nanograms'>
export type Micrograms = Brand<number, 'Micrograms'>
export type Grams = Brand<number, 'Grams'>
export type Microlitres = Brand<number, 'Microlitres'>
export type Micrometres = Brand<number, 'Micrometres'>

const whole = (value: number): number => {
  if (!Number.isSafeInteger(value)) throw new Error(`Bug: ${value} is not a safe integer amount`)
  return value
}
export const nanograms = (value: number): Nanograms => whole(value) as Nanograms
export const micrograms = (value: number): Micrograms => whole(value) as Micrograms
export const grams = (value: number): Grams => whole(value) as Grams
export const microlitres = (value: number): Microlitres => whole(value) as Microlitres
export const micrometres = (value: number): Micrometres => whole(value) as Micrometres

/** Integer division, rounded down; exact for safe integers. */
export const floorDivide = (dividend: number, divisor: number): number =>
  (dividend - (((dividend % divisor) + divisor) % divisor)) / divisor
/** Integer division, rounded up. */
export const ceilDivide = (dividend: number, divisor: number): number => -floorDivide(-dividend, divisor)

/** 1 lb = 453.59237 g, floored to whole grams (exact by definition of the pound). */
export const gramsOfPounds = (pounds: number): Grams =>
  grams(Math.floor((pounds * 45_359_237) / 100_000 + 1e-9))
