'use client'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { Pick } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { can } from '#shared/people/role.ts'
import type { Work } from '#shared/procedures/work.ts'
import { hasReached } from '#shared/readiness/gates.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import { TEETH, type Tooth } from '#shared/teeth/tooth.ts'
import type { ActProps } from './acts.tsx'
import styles from './plan.module.css'
import { WhoFirst } from './who-first.tsx'

/** The dentist has looked and the mouth says another tooth. Who is in the chair is asked first: it may be another patient. */
export function AnotherTooth({ seen }: Pick<ActProps, 'seen'>) {
  const performing = usePerform()
  const single = seen.facts.work.filter((work) => work.teeth.length === 1 && work.kind !== 'undetermined')
  const isPast = hasReached(seen.readiness.line.stage, 'finished')
  if (single.length === 0 || isPast || !can(seen.member.roles, 'plan:choose')) return null
  return (
    <Card title="The mouth says another tooth" tone="plain">
      <details>
        <summary className={styles.more}>Name the tooth anew</summary>
        <WhoFirst seen={seen}>
          <p>A new tooth makes a new plan, and a word given on the old one lapses.</p>
          {single.map((work) => (
            <NameAnew key={work.id} work={work} seen={seen} performing={performing} />
          ))}
        </WhoFirst>
      </details>
      <OutcomeBox outcome={performing.outcome} />
    </Card>
  )
}

function NameAnew({ work, seen, performing }: ActProps & { work: Work }) {
  const [tooth, setTooth] = useState<Tooth | ''>('')
  const [old] = work.teeth
  if (old === undefined || work.kind === 'undetermined') return null
  const words = (each: Tooth): string => `${toothIn(each, seen.notation)}, ${nameTooth(each)}`
  const surfaces = work.surfaces[old]
  return (
    <div className={styles.act}>
      <Pick
        label={`Instead of ${words(old)}`}
        value={tooth}
        options={[
          { value: '', label: 'choose' },
          ...TEETH.filter((each) => each !== old).map((each) => ({ value: each, label: words(each) })),
        ]}
        onPick={setTooth}
      />
      {tooth === '' ? null : (
        <ActButton
          kind="work.name"
          input={{
            appointmentId: work.appointmentId,
            workId: work.id,
            kind: work.kind,
            teeth: [tooth],
            surfaces: surfaces ? { [tooth]: surfaces } : {},
            text: '',
            settles: true,
          }}
          performing={performing}
          done="The tooth is named anew."
          onDone={() => setTooth('')}
        >
          It is {words(tooth)}
        </ActButton>
      )}
    </div>
  )
}
