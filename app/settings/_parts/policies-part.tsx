'use client'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import type { PolicySet } from '#shared/people/policy-set.ts'
import { DosePolicies } from './dose-policies.tsx'
import { IsolationPolicies } from './isolation-policies.tsx'
import { OtherPolicies } from './other-policies.tsx'
import type { Picks } from './picks.ts'
import styles from './settings.module.css'

const picksOf = ({
  isolation,
  anaesthesia,
  allergies,
  trays,
  sterility,
  schedule,
  word,
}: PolicySet): Picks => ({
  isolation: {
    ...isolation,
    widerEnd: isolation.widerEnd ?? false,
    spacing: isolation.spacing ?? null,
    placing: isolation.placing ?? null,
  },
  anaesthesia: { ...anaesthesia, adultWeightMonths: anaesthesia.adultWeightMonths ?? null },
  allergies,
  trays,
  sterility,
  schedule,
  word,
})

/** Where authorities differ: what each says, beside each other, and what this clinic picks. Nothing is merged. */
export function PoliciesPart() {
  const { world } = useWorld()
  const performing = usePerform()
  const [standing] = world.policySet
  const [draft, setDraft] = useState<Picks | null>(null)
  if (!standing) return <p>No policies yet: they come with the clinic.</p>
  const kept = picksOf(standing)
  const picks = draft ?? kept
  const isChanged = JSON.stringify(picks) !== JSON.stringify(kept)
  return (
    <>
      <p>
        Sources stand beside each pick. Picking says what is checked here; it says nothing of who is right.
        Saved, every plan still to come is made anew; where what was agreed to changes, the dentist’s word on
        it lapses.
      </p>
      <IsolationPolicies picks={picks} onPicks={setDraft} />
      <DosePolicies picks={picks} onPicks={setDraft} />
      <OtherPolicies picks={picks} onPicks={setDraft} />
      <div className={styles.save}>
        <ActButton
          kind="policy.set"
          input={picks}
          performing={performing}
          size="main"
          tone="ink"
          isDisabled={!isChanged}
          done="The policies are kept."
          onDone={() => setDraft(null)}
        >
          Keep these policies
          <small>{isChanged ? 'not kept yet' : 'as they stand'}</small>
        </ActButton>
        {isChanged ? <Button onPress={() => setDraft(null)}>Back to what stands</Button> : null}
      </div>
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}
