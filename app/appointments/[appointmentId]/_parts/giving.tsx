'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { FieldGroup } from '#app/_ui/field.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { isOnlyTopical, type Label, type PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { can } from '#shared/people/role.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import { sayLabel } from '#shared/words/en/anaesthesia.ts'
import type { ActProps } from './act-props.ts'
import { choicesOf, type Draft, doseOf, draftOf, isSameDose } from './dose-draft.ts'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'
import { PlannedDoses, planWith } from './planned-doses.tsx'
import { shutToNeedle } from './shut.ts'
import { amountWords, TECHNIQUE_WORDS } from './solutions.ts'

/** One injection, from the plan by a touch or chosen otherwise: planned, given, or in already. */
export function Giving({ seen, performing }: ActProps) {
  const [draft, setDraft] = useState(() => draftOf(seen))
  const dose = doseOf(draft, seen)
  return (
    <>
      <PlannedDoses
        seen={seen}
        performing={performing}
        chosen={dose}
        onChoose={(planned) => setDraft(draftOf(seen, planned))}
      />
      <DrawnUp draft={draft} seen={seen} onChange={(more) => setDraft({ ...draft, ...more })} />
      {dose ? (
        <div className={styles.act}>
          <PlanIt dose={dose} seen={seen} performing={performing} />
          <GiveIt dose={dose} seen={seen} performing={performing} />
        </div>
      ) : null}
    </>
  )
}

interface DrawnUpProps {
  draft: Draft
  seen: Seen
  onChange: (more: Partial<Draft>) => void
}

/** What is laid on is a little; an ester is never anything else. */
const LAID_ON: Partial<Draft> = { technique: 'topical', tenths: '1' }
const laidOnOf = (label: Label | undefined): Partial<Draft> =>
  label && isOnlyTopical(label.agent) ? LAID_ON : {}

const afterGel = ({ technique }: Draft): Partial<Draft> => (technique === 'topical' ? { tenths: '10' } : {})

const CHOOSE = { value: '', label: 'choose' } as const

function DrawnUp({ draft, seen, onChange }: DrawnUpProps) {
  const { labels, cartridges, techniques, teeth, tenths } = choicesOf(seen, draft.technique)
  return (
    <FieldGroup title="What is drawn up">
      <Pick
        label="Solution"
        value={draft.solution}
        options={[CHOOSE, ...[...labels].map(([value, label]) => ({ value, label: sayLabel(label) }))]}
        onPick={(solution) => onChange({ solution, ...laidOnOf(labels.get(solution)) })}
      />
      <Pick
        label="Cartridge"
        value={draft.cartridge}
        options={cartridges.map((each) => ({ value: `${each}`, label: `${each / 1000} mL` }))}
        onPick={(cartridge) => onChange({ cartridge })}
      />
      <Pick
        label="How"
        value={draft.technique}
        options={[CHOOSE, ...techniques.map((value) => ({ value, label: TECHNIQUE_WORDS[value] }))]}
        onPick={(technique) =>
          onChange(technique === 'topical' ? LAID_ON : { technique, ...afterGel(draft) })
        }
      />
      <Pick
        label="Where"
        value={draft.tooth}
        options={[
          ...(draft.tooth === '' ? [CHOOSE] : []),
          ...teeth.map((value) => ({
            value,
            label: `${toothIn(value, seen.notation)}, ${nameTooth(value)}`,
          })),
        ]}
        onPick={(tooth) => onChange({ tooth })}
      />
      <Pick
        label="Cartridges"
        value={draft.tenths}
        options={tenths.map((each) => ({ value: `${each}`, label: `${each / 10}` }))}
        onPick={(some) => onChange({ tenths: some })}
      />
    </FieldGroup>
  )
}

interface OneDoseProps extends ActProps {
  dose: PlannedDose
}

/** The first is planned; any other is added to the plan, or planned in its place. */
function PlanIt({ dose, seen, performing }: OneDoseProps) {
  const planned = seen.facts.anaesthetic?.planned ?? []
  if (!can(seen.member.roles, 'plan:choose') || planned.some((each) => isSameDose(each, dose))) return null
  const done = 'The anaesthetic is planned and checked against its profile.'
  const ways: { words: string; plan: PlannedDose[] }[] =
    planned.length === 0
      ? [{ words: 'Plan and check', plan: [dose] }]
      : [
          { words: 'Add to the plan and check', plan: [...planned, dose] },
          { words: 'Plan this alone and check', plan: [dose] },
        ]
  return (
    <div className={styles.choices}>
      {ways.map(({ words, plan }) => (
        <ActButton
          key={words}
          kind="anaesthetic.plan"
          input={planWith(seen, plan)}
          performing={performing}
          done={done}
        >
          {words}
        </ActButton>
      ))}
    </div>
  )
}

function GiveIt({ dose, seen, performing }: OneDoseProps) {
  const appointmentId = seen.facts.appointment.id
  const shut = shutToNeedle(seen, dose)
  return (
    <>
      <Offered seen={seen} needs="needle:use" what="Given now" shut={shut}>
        <ActButton
          kind="dose.record"
          input={{ appointmentId, dose, alreadyGiven: false }}
          performing={performing}
          size="main"
          tone="ink"
          done="The dose is recorded."
        >
          Given now
          <small>
            {amountWords(dose)}, {TECHNIQUE_WORDS[dose.technique]}
            {dose.tooth ? ` at ${toothIn(dose.tooth, seen.notation)}` : ''}
          </small>
        </ActButton>
      </Offered>
      {shut.length > 0 ? (
        <details>
          <summary className={styles.more}>It is in already</summary>
          <div className={styles.act}>
            <p className={styles.aside}>
              What was given is always kept. What stood open is kept with it, for the dentist to look at.
            </p>
            <ActButton
              kind="dose.record"
              input={{ appointmentId, dose, alreadyGiven: true }}
              performing={performing}
              done="The dose is recorded as it was given."
            >
              Was given
              <small>{amountWords(dose)}</small>
            </ActButton>
          </div>
        </details>
      ) : null}
    </>
  )
}
