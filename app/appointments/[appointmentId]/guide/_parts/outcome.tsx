'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { type InputOf, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { SEQUENCES } from '#shared/isolation/isolation-facts.ts'
import { can } from '#shared/people/role.ts'
import { SEQUENCE_WORDS } from '#shared/words/en/plan.ts'
import { Counter } from '../../_parts/counter.tsx'
import { Offered } from '../../_parts/offered.tsx'
import { shutToPlacer } from '../../_parts/shut.ts'
import { Differs, type Placed } from './differs.tsx'
import styles from './guide.module.css'
import { type GuideStep, isDone, minutesOf, type Tick } from './guide-steps.ts'

type Gum = InputOf<'dam.placed'>['outcome']['gum']
const GUMS: readonly { gum: Gum; words: string }[] = [
  { gum: 'sound', words: 'Gum sound' },
  { gum: 'marked', words: 'Gum marked' },
  { gum: 'injured', words: 'Gum injured' },
  { gum: 'not-looked', words: 'Gum not to be seen yet' },
]

interface OutcomeProps {
  seen: Seen
  steps: readonly GuideStep[]
  ticks: readonly Tick[]
}

/** How it went: kept with what was placed, and shown when this patient is planned for again. */
export function Outcome({ seen, steps, ticks }: OutcomeProps) {
  const performing = usePerform()
  const { plan, asPlaced, appointment } = seen.facts
  const [minutes, setMinutes] = useState<number | null>(() => minutesOf(ticks))
  const [retries, setRetries] = useState<number | null>(null)
  const [went, setWent] = useState({ leak: false, tear: false })
  const [gum, setGum] = useState<Gum | null>(null)
  const [inspected, setInspected] = useState(false)
  const [placed, setPlaced] = useState<readonly Placed[]>(() => asPlanned(seen))
  if (plan === null || seen.isolation === null) return null
  if (asPlaced.length > 0) return <p className={styles.recorded}>✓ Recorded as placed.</p>
  const hasClamp = placed.some(({ clamps }) => clamps.length > 0)
  const toggle = (key: 'leak' | 'tear') => setWent({ ...went, [key]: !went[key] })
  return (
    <section className={styles.outcome} aria-label="How it went">
      <h2 className={styles.step}>All steps done. How did it go?</h2>
      <Counter label="Minutes it took" count={minutes} onCount={setMinutes} />
      <Counter label="Tried again, times" count={retries} onCount={setRetries} />
      <div className={styles.choices}>
        <Button aria-pressed={went.leak} onPress={() => toggle('leak')}>
          It leaks
        </Button>
        <Button aria-pressed={went.tear} onPress={() => toggle('tear')}>
          It is torn
        </Button>
        {hasClamp ? (
          <Button aria-pressed={inspected} onPress={() => setInspected(!inspected)}>
            Clamp looked at: no rust, crack or bend
          </Button>
        ) : null}
      </div>
      <div className={styles.choices}>
        {GUMS.map((each) => (
          <Button key={each.gum} aria-pressed={gum === each.gum} onPress={() => setGum(each.gum)}>
            {each.words}
          </Button>
        ))}
      </div>
      {placed.map((sheet, index) => (
        <OneSheet
          key={asPlanned(seen)[index]?.field.join()}
          {...{ seen, placed: sheet, planned: asPlanned(seen)[index] ?? sheet }}
          onPlaced={(next) => setPlaced(placed.map((each, at) => (at === index ? next : each)))}
        />
      ))}
      <Offered seen={seen} needs="dam:place" what="Record as placed" shut={shutToPlacer(seen)}>
        <ActButton
          kind="dam.placed"
          input={{
            appointmentId: appointment.id,
            planNumber: plan.number,
            sheets: [...placed],
            tied: isDone('tie-floss', steps, ticks),
            inspected: inspected || !hasClamp,
            bow: !hasClamp || isDone('bow-to-back', steps, ticks) ? 'back' : 'front',
            minutes,
            outcome: { ...went, retries: retries ?? 0, gum: gum ?? 'not-looked' },
          }}
          performing={performing}
          size="main"
          tone="ink"
          isDisabled={gum === null}
          done="Recorded as placed."
        >
          Record as placed
          <small>{gum === null ? 'say first how the gum looks' : `plan ${plan.number}`}</small>
        </ActButton>
      </Offered>
      <OutcomeBox outcome={performing.outcome} />
    </section>
  )
}

/** What the plan says is in the mouth now, sheet by sheet. */
const asPlanned = ({ isolation }: Seen): Placed[] =>
  (isolation?.sheets ?? []).map(({ field, clamps, sequence }) => ({ field, clamps, sequence }))

interface OneSheetProps {
  seen: Seen
  planned: Placed
  placed: Placed
  onPlaced: (placed: Placed) => void
}

/** How one sheet went on; where the mouth differed the dentist says what shows. */
function OneSheet(props: OneSheetProps) {
  const { seen, placed, planned, onPlaced } = props
  const teeth = planned.field.map((tooth) => toothIn(tooth, seen.notation)).join(' ')
  return (
    <div className={styles.choices}>
      {placed.clamps.length > 0 ? (
        <Pick
          label={`How the sheet on ${teeth} went on`}
          value={placed.sequence}
          options={SEQUENCES.map((value) => ({ value, label: SEQUENCE_WORDS[value] }))}
          onPick={(sequence) => onPlaced({ ...placed, sequence })}
        />
      ) : null}
      {can(seen.member.roles, 'word:give') ? <Differs {...props} /> : null}
    </div>
  )
}
