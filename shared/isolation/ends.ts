import type { AllergyRecord } from '../allergies/allergy-record.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { AgreedSheet } from './isolation-facts.ts'

export type EndHold = 'clamp' | 'cord' | 'ligature' | 'wedge'

/** An end of a field and what holds the sheet there. */
export interface FieldEnd {
  tooth: Tooth
  hold: EndHold
}

/** The stabilising cord is elastic: floss takes its place where there is an allergy to latex (MEMORY: floss or a latex-free cord). */
export const isCordBarred = (latex: AllergyRecord['latex']): boolean =>
  latex === 'confirmed' || latex === 'suspected'

/**
 * What holds each end of a field: its clamp, else the cord behind the last contact; floss where no tooth is clamped
 * or the cord is barred, a wedge where the whole field is one slit (JADA slit: READ). Plan and tray both ask here.
 */
export function endsOf(
  { field, clamps, slit }: { [Key in 'field' | 'clamps' | 'slit']: Readonly<AgreedSheet[Key]> },
  latex: AllergyRecord['latex'],
): FieldEnd[] {
  const anchors = clamps.filter(({ role }) => role !== 'retractor')
  const loose = looseHold({ isClamped: anchors.length > 0, isSlit: slit.length === field.length, latex })
  const ends = [...new Set([field[0], field.at(-1)])].filter((tooth) => tooth !== undefined)
  return ends.map((tooth) => ({
    tooth,
    hold: anchors.some((clamp) => clamp.tooth === tooth) ? 'clamp' : loose,
  }))
}

function looseHold({
  isClamped,
  isSlit,
  latex,
}: {
  isClamped: boolean
  isSlit: boolean
  latex: AllergyRecord['latex']
}): EndHold {
  if (!isClamped) return 'ligature'
  if (isSlit) return 'wedge'
  return isCordBarred(latex) ? 'ligature' : 'cord'
}
