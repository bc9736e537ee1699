'use client'
import Link from 'next/link'
import { useMemo } from 'react'
import { AppointmentHolder, type AppointmentHolderProps } from '#app/_live/appointment-holder.tsx'
import { type Seen, seeAppointment } from '#app/_live/seen.ts'
import { useJudgingMoment } from '#app/_live/use-moment.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { MouthPart } from '#app/_marks/mouth-chart-part.tsx'
import { placingWords } from '#app/_marks/placing-words.ts'
import { Card } from '#app/_ui/card.tsx'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import { bornWords, dateWords, timeOf } from '#app/_ui/time-words.ts'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import { ageInYears } from '#shared/base/moment.ts'
import type { PastPlacing } from '#shared/isolation/past.ts'
import { can } from '#shared/people/role.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import styles from './patient.module.css'

export interface PatientScreenProps extends AppointmentHolderProps {
  past: readonly PastPlacing[]
  /** Newest first. */
  visits: readonly Appointment[]
}

/** A patient's mouth as it is known here, and the sheets it has worn. */
export function PatientScreen(props: PatientScreenProps) {
  return (
    <AppointmentHolder {...props}>
      <PatientPage {...props} />
    </AppointmentHolder>
  )
}

const GONE = {
  what: 'This patient is not here.',
  why: 'The visit may have been given to another patient.',
  todo: 'Go back to the board and open the appointment from there.',
}

function PatientPage({ appointmentId, member, past, visits }: PatientScreenProps) {
  const { world } = useWorld()
  const now = useJudgingMoment()
  const seen = useMemo(
    () => seeAppointment(world, { appointmentId, member, now }),
    [world, appointmentId, member, now],
  )
  const patient = seen?.facts.patient
  if (!seen || !patient) return <TroubleBox trouble={GONE} />
  return (
    <article className={styles.page}>
      <h1 className={styles.who}>
        {patient.given} {patient.family}, {bornWords(patient.born)}
      </h1>
      <Card title="Mouth" tone="plain">
        <MouthPart
          appointmentId={appointmentId}
          chart={seen.facts.chart}
          ageYears={ageInYears(patient.born, seen.facts.appointment.day)}
          worked={workedTeeth(seen.facts)}
          relied={seen.isolation?.sheets.flatMap(({ field }) => field) ?? []}
          notation={seen.notation}
          zone={seen.zone}
          mayChart={can(member.roles, 'patient:chart')}
          nameOf={seen.nameOf}
        />
      </Card>
      <Worn past={past} seen={seen} />
      <Visits visits={visits} />
      <CautionLine />
    </article>
  )
}

function Worn({ past, seen }: { past: readonly PastPlacing[]; seen: Seen }) {
  return (
    <Card title="Sheets worn here" tone="plain">
      {past.length === 0 ? <p>None is recorded.</p> : null}
      <ul className={styles.list}>
        {past.map((each) => (
          <li key={each.id}>
            {placingWords(each, seen.notation)}
            <small> recorded by {seen.nameOf(each.by)}</small>
          </li>
        ))}
      </ul>
    </Card>
  )
}

function Visits({ visits }: Pick<PatientScreenProps, 'visits'>) {
  return (
    <Card title="Visits" tone="plain">
      <ul className={styles.list}>
        {visits.map(({ id, day, start, zone, status }) => (
          <li key={id}>
            <Link href={`/appointments/${id}`} className={styles.visit} prefetch={false}>
              {dateWords(day)}, {timeOf(start, zone)}
            </Link>
            <small> {status}</small>
          </li>
        ))}
      </ul>
    </Card>
  )
}
