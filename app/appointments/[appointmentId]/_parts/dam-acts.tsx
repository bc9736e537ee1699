'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import type { ActProps } from './act-props.ts'
import styles from './plan.module.css'

/** The gate of the clamp. The two things that are done before it goes near the mouth are each touched. */
export function ClampOn({ seen, performing }: ActProps) {
  const [tied, setTied] = useState(false)
  const { plan, policy, appointment } = seen.facts
  const hasClamp = plan?.agreed.sheets.some((sheet) => sheet.clamps.length > 0) ?? false
  const mustTie = hasClamp && policy?.isolation.untiedClampAllowed !== true
  return (
    <div className={styles.act}>
      <h3>The clamp goes on</h3>
      <Button aria-pressed={tied} onPress={() => setTied(!tied)}>
        Clamp tied: floss through both holes
      </Button>
      <ActButton
        kind="visit.clamp"
        input={{ appointmentId: appointment.id, tied }}
        performing={performing}
        size="main"
        tone="ink"
        isDisabled={mustTie && !tied}
        done="The clamp is on."
      >
        Clamp on
        {mustTie && !tied ? <small>tie it first: it could be swallowed</small> : null}
      </ActButton>
    </div>
  )
}

const SEEN_BEFORE = ['tied', 'inspected', 'bow'] as const
type SeenBefore = (typeof SEEN_BEFORE)[number]
const SEEN_WORDS: Record<SeenBefore, string> = {
  tied: 'Tied through both holes',
  inspected: 'No rust, crack or bend',
  bow: 'Bow to the back',
}

/** What was placed, as planned. Where the mouth differed the dentist records it as placed. */
export function DamPlaced({ seen, performing }: ActProps) {
  const [checked, setChecked] = useState<SeenBefore[]>([])
  const [trouble, setTrouble] = useState<{ leak: boolean; tear: boolean }>({ leak: false, tear: false })
  const { plan, asPlaced, appointment } = seen.facts
  const sheets = seen.isolation?.sheets ?? []
  if (plan === null || sheets.length === 0) return null
  if (asPlaced.length > 0) return <p className={styles.done}>Dam recorded as placed</p>
  const touch = (one: SeenBefore) =>
    setChecked(checked.includes(one) ? checked.filter((each) => each !== one) : [...checked, one])
  return (
    <div className={styles.act}>
      <h3>The dam as placed</h3>
      <div className={styles.choices}>
        {SEEN_BEFORE.map((one) => (
          <Button key={one} aria-pressed={checked.includes(one)} onPress={() => touch(one)}>
            {SEEN_WORDS[one]}
          </Button>
        ))}
        <Button aria-pressed={trouble.leak} onPress={() => setTrouble({ ...trouble, leak: !trouble.leak })}>
          It leaks
        </Button>
        <Button aria-pressed={trouble.tear} onPress={() => setTrouble({ ...trouble, tear: !trouble.tear })}>
          It is torn
        </Button>
      </div>
      <ActButton
        kind="dam.placed"
        input={{
          appointmentId: appointment.id,
          planNumber: plan.number,
          sheets: sheets.map(({ field, clamps, sequence }) => ({ field, clamps, sequence })),
          tied: checked.includes('tied'),
          inspected: checked.includes('inspected'),
          bow: checked.includes('bow') ? 'back' : 'front',
          minutes: null,
          outcome: { ...trouble, retries: 0, gum: 'not-looked' },
        }}
        performing={performing}
        size="main"
        done="The dam is recorded as placed."
      >
        Placed as planned
        <small>plan {plan.number}</small>
      </ActButton>
    </div>
  )
}
