'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { FieldGroup } from '#app/_ui/field.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import { type PlannedDose, TECHNIQUES, type Technique } from '#shared/anaesthesia/anaesthetic.ts'
import { can } from '#shared/people/role.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { sideOf } from '#shared/teeth/tooth.ts'
import { sayLabel } from '#shared/words/en/anaesthesia.ts'
import type { ActProps } from './act-props.ts'
import { DoseCheck } from './dose-check.tsx'
import { DoseTimes } from './dose-times.tsx'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'
import { shutToNeedle } from './shut.ts'
import { amountWords, CARTRIDGES, SOLUTIONS } from './solutions.ts'

/** What is given, or that nothing is, by intent. */
export function DoseActs({ seen, performing }: ActProps) {
  const { anaesthetic, doses } = seen.facts
  return (
    <div className={styles.act}>
      <h3>Anaesthetic</h3>
      {doses.map((dose) => (
        <div key={dose.id}>
          <p className={styles.done}>
            {timeOf(dose.at, seen.zone)} {amountWords(dose)}, {sayLabel(dose)}, {dose.technique}
            {dose.tooth ? ` at ${toothIn(dose.tooth, seen.notation)}` : ''}, {seen.nameOf(dose.by)}
          </p>
          <DoseTimes dose={dose} seen={seen} />
        </div>
      ))}
      {anaesthetic?.intent.kind === 'none' ? (
        <p>No injection, by intent: {anaesthetic.intent.reason}.</p>
      ) : null}
      <DoseCheck seen={seen} />
      <Offered seen={seen} needs="needle:use" what="What is given">
        {doses.length === 0 ? (
          <Giving seen={seen} performing={performing} />
        ) : (
          <details>
            <summary className={styles.more}>Another injection</summary>
            <Giving seen={seen} performing={performing} />
          </details>
        )}
      </Offered>
      {doses.length === 0 && anaesthetic?.intent.kind !== 'none' && can(seen.member.roles, 'plan:choose') ? (
        <NoneByIntent seen={seen} performing={performing} />
      ) : null}
    </div>
  )
}

const TENTHS = ['5', '10', '15', '20', '25', '30'] as const
const TECHNIQUE_WORDS: Record<Technique, string> = {
  infiltration: 'infiltration',
  block: 'block',
  intraligamentary: 'into the ligament',
  topical: 'topical',
}

function Giving({ seen, performing }: ActProps) {
  const teeth = workedTeeth(seen.facts)
  const planned = seen.facts.anaesthetic?.planned[0]
  const [solution, setSolution] = useState(`${SOLUTIONS.findIndex(isPlanned(seen))}`)
  const [cartridge, setCartridge] = useState(`${planned?.cartridge ?? CARTRIDGES[0]}`)
  const [technique, setTechnique] = useState<Technique | ''>(planned?.technique ?? '')
  const [tenths, setTenths] = useState<(typeof TENTHS)[number]>('10')
  const tooth = planned?.tooth ?? teeth[0] ?? null
  const chosen = SOLUTIONS[Number(solution)]
  const size = CARTRIDGES.find((each) => `${each}` === cartridge)
  const appointmentId = seen.facts.appointment.id
  const dose: PlannedDose | null =
    chosen && size && technique !== '' && tooth
      ? {
          ...chosen,
          cartridge: size,
          technique,
          tooth,
          side: sideOf(tooth),
          tenthsOfCartridge: Number(tenths),
        }
      : null
  const shut = dose ? shutToNeedle(seen, dose) : []
  return (
    <>
      <FieldGroup title="What is drawn up">
        <Pick
          label="Solution"
          value={solution}
          options={[
            { value: '-1', label: 'choose' },
            ...SOLUTIONS.map((each, index) => ({ value: `${index}`, label: sayLabel(each) })),
          ]}
          onPick={setSolution}
        />
        <Pick
          label="Cartridge"
          value={cartridge}
          options={CARTRIDGES.map((each) => ({ value: `${each}`, label: `${each / 1000} mL` }))}
          onPick={setCartridge}
        />
        <Pick
          label="How"
          value={technique}
          options={[
            { value: '', label: 'choose' },
            ...TECHNIQUES.map((value) => ({ value, label: TECHNIQUE_WORDS[value] })),
          ]}
          onPick={setTechnique}
        />
        <Pick
          label="Cartridges"
          value={tenths}
          options={TENTHS.map((value) => ({ value, label: `${Number(value) / 10}` }))}
          onPick={setTenths}
        />
      </FieldGroup>
      {dose ? (
        <div className={styles.act}>
          {can(seen.member.roles, 'plan:choose') ? (
            <ActButton
              kind="anaesthetic.plan"
              input={{ appointmentId, planned: [dose], profile: seen.facts.anaesthetic?.profile ?? null }}
              performing={performing}
              done="The anaesthetic is planned and checked against its profile."
            >
              Plan and check
            </ActButton>
          ) : null}
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
                {amountWords(dose)} {dose.tooth ? `at ${toothIn(dose.tooth, seen.notation)}` : ''}
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
        </div>
      ) : null}
    </>
  )
}

/** Whether a solution of the list is the first planned one. */
const isPlanned =
  ({ facts }: ActProps['seen']) =>
  (solution: (typeof SOLUTIONS)[number]): boolean => {
    const planned = facts.anaesthetic?.planned[0]
    return (
      planned !== undefined &&
      planned.agent === solution.agent &&
      planned.milliPercent === solution.milliPercent &&
      planned.vasoconstrictor === solution.vasoconstrictor &&
      planned.ratio === solution.ratio
    )
  }

const REASONS = ['Patient wishes none', 'No drilling planned', 'Tooth without a living pulp']

function NoneByIntent({ seen, performing }: ActProps) {
  const [open, setOpen] = useState(false)
  if (!open) return <Button onPress={() => setOpen(true)}>No injection, by intent</Button>
  return (
    <div className={styles.choices}>
      {REASONS.map((reason) => (
        <ActButton
          key={reason}
          kind="anaesthetic.none-by-intent"
          input={{ appointmentId: seen.facts.appointment.id, reason, topicalAtClamp: true }}
          performing={performing}
          done="No injection, by intent; topical where the clamp sits."
        >
          {reason}
          <small>topical where the clamp sits</small>
        </ActButton>
      ))}
    </div>
  )
}
