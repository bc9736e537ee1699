'use client'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { AllergyForm, LatexAnswers, OtherAnswers } from '#app/_ui/allergy-form.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { can } from '#shared/people/role.ts'
import { ClearAllergy, ReactionSeen } from './allergy-acts.tsx'
import styles from './plan.module.css'

/** What is still to be asked stands open; what has been answered can be asked again, and an allergy listed, below. */
export function AskAllergies({ seen }: { seen: Seen }) {
  const performing = usePerform()
  const record = seen.facts.allergies
  const { patientId } = seen.facts.appointment
  if (!can(seen.member.roles, 'patient:allergies')) return null
  const latexOpen = record === null || record.latex === 'not-asked' || record.latex === 'asked-unknown'
  const othersOpen = record === null || record.asked === null
  return (
    <>
      {latexOpen ? <LatexAnswers patientId={patientId} performing={performing} /> : null}
      {othersOpen ? <OtherAnswers patientId={patientId} performing={performing} /> : null}
      <details>
        <summary className={styles.more}>List an allergy, or ask again</summary>
        <div className={styles.act}>
          <AllergyForm patientId={patientId} performing={performing} />
          {latexOpen ? null : <LatexAnswers patientId={patientId} performing={performing} />}
          {othersOpen ? null : <OtherAnswers patientId={patientId} performing={performing} />}
        </div>
      </details>
      <ReactionSeen seen={seen} performing={performing} />
      <ClearAllergy seen={seen} performing={performing} />
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}
