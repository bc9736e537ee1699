import { COMMON, memory, read, type Source } from '../base/source.ts'

/** What the chair is reminded of, each with its source. Never a reason to stop by itself. */
export const CAUTIONS = {
  'nostrils-clear': read('G. V. Black 1908 p 70; McGehee: over lip and chin, never the nostrils'),
  'hand-signal': COMMON,
  'no-hole-in-root-canal-sheet': read('RDA item: a vent hole is no part of correct placement'),
  'count-teeth-before': COMMON,
  'leak-test': COMMON,
  'look-under-wings': COMMON,
  'taste-or-burn': COMMON,
  'seal-clamp': read('Carrotte, Br Dent J 2004;197:527–534'),
  'gutta-percha-latex': read('ASCIA latex statement'),
  'non-latex-sheet': read('CDA 2005/2012; ASCIA'),
  'amalgam-spray-suction': read('Nimmo et al, J Prosthet Dent 1990;63:228–233'),
  'gag-often-helped': read('Saltzman, paediatric rubber dam'),
  'epilepsy-quick-release': memory('operative texts'),
  'clamp-tied': read('Hottel Q&A; Scolavino & Paolone'),
  'four-points': read('Carrotte 2004; NJ and RDA items'),
  'bow-to-the-back': read('G. V. Black 1908; Hottel Q&A; DASLE'),
  'retractor-jaw': read('class V sheet: jaw 1.0 mm to the gum from the margin'),
  'prefer-cord-or-retractor': read('Oper Dent 2015;40(6):581'),
  'shade-before': read('restatement of Sturdevant'),
  'bridge-firm': read('Carrotte 2004, bridges'),
  'half-erupted-two-tries': read('Saltzman, paediatric rubber dam'),
  'mark-in-mouth': read('Carrotte 2004 fig 3; Scolavino & Paolone fig 4-4'),
  'gingival-barrier': read('bleaching quick reference 2018, s41894-018-0021-9'),
  'slit-no-bleach': COMMON,
  'wire-in-the-way': read('Saltzman, paediatric rubber dam'),
  'asthma-inhaler': read('paediatric slides'),
  'clamp-on-mandible': read('Cervenka, J Endod 2023: look at the gum after removal'),
} satisfies Record<string, Source>
export type Caution = keyof typeof CAUTIONS
