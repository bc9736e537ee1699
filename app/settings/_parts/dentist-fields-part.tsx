'use client'
import { useState } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import type { MemberId } from '#shared/ids.ts'
import { FIELD_POLICY_IDS, type FieldPolicyId } from '#shared/isolation/isolation-facts.ts'
import { FIELD_POLICY_NAMES } from '#shared/isolation/policy-names.ts'
import { FIELD_CLASSES, type FieldClass, type PolicySet } from '#shared/people/policy-set.ts'
import { can } from '#shared/people/role.ts'
import { CLASS_WORDS, FieldSources } from './field-words.tsx'
import styles from './settings.module.css'

type Fields = Partial<Record<FieldClass, FieldPolicyId>>

/** Where single dentists expose otherwise than the clinic: both picks with their sources, side by side. */
export function DentistFieldsPart({ of }: { of: DayOf }) {
  const { world } = useWorld()
  const [policy] = world.policySet
  const dentists = world.member.filter(({ roles, active }) => active && can(roles, 'word:give'))
  const [chosen, setChosen] = useState<MemberId | null>(dentists[0]?.id ?? null)
  const dentist = dentists.find(({ id }) => id === chosen)
  if (!policy || !dentist) return <p>No dentist works here yet: add one under People.</p>
  return (
    <section aria-labelledby="dentist-fields" className={styles.part}>
      <h2 id="dentist-fields">Fields by dentist</h2>
      <p>
        What {of.clinic.name} picks stands for everyone. Where a dentist exposes otherwise, plans of their own
        appointments still to come follow them; where what was agreed to changes, their word on it lapses.
      </p>
      <Pick
        label="Dentist"
        value={dentist.id}
        options={dentists.map(({ id, name }) => ({ value: id, label: name }))}
        onPick={setChosen}
      />
      <OneDentist key={dentist.id} dentistId={dentist.id} name={dentist.shortName} policy={policy} />
    </section>
  )
}

interface OneProps {
  dentistId: MemberId
  name: string
  policy: PolicySet
}

function OneDentist({ dentistId, name, policy }: OneProps) {
  const performing = usePerform()
  const standing = policy.ofDentists?.find((each) => each.dentistId === dentistId)?.field ?? {}
  const [draft, setDraft] = useState<Fields | null>(null)
  const own = draft ?? standing
  const isChanged = JSON.stringify(own) !== JSON.stringify(standing)
  return (
    <>
      <div className={styles.wide}>
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">Work</th>
              <th scope="col">The clinic</th>
              <th scope="col">{name}</th>
            </tr>
          </thead>
          <tbody>
            {FIELD_CLASSES.map((of) => (
              <OneClass
                key={of}
                of={of}
                clinic={policy.isolation.field[of]}
                own={own[of] ?? null}
                onOwn={(picked) => setDraft(withPick(own, of, picked))}
              />
            ))}
          </tbody>
        </table>
      </div>
      <div className={styles.save}>
        <ActButton
          kind="policy.of-dentist"
          input={{ dentistId, field: own }}
          performing={performing}
          size="main"
          tone="ink"
          isDisabled={!isChanged}
          done={`The fields of ${name} are kept.`}
          onDone={() => setDraft(null)}
        >
          Keep the fields of {name}
          <small>{isChanged ? 'not kept yet' : 'as they stand'}</small>
        </ActButton>
        {isChanged ? <Button onPress={() => setDraft(null)}>Back to what stands</Button> : null}
      </div>
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

/** The classes in their own order, so that the same picks read the same. */
function withPick(own: Fields, of: FieldClass, picked: FieldPolicyId | null): Fields {
  const next = { ...own, [of]: picked ?? undefined }
  return Object.fromEntries(FIELD_CLASSES.flatMap((each) => (next[each] ? [[each, next[each]]] : [])))
}

interface ClassProps {
  of: FieldClass
  clinic: FieldPolicyId
  own: FieldPolicyId | null
  onOwn: (picked: FieldPolicyId | null) => void
}

const AS_CLINIC = 'as the clinic'

function OneClass({ of, clinic, own, onOwn }: ClassProps) {
  const options: readonly { value: FieldPolicyId | typeof AS_CLINIC; label: string }[] = [
    { value: AS_CLINIC, label: AS_CLINIC },
    ...FIELD_POLICY_IDS.map((value) => ({ value, label: FIELD_POLICY_NAMES[value] })),
  ]
  return (
    <tr data-picked={own !== null || undefined}>
      <th scope="row">{CLASS_WORDS[of]}</th>
      <td>
        {FIELD_POLICY_NAMES[clinic]}
        <p className={styles.small}>
          <FieldSources policy={clinic} />
        </p>
      </td>
      <td>
        <Pick
          label={`${CLASS_WORDS[of]}, own field`}
          value={own ?? AS_CLINIC}
          options={options}
          onPick={(picked) => onOwn(picked === AS_CLINIC ? null : picked)}
        />
        {own ? (
          <p className={styles.small}>
            <FieldSources policy={own} />
          </p>
        ) : null}
      </td>
    </tr>
  )
}
