'use client'
import { useState } from 'react'
import { CALL_WORDS } from '#app/_help/help-words.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { HELP_KINDS, type HelpKind } from '#shared/readiness/help.ts'
import { cardFor } from '#shared/readiness/help-cards.ts'
import styles from './settings.module.css'

/** The clinic's own cards for what goes wrong: one line is one step. */
export function HelpCardsPart() {
  return (
    <>
      <p>
        What stands on the card when someone calls help. Write your own, by your emergency plan: one line is
        one step, stamped with one touch. An empty card brings the general list back.
      </p>
      {HELP_KINDS.map((kind) => (
        <OneCard key={kind} kind={kind} />
      ))}
    </>
  )
}

function OneCard({ kind }: { kind: HelpKind }) {
  const { world } = useWorld()
  const performing = usePerform()
  const card = cardFor(kind, world.policySet[0] ?? null)
  const standing = card.steps.join('\n')
  const [text, setText] = useState<string | null>(null)
  const steps = (text ?? standing)
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '')
  return (
    <section aria-labelledby={kind} className={styles.part}>
      <h2 id={kind}>{CALL_WORDS[kind]}</h2>
      <p className={styles.small}>
        {card.general === null ? 'Written by the clinic.' : 'General list, common practice without a source.'}
      </p>
      <label className={styles.area}>
        <span className="visually-hidden">Steps for {CALL_WORDS[kind].toLowerCase()}</span>
        <textarea rows={7} value={text ?? standing} onChange={(event) => setText(event.target.value)} />
      </label>
      <ActButton
        kind="help.card"
        input={{ kind, steps }}
        performing={performing}
        isDisabled={text === null || text === standing}
        done="The card is kept."
        onDone={() => setText(null)}
      >
        Keep this card
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </section>
  )
}
