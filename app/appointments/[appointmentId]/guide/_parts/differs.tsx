'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import type { InputOf } from '#app/_live/use-perform.ts'
import { Button } from '#app/_ui/button.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { CLAMP_FAMILIES } from '#shared/isolation/isolation-facts.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import { byArchOrder } from '#shared/teeth/span.ts'
import { rowOf, type Tooth } from '#shared/teeth/tooth.ts'
import { sayClamp } from '#shared/words/en/plan.ts'
import styles from './guide.module.css'

/** One sheet as it is in the mouth. */
export type Placed = InputOf<'dam.placed'>['sheets'][number]

interface DiffersProps {
  seen: Seen
  planned: Placed
  placed: Placed
  onPlaced: (placed: Placed) => void
}

/** The mouth differed: the dentist records the teeth that really show, and the clamps that really sit. */
export function Differs({ seen, planned, placed, onPlaced }: DiffersProps) {
  const [open, setOpen] = useState(false)
  const close = () => {
    setOpen(false)
    onPlaced(planned)
  }
  return (
    <div className={styles.differs}>
      <Button aria-expanded={open} aria-pressed={open} onPress={() => (open ? close() : setOpen(true))}>
        {open ? 'It is as planned after all' : 'The mouth differed from the plan'}
      </Button>
      {open ? (
        <>
          <Teeth
            title="Teeth that show through the sheet"
            teeth={around(planned.field)}
            chosen={placed.field}
            seen={seen}
            onTouch={(tooth) => onPlaced({ ...placed, field: touched(placed.field, tooth) })}
          />
          <Teeth
            title="Teeth that carry a clamp"
            teeth={placed.field}
            chosen={placed.clamps.map(({ tooth }) => tooth)}
            seen={seen}
            onTouch={(tooth) => onPlaced({ ...placed, clamps: clampedAfter(placed, tooth) })}
          />
          {placed.clamps.map((clamp) => (
            <Pick
              key={clamp.tooth}
              label={`Clamp on ${toothIn(clamp.tooth, seen.notation)}`}
              value={clamp.family}
              options={CLAMP_FAMILIES.map((family) => ({ value: family, label: sayClamp(family) }))}
              onPick={(family) =>
                onPlaced({
                  ...placed,
                  clamps: placed.clamps.map((each) =>
                    each.tooth === clamp.tooth ? { ...each, family } : each,
                  ),
                })
              }
            />
          ))}
        </>
      ) : null}
    </div>
  )
}

interface TeethProps {
  title: string
  teeth: readonly Tooth[]
  chosen: readonly Tooth[]
  seen: Seen
  onTouch: (tooth: Tooth) => void
}

function Teeth({ title, teeth, chosen, seen, onTouch }: TeethProps) {
  return (
    <fieldset className={styles.choices}>
      <legend>{title}</legend>
      {teeth.map((tooth) => (
        <Button
          key={tooth}
          aria-pressed={chosen.includes(tooth)}
          aria-label={`${toothIn(tooth, seen.notation)}, ${nameTooth(tooth)}`}
          onPress={() => onTouch(tooth)}
        >
          {toothIn(tooth, seen.notation)}
        </Button>
      ))}
    </fieldset>
  )
}

const touched = (teeth: readonly Tooth[], tooth: Tooth): Tooth[] =>
  teeth.includes(tooth) ? teeth.filter((each) => each !== tooth) : [...teeth, tooth].sort(byArchOrder)

/** A clamp taken off, or one more of the first one's form put on. */
function clampedAfter({ clamps }: Placed, tooth: Tooth): Placed['clamps'] {
  if (clamps.some((clamp) => clamp.tooth === tooth)) return clamps.filter((clamp) => clamp.tooth !== tooth)
  const [first] = clamps
  return [...clamps, { tooth, family: first?.family ?? 'MOLAR_W_PASSIVE', role: first ? 'second' : 'anchor' }]
}

const BEYOND = 2
/** The teeth of a field and two beyond its ends, row by row. */
function around(field: readonly Tooth[]): Tooth[] {
  const rows = [...new Set(field.map(rowOf))]
  return rows.flatMap((row) => {
    const places = field.filter((tooth) => rowOf(tooth) === row).map((tooth) => row.indexOf(tooth))
    return row.slice(Math.max(0, Math.min(...places) - BEYOND), Math.max(...places) + BEYOND + 1)
  })
}
