import {
  archOf,
  dentitionOf,
  formOf,
  isTooth,
  positionOf,
  quadrantOf,
  rowOf,
  sideOf,
  TEETH,
  type Tooth,
} from './tooth.ts'

const LETTERS = 'ABCDEFGHIJKLMNOPQRST'

/** 1 to 16 along the upper row from the patient's right, 17 to 32 back along the lower; A to T likewise. */
export function makeUniversal(tooth: Tooth): string {
  const row = rowOf(tooth)
  const along = archOf(tooth) === 'upper' ? row.indexOf(tooth) : 2 * row.length - 1 - row.indexOf(tooth)
  return dentitionOf(tooth) === 'permanent' ? String(along + 1) : LETTERS.charAt(along)
}

/** In the order in which ISO 3950 counts them, from 1. */
export const QUADRANTS = ['UR', 'UL', 'LL', 'LR'] as const
export type Quadrant = (typeof QUADRANTS)[number]
const quadrantName = (tooth: Tooth): Quadrant => QUADRANTS[(quadrantOf(tooth) - 1) % 4] ?? 'UR'
/** 1 to 8, or A to E for primary teeth, counted from the midline. */
const palmerPosition = (tooth: Tooth): string =>
  dentitionOf(tooth) === 'permanent' ? String(positionOf(tooth)) : LETTERS.charAt(positionOf(tooth) - 1)

/** Quadrant and position from the midline: `UR6`, `URE`. */
export const makePalmer = (tooth: Tooth): string => quadrantName(tooth) + palmerPosition(tooth)

const byText = (make: (tooth: Tooth) => string): Map<string, Tooth> =>
  new Map(TEETH.map((tooth) => [make(tooth), tooth]))
const UNIVERSAL = byText(makeUniversal)
const PALMER = byText(makePalmer)

/** `36`, or null where ISO 3950 has no such tooth. */
export const parseIso = (text: string): Tooth | null => (isTooth(text) ? text : null)
/** `19`, `K`, or null. */
export const parseUniversal = (text: string): Tooth | null =>
  UNIVERSAL.get(text.toUpperCase().replace(/^0+/, '')) ?? null

/** U+23CC, U+23BF, U+23BE, U+23CB, and the box-drawing corners typed in their place. */
const GLYPHS: Record<string, Quadrant> = {
  '⏌': 'UR',
  '┘': 'UR',
  '⎿': 'UL',
  '└': 'UL',
  '⎾': 'LL',
  '┌': 'LL',
  '⏋': 'LR',
  '┐': 'LR',
}
const GLYPH_BEFORE = /^([⏌┘⎿└⎾┌⏋┐])([1-8A-E])$/
const GLYPH_AFTER = /^([1-8A-E])([⏌┘⎿└⎾┌⏋┐])$/

/** `UR6`, `URE`, or a corner and its position, or null. */
export function parsePalmer(text: string): Tooth | null {
  const bare = text.toUpperCase().replaceAll(/[\s-]/g, '')
  const [, glyph = '', position = ''] = GLYPH_BEFORE.exec(bare) ?? swap(GLYPH_AFTER.exec(bare))
  const quadrant = GLYPHS[glyph]
  return PALMER.get(quadrant ? quadrant + position : bare) ?? null
}
const swap = (found: RegExpExecArray | null): string[] => [
  found?.[0] ?? '',
  found?.[2] ?? '',
  found?.[1] ?? '',
]

/** `UL123`, `ULDE`, `UL/3`, `3UL`: a quadrant with one or more positions; null where it is none. */
export function parseCorner(text: string): Tooth[] | null {
  const bare = text.toUpperCase().replaceAll(/[\s./:-]/g, '')
  const [, quadrant = '', positions = ''] =
    /^(U[RL]|L[RL])([1-8A-E]+)$/.exec(bare) ?? swap(/^([1-8A-E])(U[RL]|L[RL])$/.exec(bare))
  const teeth = [...positions].flatMap((position) => PALMER.get(quadrant + position) ?? [])
  const one = parsePalmer(bare)
  return teeth.length > 0 ? teeth : one && [one]
}

/** The tooth of a quadrant's name and its position, or null. */
export const findInQuadrant = (quadrant: Quadrant, position: string): Tooth | null =>
  PALMER.get(quadrant + position.toUpperCase()) ?? null
/** The teeth a position can mean where no quadrant is named. */
export const findInEachQuadrant = (position: string): Tooth[] =>
  QUADRANTS.flatMap((quadrant) => findInQuadrant(quadrant, position) ?? [])
export const isQuadrant = (text: string): text is Quadrant => (QUADRANTS as readonly string[]).includes(text)
const ORDINAL = ['first', 'second', 'third'] as const

/** `lower right first molar`, `lower right second primary molar`. */
export function nameTooth(tooth: Tooth): string {
  const primary = dentitionOf(tooth) === 'primary' ? ['primary'] : []
  return [archOf(tooth), sideOf(tooth), ...ordinalOf(tooth), ...primary, ...kindOf(tooth)].join(' ')
}

/** `lower right first molar and lower right second molar`; empty for none. */
export function nameTeeth(teeth: readonly Tooth[]): string {
  const names = teeth.map(nameTooth)
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`
}

/** Premolars and molars are counted from the front of their own kind. */
function ordinalOf(tooth: Tooth): string[] {
  const form = formOf(tooth)
  if (form === 'incisor' || form === 'canine') return []
  const before = form === 'molar' && dentitionOf(tooth) === 'permanent' ? 6 : 4
  return [ORDINAL[positionOf(tooth) - before] ?? '']
}

function kindOf(tooth: Tooth): string[] {
  const form = formOf(tooth)
  return form === 'incisor' ? [positionOf(tooth) === 1 ? 'central' : 'lateral', form] : [form]
}
