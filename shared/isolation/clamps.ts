import { type Cited, COMMON, memory, read } from '../base/source.ts'
import type { ToothCondition } from '../teeth/mouth-chart.ts'
import { dentitionOf, formOf, type Tooth } from '../teeth/tooth.ts'
import type { ClampFamily, Sequence } from './isolation-facts.ts'

const DECK = read('clamp study deck')

export interface ClampForm {
  form: string
  winged: boolean
  metal: boolean
  /** Jaws that reach below the gum margin: the gum must be numb. */
  active: boolean
}

/** Clamps by form alone. */
export const CLAMPS: Record<ClampFamily, Cited<ClampForm>> = {
  MOLAR_W_ACTIVE: {
    value: { form: 'molar, winged, jaws inclined to the gum', winged: true, metal: true, active: true },
    source: read('Carrotte 2004; clamp study deck'),
  },
  MOLAR_W_PASSIVE: {
    value: { form: 'molar, winged, flat jaws', winged: true, metal: true, active: false },
    source: DECK,
  },
  MOLAR_WL: {
    value: { form: 'molar, wingless', winged: false, metal: true, active: false },
    source: read('clamp study deck; Scolavino & Paolone'),
  },
  MOLAR_SERR: {
    value: { form: 'molar, serrated jaws', winged: true, metal: true, active: true },
    source: DECK,
  },
  MOLAR_EXT: {
    value: { form: 'molar, bow and jaw extended to the back', winged: false, metal: true, active: false },
    source: DECK,
  },
  ANT_EXT_ENDO: {
    value: { form: 'long forward extension, sits on a neighbour', winged: true, metal: true, active: true },
    source: DECK,
  },
  PM_W: {
    value: { form: 'premolar, winged', winged: true, metal: true, active: false },
    source: read('Carrotte 2004; Romero 2020'),
  },
  PM_WL: {
    value: { form: 'premolar, wingless', winged: false, metal: true, active: false },
    source: read('Carrotte 2004; Romero 2020'),
  },
  ANT_DBL: {
    value: { form: 'front tooth, double bow', winged: true, metal: true, active: true },
    source: DECK,
  },
  CERV_RETR: {
    value: { form: 'cervical retractor, movable jaws', winged: false, metal: true, active: true },
    source: DECK,
  },
  PRIM_MOLAR: {
    value: { form: 'small molar, inclined jaws', winged: true, metal: true, active: true },
    source: memory('paediatric texts'),
  },
  NONMETAL: {
    value: { form: 'not metal, bulky', winged: true, metal: false, active: false },
    source: read('clamp study deck; open teaching notes'),
  },
  GUARD: {
    value: { form: 'wide wings that hold cheek and tongue', winged: true, metal: true, active: false },
    source: DECK,
  },
}

export interface ClampRequest {
  tooth: Tooth
  conditions: readonly ToothCondition[]
  /** A matrix and wedge go beside this tooth. */
  needsMatrix: boolean
  /** The far surface of this tooth is worked on. */
  farSide: 'none' | 'extended-jaw' | 'wingless-low'
}

/** The family of the clamp for a tooth that holds the sheet. Within its family the chair may change it. */
export function chooseClamp({ tooth, conditions, needsMatrix, farSide }: ClampRequest): ClampFamily {
  if (conditions.includes('ceramic-crown') || conditions.includes('implant')) return 'NONMETAL'
  const form = formOf(tooth)
  if (form === 'incisor' || form === 'canine') return 'ANT_DBL'
  const wingless = needsMatrix || farSide === 'wingless-low'
  if (form === 'premolar') return wingless || farSide !== 'none' ? 'PM_WL' : 'PM_W'
  if (conditions.includes('broken-down') || conditions.includes('partly-erupted')) return 'MOLAR_W_ACTIVE'
  if (dentitionOf(tooth) === 'primary') return 'PRIM_MOLAR'
  if (farSide === 'extended-jaw') return 'MOLAR_EXT'
  return wingless && !conditions.includes('abutment') ? 'MOLAR_WL' : 'MOLAR_W_PASSIVE'
}

export const SEQUENCE_SOURCE = read('Dental Update pt 2; Carrotte 2004; Scolavino & Paolone')
export const FLOSS_SOURCE = read('Hottel Q&A; Scolavino & Paolone: tied through both holes')
export const CLAMP_CHOICE_SOURCE = COMMON

/** The sequence follows the clamp: a wingless one cannot carry the sheet, no clamp needs none; else as the clinic has it. */
export function sequenceFor(families: readonly ClampFamily[], preferred: Sequence): Sequence {
  if (families.length === 0) return 'dam-first'
  return preferred === 'together' && families.some(isWingless) ? 'clamp-first' : preferred
}

/** No wings to carry the sheet. */
export const isWingless = (family: ClampFamily): boolean => !CLAMPS[family].value.winged
