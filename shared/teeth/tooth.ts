/**
 * The 52 teeth by ISO 3950 designation, in arch order: as seen facing the patient, from the patient's
 * right to the patient's left. (ISO 3950:2016, MEMORY; checked against HL7 v3-Dentition and ex-tooth.)
 */
export const UPPER_PERMANENT = [
  '18',
  '17',
  '16',
  '15',
  '14',
  '13',
  '12',
  '11',
  '21',
  '22',
  '23',
  '24',
  '25',
  '26',
  '27',
  '28',
] as const
export const LOWER_PERMANENT = [
  '48',
  '47',
  '46',
  '45',
  '44',
  '43',
  '42',
  '41',
  '31',
  '32',
  '33',
  '34',
  '35',
  '36',
  '37',
  '38',
] as const
export const UPPER_PRIMARY = ['55', '54', '53', '52', '51', '61', '62', '63', '64', '65'] as const
export const LOWER_PRIMARY = ['85', '84', '83', '82', '81', '71', '72', '73', '74', '75'] as const
export const TEETH = [...UPPER_PERMANENT, ...LOWER_PERMANENT, ...UPPER_PRIMARY, ...LOWER_PRIMARY] as const
export type Tooth = (typeof TEETH)[number]

export const SURFACES = ['M', 'O', 'D', 'B', 'L', 'I', 'V'] as const
/** Mesial, occlusal, distal, buccal or facial, lingual or palatal, incisal, and V for cervical (class V). */
export type Surface = (typeof SURFACES)[number]

export type Arch = 'upper' | 'lower'
export type Side = 'right' | 'left'
export type Dentition = 'permanent' | 'primary'

const KNOWN: ReadonlySet<string> = new Set(TEETH)
export const isTooth = (text: string): text is Tooth => KNOWN.has(text)

const ZERO = '0'.charCodeAt(0)
export const quadrantOf = (tooth: Tooth): number => tooth.charCodeAt(0) - ZERO
/** 1 at the midline; 8 the third molar, 5 the second primary molar. */
export const positionOf = (tooth: Tooth): number => tooth.charCodeAt(1) - ZERO
export const dentitionOf = (tooth: Tooth): Dentition => (quadrantOf(tooth) <= 4 ? 'permanent' : 'primary')
/** By quadrant, 1 to 8; there is no quadrant 0. */
const IS_UPPER = [false, true, true, false, false, true, true, false, false]
const IS_RIGHT = [false, true, false, false, true, true, false, false, true]
export const archOf = (tooth: Tooth): Arch => (IS_UPPER[quadrantOf(tooth)] ? 'upper' : 'lower')
/** The patient's own side. */
export const sideOf = (tooth: Tooth): Side => (IS_RIGHT[quadrantOf(tooth)] ? 'right' : 'left')

export type ToothForm = 'incisor' | 'canine' | 'premolar' | 'molar'
export function formOf(tooth: Tooth): ToothForm {
  const position = positionOf(tooth)
  if (position <= 2) return 'incisor'
  if (position === 3) return 'canine'
  return dentitionOf(tooth) === 'permanent' && position <= 5 ? 'premolar' : 'molar'
}
export const isAnterior = (tooth: Tooth): boolean => positionOf(tooth) <= 3

/** The whole row a tooth belongs to by number alone, in arch order. */
export function rowOf(tooth: Tooth): readonly Tooth[] {
  if (dentitionOf(tooth) === 'permanent') return archOf(tooth) === 'upper' ? UPPER_PERMANENT : LOWER_PERMANENT
  return archOf(tooth) === 'upper' ? UPPER_PRIMARY : LOWER_PRIMARY
}

/** The tooth of a quadrant and position, or null where there is none. */
export function findTooth(quadrant: number, position: number): Tooth | null {
  const text = `${quadrant}${position}`
  return isTooth(text) ? text : null
}

const MIRRORED: Record<string, string> = { 1: '2', 2: '1', 3: '4', 4: '3', 5: '6', 6: '5', 7: '8', 8: '7' }
/** The same tooth on the patient's other side. */
export function mirrorOf(tooth: Tooth): Tooth {
  const other = `${MIRRORED[tooth.charAt(0)]}${tooth.charAt(1)}`
  return isTooth(other) ? other : tooth
}

/** The permanent tooth that takes a primary tooth's place; null for a permanent tooth. */
export const successorOf = (tooth: Tooth): Tooth | null => findTooth(quadrantOf(tooth) - 4, positionOf(tooth))
/** The primary tooth whose place this one takes; null for primary teeth and permanent molars. */
export const predecessorOf = (tooth: Tooth): Tooth | null =>
  findTooth(quadrantOf(tooth) + 4, positionOf(tooth))
/** A wisdom tooth. */
export const isThirdMolar = (tooth: Tooth): boolean =>
  dentitionOf(tooth) === 'permanent' && positionOf(tooth) === 8
