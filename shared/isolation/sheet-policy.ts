import { type Cited, COMMON, memory, read } from '../base/source.ts'
import type { SheetGrade, Spacing, SpacingPick } from './isolation-facts.ts'

/** Where authorities differ on the sheet: one figure in use, its source, and what else is printed. */
export const SHEET_POLICY = {
  /** Added to half the sum of two crown widths, in mm. Black 1908 p 71: cut a little farther apart than the teeth (READ). */
  spread: { value: 0.5, source: COMMON },
  /** So much above the natural distance of two teeth a fold is noted, in mm, centre to centre. */
  foldAbove: { value: 2.5, source: COMMON },
  upperCentralFromTop: { value: 25, source: read('restatement of Sturdevant; open teaching notes') },
  /** Millimetres below half height at which the clamped lower tooth of each place is punched; minus is above. */
  lowerAnchorBelowMiddle: {
    value: [-12, -12, -12, -12, -6, 0, 8, 12],
    source: COMMON,
  },
  /** On a 125 mm sheet the whole is raised until lower incisors keep this much to the bottom edge, in mm. */
  lowerIncisorFromBottom: { value: 30, source: COMMON },
  cervicalShift: { value: 1, source: read('open teaching notes') },
  /** How far from the drawn arch a tooth that stands inside or outside it is punched, in mm; better marked in the mouth. */
  malposedShift: { value: 2, source: COMMON },
  slit: {
    value: { least: 10, most: 15 },
    source: read('JADA, a simplified rubber-dam technique for indirect restorations'),
  },
  childUnder: { value: 12, source: COMMON },
} satisfies Record<string, Cited<unknown>>

/** Sheets by their edges in mm, and the one for whom. */
export const SHEET_SIZES = {
  child: { widthMm: 125, heightMm: 125 },
  adult: { widthMm: 150, heightMm: 150 },
} as const
export const SHEET_SIZES_SOURCE = read('restatement of Sturdevant; Welbury, Paediatric Dentistry 2005')

const STURDEVANT_MAP = read('restatement of Sturdevant; study cards')
/** Thickness of each grade, nominal mm. */
export const GRADE_MM: Record<SheetGrade, Cited<number>> = {
  thin: { value: 0.15, source: STURDEVANT_MAP },
  medium: { value: 0.2, source: STURDEVANT_MAP },
  heavy: { value: 0.25, source: STURDEVANT_MAP },
  'extra-heavy': { value: 0.3, source: STURDEVANT_MAP },
  'special-heavy': { value: 0.35, source: memory('study cards; inches READ') },
}

/** Below 2 mm of rubber the sheet leaks and tears; a fold is noted above the natural distance. */
export const DEFAULT_SPACING: Cited<SpacingPick> = {
  value: { wanted: null, least: { measure: 'edge-to-edge', mm: 2 }, most: null },
  source: read('Davis 1917 p 190; McGehee p 107: 2–4 mm'),
}

/** Distances between holes as printed, each with how it was measured; null: as the teeth stand. */
export const PUBLISHED_SPACINGS: readonly Cited<{ words: string; spacing: Spacing | null }>[] = [
  {
    value: { words: 'as the teeth stand, half a millimetre more', spacing: null },
    source: read('G. V. Black 1908 p 71: a little more than the width of the tooth; the amount COMMON'),
  },
  {
    value: { words: '3 mm of rubber (printed as 2–4)', spacing: { measure: 'edge-to-edge', mm: 3 } },
    source: read('Davis 1917 p 190; McGehee p 107'),
  },
  {
    value: { words: '3.5 mm of rubber', spacing: { measure: 'edge-to-edge', mm: 3.5 } },
    source: read('gold-foil instruction sheet'),
  },
  {
    value: { words: '3.2 mm of rubber (printed as 3.0–3.5)', spacing: { measure: 'edge-to-edge', mm: 3.2 } },
    source: memory('Modern Dental Assisting'),
  },
  {
    value: {
      words: 'a quarter inch from centre to centre',
      spacing: { measure: 'centre-to-centre', mm: 6.3 },
    },
    source: memory('Sturdevant; at least ¼ in, measured how not stated: Costello 2003 (READ)'),
  },
]
