import type { DayOf } from '#app/_live/day-of.ts'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import type { JudgedLine } from '#shared/readiness/board-types.ts'
import { isToBeTold } from '#shared/schedule/former-dentist.ts'
import styles from './day.module.css'
import type { DayLine } from './day-row.tsx'

export interface CallsProps {
  lines: readonly DayLine[]
  of: DayOf
  performing: Performing
}

/** Patients whom another dentist treats than they expect: each to be told by a courtesy call, and ticked when told. */
export function Calls({ lines, of, performing }: CallsProps) {
  const told = lines.map(({ line }) => line).filter(isToBeTold)
  if (told.length === 0) return null
  const left = told.filter(({ formerDentist }) => formerDentist?.called === null).length
  return (
    <Card title={left === 0 ? 'Courtesy calls: all made' : `Courtesy calls to make: ${left}`}>
      <p className={styles.small}>Another dentist treats them than they expect. Tell them who, not why.</p>
      <ul>
        {told.map((line) => (
          <Call key={line.appointmentId} line={line} of={of} performing={performing} />
        ))}
      </ul>
    </Card>
  )
}

function Call({ line, of, performing }: { line: JudgedLine } & Omit<CallsProps, 'lines'>) {
  const { appointmentId, patient, formerDentist, dentistId } = line
  if (formerDentist === null || dentistId === null) return null
  const { called, memberId } = formerDentist
  const name = patient?.name ?? 'Patient not known here'
  const someone = 'somebody who has left'
  return (
    <li className={styles.call}>
      <span>
        <strong>
          {timeOf(line.start, of.site.zone)} {name}
        </strong>
        : {of.names[dentistId] ?? someone} instead of {of.names[memberId] ?? someone}
      </span>
      {called ? (
        <span className={styles.small}>
          ✓ told {timeOf(called.at, of.site.zone)} by {of.names[called.by] ?? someone}
        </span>
      ) : (
        <ActButton
          kind="patient.called"
          input={{ appointmentId, saw: dentistId }}
          performing={performing}
          done={`${name} is told.`}
          aria-label={`Told: ${name}`}
        >
          Told
        </ActButton>
      )}
    </li>
  )
}
