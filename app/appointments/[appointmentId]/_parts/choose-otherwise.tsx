'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { type Performing, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { ageInYears } from '#shared/base/moment.ts'
import {
  ALTERNATIVE_METHODS,
  type AlternativeMethod,
  SHEET_MATERIALS,
} from '#shared/isolation/isolation-facts.ts'
import type { PlannedSheet } from '#shared/isolation/plan-types.ts'
import { can } from '#shared/people/role.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { hasReached } from '#shared/schedule/appointment.ts'
import { mouthOf } from '#shared/teeth/mouth.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import styles from './plan.module.css'

interface Part {
  seen: Seen
  performing: Performing
}

/** What the dentist may choose where the policy's own answer does not suit this mouth. */
export function ChooseOtherwise({ seen }: { seen: Seen }) {
  const performing = usePerform()
  const { isolation, facts } = seen
  const isPast = hasReached(seen.readiness.line.stage, 'clamped')
  const hasAny = (isolation?.sheets.length ?? 0) > 0 || facts.choice?.alternative != null
  if (!hasAny || isPast || !can(seen.member.roles, 'plan:choose')) return null
  return (
    <Card title="Choose otherwise" tone="plain">
      <details>
        <summary className={styles.more}>
          Another tooth to clamp, another sheet, another way than a dam
        </summary>
        <div className={styles.acts}>
          {(isolation?.sheets ?? []).map((sheet) => (
            <Anchor key={sheet.working.join()} sheet={sheet} seen={seen} performing={performing} />
          ))}
          {(isolation?.sheets.length ?? 0) > 0 ? <Material seen={seen} performing={performing} /> : null}
          <OtherWay seen={seen} performing={performing} />
        </div>
      </details>
      <OutcomeBox outcome={performing.outcome} />
    </Card>
  )
}

/** How far from the field a clamp may be looked for. */
const BEHIND = 2

function Anchor({ seen, performing, sheet }: Part & { sheet: PlannedSheet }) {
  const { appointment, choice } = seen.facts
  const candidates = candidatesFor(sheet, seen)
  const elsewhere = (choice?.anchors ?? []).filter((tooth) => !candidates.includes(tooth))
  const isChosen = (choice?.anchors ?? []).some((tooth) => candidates.includes(tooth))
  const isHeld = sheet.clamps.some(({ role }) => role !== 'retractor')
  const ends = sheet.field.filter((_, at) => at === 0 || at === sheet.field.length - 1)
  return (
    <div className={styles.act}>
      <h3>Clamped tooth</h3>
      <div className={styles.choices}>
        {candidates.map((tooth) => (
          <ActButton
            key={tooth}
            kind="isolation.choose"
            input={{ appointmentId: appointment.id, anchors: [...elsewhere, tooth].slice(-4) }}
            performing={performing}
            aria-pressed={sheet.clamps.some((clamp) => clamp.tooth === tooth && clamp.role !== 'retractor')}
            aria-label={`Clamp ${toothIn(tooth, seen.notation)}, ${nameTooth(tooth)}`}
            done={`The clamp is planned on ${toothIn(tooth, seen.notation)}.`}
          >
            {toothIn(tooth, seen.notation)}
          </ActButton>
        ))}
        {ends.length === 2 && !isHeld ? (
          <ActButton
            kind="isolation.choose"
            input={{ appointmentId: appointment.id, anchors: [...elsewhere, ...ends].slice(-4) }}
            performing={performing}
            done="Both ends of the field are planned with a clamp."
          >
            Both ends: {ends.map((tooth) => toothIn(tooth, seen.notation)).join(' and ')}
          </ActButton>
        ) : null}
        {isChosen ? (
          <ActButton
            kind="isolation.choose"
            input={{ appointmentId: appointment.id, anchors: elsewhere }}
            performing={performing}
            done="The policy’s own clamped tooth stands again."
          >
            As the policy has it
          </ActButton>
        ) : null}
      </div>
    </div>
  )
}

/** Standing teeth of the field and two beyond each of its ends, in arch order. */
function candidatesFor({ arch, field }: PlannedSheet, { facts }: Seen): Tooth[] {
  const { chart, patient, appointment } = facts
  const ageYears = ageInYears(patient?.born ?? null, appointment.day)
  const row = mouthOf(chart, { ageYears, worked: workedTeeth(facts) }).standingRow(arch)
  const places = field.map((tooth) => row.indexOf(tooth)).filter((place) => place >= 0)
  if (places.length === 0) return []
  return row.slice(Math.max(0, Math.min(...places) - BEHIND), Math.max(...places) + BEHIND + 1)
}

function Material({ seen, performing }: Part) {
  const { appointment, choice } = seen.facts
  const chosen = choice?.sheetMaterial ?? null
  return (
    <div className={styles.act}>
      <h3>Sheet</h3>
      <div className={styles.choices}>
        {([null, ...SHEET_MATERIALS] as const).map((sheetMaterial) => (
          <ActButton
            key={sheetMaterial ?? 'own'}
            kind="isolation.choose"
            input={{ appointmentId: appointment.id, sheetMaterial }}
            performing={performing}
            aria-pressed={chosen === sheetMaterial}
            done="The sheet is chosen."
          >
            {sheetMaterial ?? 'The clinic’s own'}
          </ActButton>
        ))}
      </div>
    </div>
  )
}

const METHOD_WORDS: Record<AlternativeMethod, string> = {
  'cotton-rolls': 'Cotton rolls',
  'absorbent-triangles': 'Absorbent triangles',
  'suction-isolator': 'Suction isolator',
  'retraction-cord': 'Retraction cord',
  'gingival-barrier': 'Barrier on the gum',
  'throat-screen': 'Throat screen',
}
const REASONS = [
  'the patient does not bear a sheet',
  'no tooth can hold the sheet',
  'the nose does not let air through',
  'the patient declines a sheet',
  'the work is too short for a sheet',
] as const

/** Another way than a dam, never without its reason. */
function OtherWay({ seen, performing }: Part) {
  const [method, setMethod] = useState<AlternativeMethod | null>(null)
  const [reason, setReason] = useState('')
  const { appointment, choice } = seen.facts
  const stands = choice?.alternative ?? null
  if (stands) {
    return (
      <div className={styles.act}>
        <h3>Another way than a dam</h3>
        <p>
          {METHOD_WORDS[stands.method]}, because {stands.reason}. Chosen by {seen.nameOf(stands.by)}.
        </p>
        <ActButton
          kind="isolation.choose"
          input={{ appointmentId: appointment.id, alternative: null }}
          performing={performing}
          done="A dam is planned again."
        >
          A dam after all
        </ActButton>
      </div>
    )
  }
  return (
    <div className={styles.act}>
      <h3>Another way than a dam</h3>
      <div className={styles.choices}>
        {ALTERNATIVE_METHODS.map((each) => (
          <Button key={each} aria-pressed={method === each} onPress={() => setMethod(each)}>
            {METHOD_WORDS[each]}
          </Button>
        ))}
      </div>
      {method === null ? null : (
        <>
          <Pick
            label="Because"
            value={REASONS.find((each) => each === reason) ?? ''}
            options={[
              { value: '', label: 'choose, or write below' },
              ...REASONS.map((each) => ({ value: each, label: each })),
            ]}
            onPick={setReason}
          />
          <Field label="In your own words" value={reason} onChange={setReason} />
          <ActButton
            kind="isolation.choose"
            input={{ appointmentId: appointment.id, alternative: { method, reason } }}
            performing={performing}
            isDisabled={reason.trim() === ''}
            done="Another way is chosen, with its reason."
            onDone={() => setMethod(null)}
          >
            {METHOD_WORDS[method]} instead of a dam
            <small>{reason.trim() === '' ? 'the reason first' : 'the reason is kept'}</small>
          </ActButton>
        </>
      )}
    </div>
  )
}
