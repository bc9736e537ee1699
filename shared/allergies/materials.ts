import { COMMON, memory, read, type Source } from '../base/source.ts'
import type { Substance } from './substance.ts'

/**
 * How much a line that contains a substance, or may, counts: `item` as the family says; `label` amber, to be read
 * off the label; `related` told only.
 */
export type Weight = 'item' | 'label' | 'related'

interface Material {
  /** The start of a line's item or a word in its name. */
  of: RegExp
  substance: Substance
  weight: Weight
  swap: string
  source: Source
}

const ASCIA = read('ASCIA, dental environment guide')
const CE = read('P&G CE473, latex in dentistry')
const NOSEPIECE = read('patient group page 2020: nose-piece, tubing, stethoscope')

/**
 * Items that are or may be of natural rubber latex, and what takes their place. A cartridge is read off its label:
 * a review found no documented reaction from one, and latex-free preparations are listed (PubMed 23094572).
 */
export const LATEX_ITEMS: readonly Material[] = [
  { of: /gutta/i, substance: 'latex', weight: 'related', swap: '', source: CE },
  {
    of: /cartridge/i,
    substance: 'latex',
    weight: 'label',
    swap: 'a cartridge labelled latex-free',
    source: read('PubMed 23094572: latex-free anaesthetic preparations'),
  },
  {
    of: /file|stop/i,
    substance: 'latex',
    weight: 'label',
    swap: 'silicone stops, or another way to measure',
    source: CE,
  },
  { of: /sheet|dam(?! set)/i, substance: 'latex', weight: 'item', swap: 'a non-latex sheet', source: ASCIA },
  { of: /glove/i, substance: 'latex', weight: 'item', swap: 'nitrile gloves', source: ASCIA },
  {
    of: /cord|elastic/i,
    substance: 'latex',
    weight: 'item',
    swap: 'floss',
    source: memory('stabilising cord: floss or a latex-free cord'),
  },
  {
    of: /cup|polish|prophy/i,
    substance: 'latex',
    weight: 'item',
    swap: 'a brush or a latex-free cup',
    source: ASCIA,
  },
  {
    of: /bite|prop/i,
    substance: 'latex',
    weight: 'item',
    swap: 'a silicone or plastic bite block',
    source: ASCIA,
  },
  { of: /tab|film/i, substance: 'latex', weight: 'item', swap: 'a paper loop', source: ASCIA },
  {
    of: /nose|nitrous|tubing/i,
    substance: 'latex',
    weight: 'item',
    swap: 'a latex-free nose-piece',
    source: NOSEPIECE,
  },
  {
    of: /cuff|pressure/i,
    substance: 'latex',
    weight: 'item',
    swap: 'a latex-free cuff',
    source: memory('blood-pressure cuffs and tubing'),
  },
  { of: /mask/i, substance: 'latex', weight: 'item', swap: 'a tie-on mask', source: CE },
  { of: /tape|plaster/i, substance: 'latex', weight: 'item', swap: 'paper or silk tape', source: ASCIA },
]

const OTHERWISE = { weight: 'item', swap: '', source: COMMON } as const

/** How a line counts against a substance, and what is usually swapped in. */
export function weigh(substance: Substance, line: string): Pick<Material, 'weight' | 'swap' | 'source'> {
  return LATEX_ITEMS.find((row) => row.substance === substance && row.of.test(line)) ?? OTHERWISE
}
