import type { Seen } from '#app/_live/seen.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import type { PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { placeKey } from '#shared/anaesthesia/left-to-give.ts'
import { can } from '#shared/people/role.ts'
import type { ActProps } from './act-props.ts'
import { isSameDose, leftOf } from './dose-draft.ts'
import styles from './plan.module.css'
import { amountWords, doseWords } from './solutions.ts'

interface PlannedDosesProps extends ActProps {
  chosen: PlannedDose | null
  onChoose: (dose: PlannedDose) => void
}

/** Every injection of the plan: what is left of it is drawn up by one touch. */
export function PlannedDoses({ seen, performing, chosen, onChoose }: PlannedDosesProps) {
  const planned = seen.facts.anaesthetic?.planned ?? []
  if (planned.length === 0) return null
  const left = leftOf(seen)
  const mayChange = planned.length > 1 && can(seen.member.roles, 'plan:choose')
  return (
    <ul className={styles.findings} aria-label="Planned injections">
      {planned.map((dose, index) => {
        const words = doseWords(dose, seen.notation)
        const open = left.find((each) => placeKey(each) === placeKey(dose))
        return (
          <li key={`${placeKey(dose)} ${index}`} className={styles.lineOfWork}>
            <span>
              {words} <small className={styles.aside}>{open ? amountWords(open) : 'given'}</small>
            </span>
            <div className={styles.choices}>
              {open ? (
                <Button
                  aria-pressed={chosen !== null && isSameDose(chosen, open)}
                  aria-label={`Draw up: ${words}`}
                  onPress={() => onChoose(open)}
                >
                  Draw up
                </Button>
              ) : null}
              {mayChange ? (
                <ActButton
                  kind="anaesthetic.plan"
                  input={planWith(
                    seen,
                    planned.filter((_, at) => at !== index),
                  )}
                  performing={performing}
                  done="It is out of the plan; the rest is checked against its profile."
                  aria-label={`Take out of the plan: ${words}`}
                >
                  Take out
                </ActButton>
              ) : null}
            </div>
          </li>
        )
      })}
    </ul>
  )
}

/** The whole plan of injections, as it is to be checked. */
export const planWith = ({ facts }: Seen, planned: PlannedDose[]) => ({
  appointmentId: facts.appointment.id,
  planned,
  profile: facts.anaesthetic?.profile ?? null,
})
