'use client'
import { useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Field } from '#app/_ui/field.tsx'
import list from '#app/_ui/list.module.css'
import { dateWords } from '#app/_ui/time-words.ts'
import type { Day } from '#shared/base/moment.ts'
import type { StockLine } from '#shared/trays/tray.ts'
import styles from '../../_parts/trays.module.css'
import { type ShelfItem, stateOfLot } from './shelf.ts'

interface ShelfRowProps {
  shelf: ShelfItem
  today: Day
  performing: Performing
}

/** One item: what is left of it in date, and each lot to be counted. */
export function ShelfRow({ shelf, ...rest }: ShelfRowProps) {
  const { name, left, lots, reorderAt, finding } = shelf
  return (
    <li className={`${list.row} ${styles.shelf}`} data-tone={finding === null ? undefined : 'ask'}>
      <div>
        <strong className={styles.name}>
          <span>{name}</span>
        </strong>
        <span className={list.small}>
          {left} in date · order at {reorderAt}
        </span>
      </div>
      <ul className={list.rows}>
        {lots.map((lot) => (
          <LotRow key={lot.id} lot={lot} {...rest} />
        ))}
      </ul>
    </li>
  )
}

const LATEX_WORDS: Record<string, string> = {
  free: 'made without latex',
  contains: 'contains latex',
  unknown: 'latex: the label does not say',
}

function datesOf(lot: StockLine, today: Day): string {
  const state = stateOfLot(lot, today)
  if (lot.expires === null) return 'no date'
  return state === 'past-date'
    ? `past its date: ${dateWords(lot.expires)}`
    : `until ${dateWords(lot.expires)}`
}

const countOf = (text: string): number | null => (/^\d{1,5}$/.test(text) ? Number(text) : null)

function LotRow({ lot, today, performing }: Omit<ShelfRowProps, 'shelf'> & { lot: StockLine }) {
  const [count, setCount] = useState<string | null>(null)
  const [level, setLevel] = useState<string | null>(null)
  const counted = countOf(count ?? `${lot.count}`)
  const reorderAt = countOf(level ?? `${lot.reorderAt}`)
  const isChanged = count !== null || level !== null
  return (
    <li>
      <fieldset className={styles.lot} aria-label={`${lot.name}, lot ${lot.lot}`}>
        <p>
          lot {lot.lot}{' '}
          <span className={stateOfLot(lot, today) === 'past-date' ? styles.held : list.small}>
            {datesOf(lot, today)}
          </span>
          <span className={list.small}> · {LATEX_WORDS[lot.contents.latex ?? 'unknown']}</span>
        </p>
        <Field
          label="Left"
          value={count ?? `${lot.count}`}
          onChange={setCount}
          inputMode="numeric"
          autoComplete="off"
          wrong={counted === null ? 'Enter how many, such as 12.' : null}
        />
        <Field
          label="Order at"
          value={level ?? `${lot.reorderAt}`}
          onChange={setLevel}
          inputMode="numeric"
          autoComplete="off"
          wrong={reorderAt === null ? 'Enter how many, such as 12.' : null}
        />
        <ActButton
          kind="stock.count"
          input={{ stockLineId: lot.id, count: counted ?? 0, reorderAt }}
          performing={performing}
          isDisabled={!isChanged || counted === null || reorderAt === null}
          done={`${lot.name}, lot ${lot.lot}: counted.`}
          aria-label={`Counted: ${lot.name}, lot ${lot.lot}`}
          onDone={() => {
            setCount(null)
            setLevel(null)
          }}
        >
          Counted
        </ActButton>
      </fieldset>
    </li>
  )
}
