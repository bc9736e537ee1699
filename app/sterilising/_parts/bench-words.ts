import type { Load, Pack, Steriliser } from '#shared/sterility/sterility-facts.ts'
import type { PackPart } from './bench.ts'

export const LOAD_WORDS: Record<Load['life']['kind'], string> = {
  running: 'Running',
  ended: 'Ended, not released',
  released: 'Released',
  failed: 'Failed',
}

export const TYPE_WORDS: Record<Steriliser['type'], string> = {
  gravity: 'gravity displacement',
  'dynamic-air-removal': 'dynamic air removal',
}

export const PART_WORDS: Record<PackPart, { title: string; none: string }> = {
  usable: { title: 'On the shelf, sterile', none: 'No sterile pack is on the shelf.' },
  waiting: { title: 'On the shelf, not to be used', none: 'Every pack on the shelf may be used.' },
  held: { title: 'Held', none: 'None is held.' },
  'on-tray': { title: 'On trays', none: 'None is on a tray.' },
  'in-transit': { title: 'On their way between sites', none: 'None is on its way.' },
  opened: { title: 'Opened, on their way back', none: 'None is open.' },
}

export const PROGRAMME_WORDS = {
  'wrapped-instruments': 'Wrapped instruments',
  'textile-packs': 'Textile packs',
  'wrapped-utensils': 'Wrapped utensils',
  'test cycle': 'Test cycle',
  'test cycle, empty chamber': 'Test cycle, empty chamber',
} as const
export type Programme = keyof typeof PROGRAMME_WORDS
export const programmeWords = (programme: string): string =>
  Object.hasOwn(PROGRAMME_WORDS, programme) ? PROGRAMME_WORDS[programme as Programme] : programme

/** `134.0 °C, 15 min 20 s`. */
export function readingWords({ deciCelsius, seconds }: NonNullable<Load['reading']>): string {
  const rest = seconds % 60
  const time = `${(seconds - rest) / 60} min${rest === 0 ? '' : ` ${rest} s`}`
  return `${(deciCelsius / 10).toFixed(1)} °C, ${time}`
}

/** Tenths of a degree, from `134` or `134.2`; null where it is no temperature a steriliser shows. */
export function parseCelsius(text: string): number | null {
  const found = /^(\d{2,3})(?:[.,](\d))?$/.exec(text.trim())
  return found ? Number(found[1]) * 10 + Number(found[2] ?? 0) : null
}

/** Seconds, from minutes `15` or minutes and seconds `15:20`; null where it is no time. */
export function parseSpan(text: string): number | null {
  const found = /^(\d{1,3})(?::([0-5]\d))?$/.exec(text.trim())
  return found ? Number(found[1]) * 60 + Number(found[2] ?? 0) : null
}

export const placeOf = ({ life }: Pack): string =>
  life.kind === 'shelf' ? life.place : life.kind === 'held' ? life.why : ''

export const countWords = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`
