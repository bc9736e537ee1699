'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { hadDam, isUncounted } from '#shared/readiness/counting.ts'
import type { ActProps } from './act-props.ts'
import { AftercareActs } from './aftercare-acts.tsx'
import { Counter } from './counter.tsx'
import { DamPlaced } from './dam-acts.tsx'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'
import { shutAt } from './shut.ts'

const COUNTED = [
  'holesWhole',
  'septaCut',
  'clamps',
  'ligaturesIn',
  'ligatures',
  'sheetPieces',
  'needles',
  'files',
  'blades',
] as const
type Counted = (typeof COUNTED)[number]
type Counts = Partial<Record<Counted, number>>
const COUNT_WORDS: Record<Counted, string> = {
  holesWhole: 'Holes found whole on the sheet',
  septaCut: 'Septa cut on purpose',
  clamps: 'Clamps out',
  ligaturesIn: 'Ligatures that went in',
  ligatures: 'Ligatures out',
  sheetPieces: 'Pieces of sheet',
  needles: 'Needles',
  files: 'Files',
  blades: 'Blades',
}
const GUMS = ['sound', 'marked', 'injured'] as const

/** What went in is counted out, the gum looked at, the patient seen off. */
export function LeaveActs({ seen, performing }: ActProps) {
  const { appointment } = seen.facts
  return (
    <>
      <CountActs seen={seen} performing={performing} />
      <AftercareActs seen={seen} performing={performing} />
      <Offered seen={seen} needs="patient:identify" what="Patient leaves" shut={shutAt(seen, 'leave')}>
        <ActButton
          kind="visit.leave"
          input={{ appointmentId: appointment.id }}
          performing={performing}
          size="main"
          tone="ink"
          done="The patient has left; the operatory is to be turned over."
        >
          Patient leaves
        </ActButton>
      </Offered>
    </>
  )
}

/** With a sheet, as it was placed and all of it; without one, what is sharp; nothing where nothing went in. */
export function CountActs({ seen, performing }: ActProps) {
  const { visit, asPlaced } = seen.facts
  if (!isUncounted(seen.facts)) {
    return visit?.counts ? <p className={styles.done}>Counted out by {seen.nameOf(visit.counts.by)}</p> : null
  }
  const isToBePlaced = hadDam(seen.facts) && asPlaced.length === 0
  return (
    <Offered seen={seen} needs="dam:place" what="Counted out">
      {isToBePlaced ? (
        <DamPlaced seen={seen} performing={performing} />
      ) : hadDam(seen.facts) ? (
        <CountOut seen={seen} performing={performing} />
      ) : (
        <CountSharps seen={seen} performing={performing} />
      )}
    </Offered>
  )
}

function CountLines({
  lines,
  counts,
  onCounts,
}: {
  lines: readonly Counted[]
  counts: Counts
  onCounts: (counts: Counts) => void
}) {
  return lines.map((one) => (
    <Counter
      key={one}
      label={COUNT_WORDS[one]}
      count={counts[one] ?? null}
      onCount={(count) => onCounts({ ...counts, [one]: count })}
    />
  ))
}

const SHARPS = ['needles', 'files', 'blades'] as const

function CountSharps({ seen, performing }: ActProps) {
  const [counts, setCounts] = useState<Counts>({})
  const whole = SHARPS.every((one) => counts[one] !== undefined)
  const { needles = 0, files = 0, blades = 0 } = counts
  return (
    <div className={styles.act}>
      <h3>Count what came out</h3>
      <CountLines lines={SHARPS} counts={counts} onCounts={setCounts} />
      <ActButton
        kind="visit.count"
        input={{ appointmentId: seen.facts.appointment.id, needles, files, blades }}
        performing={performing}
        size="main"
        isDisabled={!whole}
        done="Counted and kept."
      >
        Counted
        <small>{whole ? 'all counted' : 'count every line first'}</small>
      </ActButton>
    </div>
  )
}

/** Every line is counted, the sheet laid flat, the gum said. */
export function CountOut({ seen, performing }: ActProps) {
  const [counts, setCounts] = useState<Counts>({})
  const [gum, setGum] = useState<(typeof GUMS)[number] | null>(null)
  const [fragment, setFragment] = useState<'none-missing' | 'missing' | null>(null)
  const whole = COUNTED.every((one) => counts[one] !== undefined) && gum !== null && fragment !== null
  const of = (one: Counted): number => counts[one] ?? 0
  return (
    <div className={styles.act}>
      <h3>Count what came out</h3>
      <CountLines lines={COUNTED} counts={counts} onCounts={setCounts} />
      <div className={styles.choices}>
        <Button aria-pressed={fragment === 'none-missing'} onPress={() => setFragment('none-missing')}>
          Sheet laid flat: no piece missing
        </Button>
        <Button aria-pressed={fragment === 'missing'} onPress={() => setFragment('missing')}>
          A piece is missing
        </Button>
        {GUMS.map((one) => (
          <Button key={one} aria-pressed={gum === one} onPress={() => setGum(one)}>
            Gum {one}
          </Button>
        ))}
      </div>
      <ActButton
        kind="dam.removed"
        input={{
          appointmentId: seen.facts.appointment.id,
          holesWhole: of('holesWhole'),
          septaCut: of('septaCut'),
          clamps: of('clamps'),
          ligaturesIn: of('ligaturesIn'),
          ligatures: of('ligatures'),
          sheetPieces: of('sheetPieces'),
          needles: of('needles'),
          files: of('files'),
          blades: of('blades'),
          fragment: fragment ?? 'missing',
          gum: gum ?? 'injured',
        }}
        performing={performing}
        size="main"
        isDisabled={!whole}
        done="Counted and kept."
      >
        Counted
        <small>{whole ? 'all counted' : 'count every line first'}</small>
      </ActButton>
    </div>
  )
}
