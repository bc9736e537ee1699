'use client'
import Link from 'next/link'
import type { Seen } from '#app/_live/seen.ts'
import { MouthPart } from '#app/_marks/mouth-chart-part.tsx'
import { Card } from '#app/_ui/card.tsx'
import { ageInYears } from '#shared/base/moment.ts'
import { can } from '#shared/people/role.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import styles from './plan.module.css'

/** The patient's mouth, open where the plan counts on teeth that nobody has looked at. */
export function Mouth({ seen }: { seen: Seen }) {
  const { appointment, patient, chart } = seen.facts
  if (patient === null) return null
  const relied = seen.isolation?.sheets.flatMap(({ field }) => field) ?? []
  const unseen = uncharted(seen, relied)
  return (
    <Card title="Mouth" tone="plain">
      <details open={unseen.length > 0}>
        <summary className={styles.more}>
          {unseen.length > 0
            ? `The plan counts on teeth nobody has charted: ${unseen.join(' ')}`
            : 'Look at the mouth, or chart it'}
        </summary>
        <MouthPart
          appointmentId={appointment.id}
          chart={chart}
          ageYears={ageInYears(patient.born, appointment.day)}
          worked={workedTeeth(seen.facts)}
          relied={relied}
          notation={seen.notation}
          zone={seen.zone}
          mayChart={can(seen.member.roles, 'patient:chart')}
          nameOf={seen.nameOf}
        />
        <Link href={`/patients/${patient.id}`} className={styles.more} prefetch={false}>
          All we hold of this patient’s mouth
        </Link>
      </details>
    </Card>
  )
}

/** Teeth the plan counts on that nobody has looked at, the booked one among them. */
const uncharted = ({ facts: { chart } }: Seen, relied: readonly Tooth[]): Tooth[] =>
  chart?.charted ? [] : relied.filter((tooth) => chart?.teeth[tooth] === undefined)
