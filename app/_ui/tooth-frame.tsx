import type { Notation } from '#shared/teeth/notation-names.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { otherNotation, toothIn, wordsFor } from './teeth-words.ts'
import styles from './tooth-frame.module.css'

export interface ToothFrameProps {
  teeth: readonly Tooth[]
  notation: Notation
  /** What was booked where the tooth is not known yet. */
  asked?: string | null
  size?: 'board' | 'page'
  /** Words below: `lower right first molar`. */
  words?: boolean
}

/** The working tooth in its frame: the clinic's notation large, another beside it, the words below. */
export function ToothFrame({
  teeth,
  notation,
  asked = null,
  size = 'board',
  words = false,
}: ToothFrameProps) {
  if (teeth.length === 0 && asked === null) return null
  return (
    <span className={styles.tooth} data-size={size}>
      <span className={styles.frame} data-asked={asked !== null || undefined}>
        {asked === null ? teeth.map((tooth) => toothIn(tooth, notation)).join(' ') : `${asked}?`}
      </span>
      {asked === null ? <span className={styles.other}>{otherNotation(teeth, notation)}</span> : null}
      {words && asked === null ? <span className={styles.words}>{wordsFor(teeth)}</span> : null}
    </span>
  )
}
