'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { dentitionOf, type Tooth } from '#shared/teeth/tooth.ts'
import styles from './draw-first.module.css'
import { ToothPick } from './tooth-pick.tsx'

/** What a student would do with one exposed tooth. */
interface Exposed {
  tooth: Tooth
  isClamped: boolean
  /** Size of the clinic's own punch; null: not said yet. */
  size: number | null
}

/** A student draws a plan of their own before the one that stands is shown: exposed, clamped, punched. */
export function DrawFirst({ seen, sizes }: { seen: Seen; sizes: number }) {
  const performing = usePerform()
  const [exposed, setExposed] = useState<Exposed[]>([])
  const touch = (tooth: Tooth) =>
    setExposed(
      exposed.some((each) => each.tooth === tooth)
        ? exposed.filter((each) => each.tooth !== tooth)
        : [...exposed, { tooth, isClamped: false, size: null }],
    )
  const set = (changed: Exposed) =>
    setExposed(exposed.map((each) => (each.tooth === changed.tooth ? changed : each)))
  const { facts, notation } = seen
  const isWhole = exposed.length > 0 && exposed.every(({ size }) => size !== null)
  return (
    <Card title="Your own plan first" tone="plain">
      <p>Draw what you would do. The plan that stands is shown as soon as yours is kept.</p>
      <div className={styles.draw}>
        <h3>Which teeth come through the sheet?</h3>
        <ToothPick
          notation={notation}
          chosen={exposed.map(({ tooth }) => tooth)}
          primary={facts.work.some(({ teeth }) => teeth.some((tooth) => dentitionOf(tooth) === 'primary'))}
          onTouch={touch}
        />
        {exposed.length === 0 ? null : <h3>Which is clamped, and how large is each hole?</h3>}
        <ul className={styles.exposed}>
          {exposed.map((each) => (
            <ExposedRow
              key={each.tooth}
              exposed={each}
              name={toothIn(each.tooth, notation)}
              sizes={sizes}
              onSet={set}
            />
          ))}
        </ul>
        <ActButton
          kind="drawing.keep"
          input={{
            appointmentId: facts.appointment.id,
            field: exposed.map(({ tooth }) => tooth),
            clamped: exposed.flatMap(({ tooth, isClamped }) => (isClamped ? [tooth] : [])),
            holes: exposed.flatMap(({ tooth, size }) => (size === null ? [] : [{ tooth, size }])),
          }}
          performing={performing}
          isDisabled={!isWhole}
          size="main"
          tone="ink"
          done="Your drawing is kept; the plan stands beside it."
        >
          This is my plan
          <small>{isWhole ? 'then the one that stands is shown' : 'teeth and hole sizes are missing'}</small>
        </ActButton>
        <OutcomeBox outcome={performing.outcome} />
      </div>
    </Card>
  )
}

interface ExposedRowProps {
  exposed: Exposed
  name: string
  sizes: number
  onSet: (changed: Exposed) => void
}

function ExposedRow({ exposed, name, sizes, onSet }: ExposedRowProps) {
  const options = [
    { value: '', label: 'not said' },
    ...Array.from({ length: sizes }, (_, index) => ({ value: `${index + 1}`, label: `size ${index + 1}` })),
  ]
  return (
    <li>
      <strong>{name}</strong>
      <Button
        aria-pressed={exposed.isClamped}
        aria-label={`Clamp on ${name}`}
        onPress={() => onSet({ ...exposed, isClamped: !exposed.isClamped })}
      >
        Clamp
      </Button>
      <Pick
        label={`Hole for ${name}`}
        value={exposed.size === null ? '' : `${exposed.size}`}
        options={options}
        onPick={(value) => onSet({ ...exposed, size: value === '' ? null : Number(value) })}
      />
    </li>
  )
}
