'use client'
import Link from 'next/link'
import { useMemo } from 'react'
import { AppointmentHolder, type AppointmentHolderProps } from '#app/_live/appointment-holder.tsx'
import { type Seen, seeAppointment } from '#app/_live/seen.ts'
import { useJudgingMoment } from '#app/_live/use-moment.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { MouthPart } from '#app/_marks/mouth-chart-part.tsx'
import { placingWords } from '#app/_marks/placing-words.ts'
import { latexWords, othersWords } from '#app/_ui/allergy-words.ts'
import { bornHere } from '#app/_ui/born-here.ts'
import { Card, Row, Rows } from '#app/_ui/card.tsx'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import { dateWords, timeOf } from '#app/_ui/time-words.ts'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import { weightWords } from '#app/_ui/weight-words.ts'
import { ageInYears, dayOf } from '#shared/base/moment.ts'
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
        {patient.given} {patient.family}, {bornHere(seen)}
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
      <Health seen={seen} />
      <Worn past={past} seen={seen} />
      <Visits visits={visits} />
      <CautionLine />
    </article>
  )
}

/** What is known of the patient's health here, as it was told. It is changed at a visit, on its plan page. */
function Health({ seen }: { seen: Seen }) {
  const { patient, allergies, appointment } = seen.facts
  const listed = (allergies?.allergies ?? []).filter(({ certainty }) => certainty !== 'refuted')
  return (
    <Card title="Health, as it was told" tone="plain">
      <Rows>
        <Row term="Latex">{latexWords(allergies, seen)}</Row>
        <Row term="Allergies">
          {othersWords(allergies, seen)}
          {listed.map(({ substance, text, certainty }) => (
            <div key={`${substance} ${text}`}>
              {text || substance}, {certainty}
            </div>
          ))}
        </Row>
        <Row term="History">
          {patient?.history.length === 0 ? 'Nothing is on record; that is not a “none”.' : null}
          {patient?.history.map(({ text, at, by }) => (
            <div key={`${at} ${text}`}>
              {text}
              <small>
                {' '}
                {dateWords(dayOf(at, seen.zone))}
                {by === null ? '' : `, ${seen.nameOf(by)}`}
              </small>
            </div>
          ))}
        </Row>
        <Row term="Weight">{weightWords(seen)}</Row>
        {patient?.guardian ? <Row term="Comes with">{patient.guardian.relation}</Row> : null}
        {patient?.interpreter ? <Row term="Interpreter">{patient.interpreter.language}</Row> : null}
      </Rows>
      <Link href={`/appointments/${appointment.id}`} className={styles.visit} prefetch={false}>
        Ask or change it at the visit
      </Link>
    </Card>
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
