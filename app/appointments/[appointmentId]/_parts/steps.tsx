import type { Seen } from '#app/_live/seen.ts'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { Why } from '#app/_ui/why.tsx'
import type { PlannedSheet } from '#shared/isolation/plan-types.ts'
import { listPlacement, listRemoval, STEPS, type Step, stepsFor } from '#shared/isolation/steps.ts'
import { sayStep } from '#shared/words/en/plan.ts'
import styles from './plan.module.css'

/** The order of placing one sheet and of taking it off. */
export function Steps({ seen, sheet }: { seen: Seen; sheet: PlannedSheet }) {
  if (!seen.isolation) return null
  const plan = stepsFor(seen.isolation, sheet)
  return (
    <>
      <StepList title="Placing" seen={seen} steps={listPlacement(plan)} />
      <StepList title="Taking off" seen={seen} steps={listRemoval(plan)} />
    </>
  )
}

function StepList({ title, steps, seen }: { title: string; steps: readonly Step[]; seen: Seen }) {
  return (
    <details>
      <summary className={styles.more}>
        {title}, {steps.length} steps
      </summary>
      <ol className={styles.steps}>
        {steps.map((step) => (
          <li key={step.name}>
            {sayStep(step, (tooth) => toothIn(tooth, seen.notation))}
            <Why rule={step.name} source={STEPS[step.name]} />
          </li>
        ))}
      </ol>
    </details>
  )
}
