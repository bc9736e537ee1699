'use client'
import { useState } from 'react'
import { Button } from '#app/_ui/button.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import {
  dentitionOf,
  LOWER_PERMANENT,
  LOWER_PRIMARY,
  type Tooth,
  UPPER_PERMANENT,
  UPPER_PRIMARY,
} from '#shared/teeth/tooth.ts'
import styles from './name-work.module.css'

export interface ToothPickProps {
  notation: Notation
  chosen: readonly Tooth[]
  onTouch: (tooth: Tooth) => void
  /** Primary teeth stand open from the start: for children. */
  primary: boolean
}

/** All teeth as they lie facing the patient, each a touch. Primary teeth are folded away for the grown. */
export function ToothPick({ primary, ...rest }: ToothPickProps) {
  const [isOpen, setOpen] = useState(primary || rest.chosen.some((tooth) => dentitionOf(tooth) === 'primary'))
  return (
    <div className={styles.teeth}>
      <Row row={UPPER_PERMANENT} words="Upper" {...rest} />
      {isOpen ? <Row row={UPPER_PRIMARY} words="Upper, primary" {...rest} /> : null}
      {isOpen ? <Row row={LOWER_PRIMARY} words="Lower, primary" {...rest} /> : null}
      <Row row={LOWER_PERMANENT} words="Lower" {...rest} />
      {isOpen ? null : (
        <Button size="small" onPress={() => setOpen(true)}>
          Primary teeth too
        </Button>
      )}
    </div>
  )
}

interface RowProps extends Omit<ToothPickProps, 'primary'> {
  row: readonly Tooth[]
  words: string
}

/** A jaw in two halves: the patient's right stands on the left, as it is seen. */
function Row({ row, words, ...rest }: RowProps) {
  const middle = row.length / 2
  return (
    <fieldset className={styles.jaw}>
      <legend>{words}, patient’s right first</legend>
      <Half teeth={row.slice(0, middle)} {...rest} />
      <Half teeth={row.slice(middle)} {...rest} />
    </fieldset>
  )
}

function Half({ teeth, notation, chosen, onTouch }: Omit<RowProps, 'row' | 'words'> & { teeth: Tooth[] }) {
  return (
    <div className={styles.half}>
      {teeth.map((tooth) => (
        <Button
          key={tooth}
          size="small"
          aria-pressed={chosen.includes(tooth)}
          aria-label={`${toothIn(tooth, notation)}, ${nameTooth(tooth)}`}
          onPress={() => onTouch(tooth)}
        >
          {toothIn(tooth, notation)}
        </Button>
      ))}
    </div>
  )
}
