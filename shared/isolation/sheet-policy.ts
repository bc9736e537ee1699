import { type Cited, COMMON, memory, read } from '../base/source.ts'
import type { SheetGrade } from './isolation-facts.ts'

/** Where authorities differ on the sheet: one figure in use, its source, and what else is printed. */
export const SHEET_POLICY = {
  /** Added to half the sum of two crown widths, in mm. Black 1908 p 71: cut a little farther apart than the teeth (READ). */
  spread: { value: 0.5, source: COMMON },
  /** Below this much rubber between two holes the sheet leaks and tears, in mm, edge to edge. */
  leastEdge: { value: 2, source: read('Davis 1917 p 190; McGehee p 107: 2–4 mm') },
  /** So much above the natural distance of two teeth a fold is noted, in mm, centre to centre. */
  foldAbove: { value: 2.5, source: COMMON },
  upperCentralFromTop: { value: 25, source: read('restatement of Sturdevant; open teaching notes') },
  /** Millimetres below half height at which the clamped lower tooth of each place is punched; minus is above. */
  lowerAnchorBelowMiddle: {
    value: [-12, -12, -12, -12, -6, 0, 8, 12],
    source: COMMON,
  },
  /** The whole is raised until lower incisors keep this much to the bottom edge, in mm, by sheet height. */
  lowerIncisorFromBottom: { value: { tall: 40, short: 30 }, source: COMMON },
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
