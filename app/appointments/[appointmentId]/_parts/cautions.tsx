import type { Seen } from '#app/_live/seen.ts'
import { Card } from '#app/_ui/card.tsx'
import { Why } from '#app/_ui/why.tsx'
import { CAUTIONS } from '#shared/isolation/cautions.ts'
import { sayAssumption, sayCaution } from '#shared/words/en/plan.ts'
import styles from './plan.module.css'

/** What the chair is reminded of, and what was taken as true without being told. */
export function Cautions({ seen }: { seen: Seen }) {
  const { cautions = [], assumed = [] } = seen.isolation ?? {}
  if (cautions.length + assumed.length === 0) return null
  return (
    <Card title="Cautions" tone="plain">
      <ul className={styles.cautions}>
        {cautions.map((caution) => (
          <li key={caution}>
            {sayCaution(caution)}
            <Why rule={caution} source={CAUTIONS[caution]} />
          </li>
        ))}
        {assumed.map((assumption) => (
          <li key={sayAssumption(assumption)} className={styles.aside}>
            {sayAssumption(assumption)}
          </li>
        ))}
      </ul>
    </Card>
  )
}
