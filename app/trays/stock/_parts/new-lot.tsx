'use client'
import { useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { parseDay } from '#shared/base/moment.ts'
import styles from '../../_parts/trays.module.css'
import { itemsOfKits, type StockSeen } from './shelf.ts'

const EMPTY = { lot: '', expires: '', count: '', reorderAt: '', latex: 'unknown' as Latex }
type Latex = 'free' | 'contains' | 'unknown'
const LABEL_SAYS: { value: Latex; label: string }[] = [
  { value: 'unknown', label: 'the label does not say' },
  { value: 'free', label: 'made without latex' },
  { value: 'contains', label: 'contains latex' },
]

interface NewLotProps {
  stock: StockSeen
  performing: Performing
}

/** What came in: item, lot, date and number as they stand on the box, and what its label says of latex. */
export function NewLot({ stock, performing }: NewLotProps) {
  const items = itemsOfKits(stock)
  const [item, setItem] = useState(items[0]?.item ?? '')
  const [entered, setEntered] = useState(EMPTY)
  const set = (some: Partial<typeof EMPTY>) => setEntered({ ...entered, ...some })
  const { lot, expires, count, reorderAt, latex } = entered
  const day = expires === '' ? null : parseDay(expires)
  const isDayWrong = expires !== '' && day === null
  const isWhole = (text: string): boolean => /^\d{1,5}$/.test(text)
  const name = items.find((each) => each.item === item)?.name ?? item
  const isReady = lot.trim() !== '' && isWhole(count) && isWhole(reorderAt) && !isDayWrong
  return (
    <div className={styles.scan}>
      <Pick
        label="Item"
        value={item}
        options={items.map((each) => ({ value: each.item, label: each.name }))}
        onPick={setItem}
      />
      <Field label="Lot" value={lot} onChange={(text) => set({ lot: text })} autoComplete="off" />
      <Field
        label="Use until"
        hint="Leave it empty where the box carries no date."
        type="date"
        value={expires}
        onChange={(text) => set({ expires: text })}
        wrong={isDayWrong ? 'Enter a date such as 2027-11-30.' : null}
      />
      <Field
        label="How many"
        value={count}
        onChange={(text) => set({ count: text })}
        inputMode="numeric"
        autoComplete="off"
      />
      <Field
        label="Order again at"
        value={reorderAt}
        onChange={(text) => set({ reorderAt: text })}
        inputMode="numeric"
        autoComplete="off"
      />
      <Pick
        label="Latex, by its label"
        value={latex}
        options={LABEL_SAYS}
        onPick={(said) => set({ latex: said })}
      />
      <ActButton
        kind="stock.receive"
        input={{
          item,
          name,
          lot,
          expires: day,
          count: Number(count),
          reorderAt: Number(reorderAt),
          contents: { latex },
        }}
        performing={performing}
        isDisabled={!isReady}
        done={`${name}, lot ${lot}: on the shelf.`}
        onDone={() => setEntered(EMPTY)}
      >
        Put it on the shelf
      </ActButton>
    </div>
  )
}
