import { read, type Source } from '../base/source.ts'
import type { SteriliserType } from './sterility-facts.ts'

/**
 * Minimum steam cycle times, CDC Guideline for Disinfection and Sterilization in Healthcare Facilities 2008,
 * table 7 (READ). Makers' instructions outrank it. Minutes; drying is a range.
 */
const CDC_TABLE_7: Source = read('CDC 2008 Guideline for Disinfection and Sterilization, table 7')

export const LOAD_CONTENTS = ['wrapped-instruments', 'textile-packs', 'wrapped-utensils'] as const
export type LoadContent = (typeof LOAD_CONTENTS)[number]

export interface SteamCycle {
  steriliser: SteriliserType
  content: LoadContent
  /** Exposure at 121 °C; null where the table lists none. */
  minutesAt121: number | null
  minutesAt132: number
  drying: { from: number; to: number }
  source: Source
}

const cycle = (
  steriliser: SteriliserType,
  content: LoadContent,
  [minutesAt121, minutesAt132, from, to]: [number | null, number, number, number],
): SteamCycle => ({
  steriliser,
  content,
  minutesAt121,
  minutesAt132,
  drying: { from, to },
  source: CDC_TABLE_7,
})

export const STEAM_CYCLES: readonly SteamCycle[] = [
  cycle('gravity', 'wrapped-instruments', [30, 15, 15, 30]),
  cycle('gravity', 'textile-packs', [30, 25, 15, 15]),
  cycle('gravity', 'wrapped-utensils', [30, 15, 15, 30]),
  cycle('dynamic-air-removal', 'wrapped-instruments', [null, 4, 20, 30]),
  cycle('dynamic-air-removal', 'textile-packs', [null, 4, 5, 20]),
  cycle('dynamic-air-removal', 'wrapped-utensils', [null, 4, 20, 20]),
]

const CONTENT_NAMES: Record<LoadContent, string> = {
  'wrapped-instruments': 'wrapped instruments',
  'textile-packs': 'textile packs',
  'wrapped-utensils': 'wrapped utensils',
}
/** A programme names its load; anything else is not known and is asked. */
export const contentOf = (programme: string): LoadContent | null =>
  LOAD_CONTENTS.find(
    (content) => programme.startsWith(content) || programme.startsWith(CONTENT_NAMES[content]),
  ) ?? null

const AT_121 = 1210
const AT_132 = 1320

/**
 * The least seconds that pass at a temperature in tenths of a degree. A temperature between two of the table is
 * judged by the lower; below the lowest listed nothing passes (null).
 */
export function leastSeconds(row: SteamCycle, deciCelsius: number): number | null {
  if (deciCelsius >= AT_132) return row.minutesAt132 * 60
  if (deciCelsius >= AT_121 && row.minutesAt121 !== null) return row.minutesAt121 * 60
  return null
}

export const findCycle = (steriliser: SteriliserType, content: LoadContent): SteamCycle | undefined =>
  STEAM_CYCLES.find((row) => row.steriliser === steriliser && row.content === content)
