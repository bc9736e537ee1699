'use client'
import { useJudgingMoment } from '#app/_live/use-moment.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import list from '#app/_ui/list.module.css'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Why } from '#app/_ui/why.tsx'
import { dayOf } from '#shared/base/moment.ts'
import { RULES } from '#shared/rules.ts'
import { StockHolder, type StockHolderProps } from '../../_parts/stock-holder.tsx'
import styles from '../../_parts/trays.module.css'
import { TraysNav } from '../../_parts/trays-nav.tsx'
import { NewLot } from './new-lot.tsx'
import { neverListed, type ShelfItem, shelfOf } from './shelf.ts'
import { ShelfRow } from './shelf-row.tsx'

export function StockScreen({ of, snapshot }: StockHolderProps) {
  return (
    <StockHolder of={of} snapshot={snapshot}>
      <StockPage of={of} />
    </StockHolder>
  )
}

function StockPage({ of }: Pick<StockHolderProps, 'of'>) {
  const performing = usePerform()
  const { world } = useWorld()
  const today = dayOf(useJudgingMoment(), of.site.zone)
  const seen = { lines: world.stockLine, kits: world.kit, today }
  const shelf = shelfOf(seen)
  const missing = neverListed(seen)
  return (
    <div className={list.page}>
      <div className={styles.top}>
        <h1>Stock</h1>
        <TraysNav of={of} here="/trays/stock" />
      </div>
      <OutcomeBox outcome={performing.outcome} />
      <ToOrder items={shelf.filter(({ finding }) => finding !== null)} />
      <section aria-labelledby="shelf">
        <h2 id="shelf">
          On the shelf <span>{shelf.length}</span>
        </h2>
        <p className={list.small}>
          Counts fall when trays are opened. A lot past its date is no stock and is named on every tray it
          lies on.
        </p>
        <ul className={list.rows}>
          {shelf.map((item) => (
            <ShelfRow key={item.item} shelf={item} today={today} performing={performing} />
          ))}
        </ul>
      </section>
      <section aria-labelledby="new-lot">
        <h2 id="new-lot">A new lot</h2>
        <NewLot stock={seen} performing={performing} />
        {missing.length === 0 ? null : (
          <p className={list.small}>
            Trays want these too, and no lot of them is listed, so nobody is told when they run out:{' '}
            {missing.join(', ')}.
          </p>
        )}
      </section>
      <CautionLine />
    </div>
  )
}

function ToOrder({ items }: { items: ShelfItem[] }) {
  return (
    <section aria-labelledby="to-order">
      <h2 id="to-order">
        To be ordered <span>{items.length}</span>
      </h2>
      {items.length === 0 ? <p className={styles.none}>Nothing is down to its reorder level.</p> : null}
      <ul className={list.rows}>
        {items.map(({ item, name, left, reorderAt }) => (
          <li key={item} className={`${list.row} ${styles.order}`} data-tone="ask">
            <strong>{name}</strong>
            <span>
              {left} left<span className={list.small}> · order at {reorderAt}</span>
            </span>
            <Why rule="stock/reorder" source={RULES['stock/reorder'].source} />
          </li>
        ))}
      </ul>
    </section>
  )
}
