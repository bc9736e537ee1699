'use client'
import { useMemo, useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { SheetDrawing } from '#app/_marks/sheet-drawing.tsx'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card, Row, Rows } from '#app/_ui/card.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { Why } from '#app/_ui/why.tsx'
import { FIELD_POLICY_IDS, type FieldPolicyId } from '#shared/isolation/isolation-facts.ts'
import { planUnder } from '#shared/isolation/plan-for.ts'
import type { IsolationPlan, PlannedSheet } from '#shared/isolation/plan-types.ts'
import { FIELD_POLICIES } from '#shared/isolation/policy.ts'
import { FIELD_POLICY_NAMES } from '#shared/isolation/policy-names.ts'
import { can } from '#shared/people/role.ts'
import { hasReached } from '#shared/schedule/appointment.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { sayClamp } from '#shared/words/en/plan.ts'
import { say } from '#shared/words/en.ts'
import styles from './choices.module.css'
import planStyles from './plan.module.css'
import { bySize, sourceOf } from './sheet-words.ts'

/** What stands and another published field on the same mouth, side by side; the dentist chooses one. */
export function TwoPolicies({ seen }: { seen: Seen }) {
  const { world } = useWorld()
  const performing = usePerform()
  const [other, setOther] = useState<FieldPolicyId | null>(null)
  const { appointment, choice, plan } = seen.facts
  const laid = useMemo(
    () => (other === null ? null : planUnder(world, appointment.id, other)),
    [world, appointment.id, other],
  )
  const stands = seen.isolation
  const isPast = hasReached(seen.readiness.line.stage, 'clamped')
  if (!stands || stands.sheets.length === 0 || isPast || !can(seen.member.roles, 'plan:choose')) return null
  const chosen = choice?.policy ?? null
  return (
    <Card title="Another field policy" tone="plain">
      <div className={styles.asked}>
        <Pick
          label="Lay beside the plan"
          value={other ?? ''}
          options={[
            { value: '', label: 'choose a policy' },
            ...FIELD_POLICY_IDS.map((id) => ({ value: id, label: FIELD_POLICY_NAMES[id] })),
          ]}
          onPick={(value) => setOther(value === '' ? null : value)}
        />
        {chosen === null ? null : (
          <ActButton
            kind="isolation.choose"
            input={{ appointmentId: appointment.id, policy: null }}
            performing={performing}
            done="The clinic’s own choice stands again."
          >
            Back to the clinic’s own
          </ActButton>
        )}
      </div>
      {laid === null || other === null ? null : (
        <div className={styles.beside}>
          <Field title={`Plan ${plan?.number ?? ''}, as it stands`} plan={stands} seen={seen} />
          <Field title={`“${FIELD_POLICY_NAMES[other]}”`} plan={laid} seen={seen}>
            <ActButton
              kind="isolation.choose"
              input={{ appointmentId: appointment.id, policy: other }}
              performing={performing}
              tone="ink"
              done="The policy is chosen; the plan is made anew."
              onDone={() => setOther(null)}
            >
              Choose this
              <small>a new plan; a word already given on the old one lapses</small>
            </ActButton>
          </Field>
        </div>
      )}
      <OutcomeBox outcome={performing.outcome} />
    </Card>
  )
}

interface FieldProps {
  title: string
  plan: IsolationPlan
  seen: Seen
  children?: React.ReactNode
}

function Field({ title, plan, seen, children }: FieldProps) {
  const asked = plan.findings.filter(({ level }) => level !== 'note')
  return (
    <section className={styles.one} aria-label={title}>
      <h3 className={styles.title}>{title}</h3>
      {plan.sheets.map((sheet) => (
        <OneSheet key={sheet.field.join()} sheet={sheet} seen={seen} />
      ))}
      <p className={planStyles.aside}>
        {asked.length === 0 ? 'No question.' : asked.map((finding) => say(finding)).join(' ')}
      </p>
      {children}
    </section>
  )
}

function OneSheet({ sheet, seen }: { sheet: PlannedSheet; seen: Seen }) {
  const said = (teeth: readonly Tooth[]) => teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ')
  return (
    <>
      <SheetDrawing sheet={sheet} view="facing" notation={seen.notation} />
      <Rows>
        <Row term="Exposed">
          {said(sheet.field)} · {sheet.holes.length === 1 ? 'one hole' : `${sheet.holes.length} holes`}
          <Why rule={FIELD_POLICY_NAMES[sheet.policy]} source={sourceOf(FIELD_POLICIES[sheet.policy])} />
        </Row>
        <Row term="Clamped">
          {sheet.clamps.length === 0
            ? 'no clamp'
            : sheet.clamps.map(({ tooth, family }) => `${said([tooth])}, ${sayClamp(family)}`).join(' · ')}
        </Row>
        <Row term="Holes">
          {bySize(sheet)
            .map(([size, teeth]) => `${said(teeth)} size ${size}`)
            .join(' · ')}
        </Row>
        <Row term="Sheet">
          {sheet.widthMm} × {sheet.heightMm} mm, {sheet.grade}
        </Row>
      </Rows>
    </>
  )
}
