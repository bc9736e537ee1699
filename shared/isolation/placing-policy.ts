import { type Cited, COMMON, memory, read } from '../base/source.ts'
import type { PlacingPick } from './isolation-facts.ts'

/** What a new clinic begins with, each to be changed by it. */
export const DEFAULT_PLACING: Cited<PlacingPick> = {
  value: {
    grade: 'medium',
    sequence: 'together',
    frame: 'over',
    flossCm: 30,
    flossPath: 'round-bow',
    lowerFrontMm: 40,
  },
  source: COMMON,
}

/** Where authorities differ on placing: every option in words, with where it stands. */
export const PLACING_OPTIONS: {
  [Key in keyof PlacingPick]-?: readonly Cited<{ pick: NonNullable<PlacingPick[Key]>; words: string }>[]
} = {
  grade: [
    { value: { pick: 'medium', words: 'medium for everyday work' }, source: read('Romero 2019') },
    {
      value: { pick: 'heavy', words: 'heavy for everyday work' },
      source: read('restatement of Sturdevant; open teaching notes'),
    },
  ],
  sequence: [
    {
      value: { pick: 'together', words: 'clamp and sheet in one carry' },
      source: read('Dental Update pt 2; Carrotte 2004; NES'),
    },
    {
      value: { pick: 'clamp-first', words: 'clamp first, the sheet over it' },
      source: read('Scolavino & Paolone; Dental Update pt 2'),
    },
    {
      value: { pick: 'dam-first', words: 'sheet first, the clamp over it: two people' },
      source: read('Carrotte 2004, rubber first; G. V. Black 1908 p 199'),
    },
  ],
  frame: [
    { value: { pick: 'over', words: 'over the sheet' }, source: read('assisting study cards') },
    { value: { pick: 'under', words: 'under the sheet' }, source: read('Carrotte 2004') },
  ],
  flossCm: [
    { value: { pick: 30, words: '30 cm of floss' }, source: read('Hottel Q&A') },
    { value: { pick: 50, words: '50 cm of floss' }, source: read('Carrotte 2004') },
  ],
  flossPath: [
    {
      value: { pick: 'round-bow', words: 'through both holes and round the bow' },
      source: read('Hottel Q&A; Scolavino & Paolone fig 4-18'),
    },
    {
      value: { pick: 'holes-only', words: 'through both holes, drawn out once the sheet is on' },
      source: read('Carrotte 2004'),
    },
  ],
  lowerFrontMm: [
    {
      value: { pick: 40, words: '40 mm: hung from the clamped tooth, raised until that is kept' },
      source: COMMON,
    },
    {
      value: { pick: 50, words: '50 mm, two inches, above it' },
      source: memory('Modern Dental Assisting; Torres & Ehrlich'),
    },
  ],
}
