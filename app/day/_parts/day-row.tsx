'use client'
import Link from 'next/link'
import { useState } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import { startsIn } from '#app/_live/shown.ts'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { Mark } from '#app/_ui/mark.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import { workWords } from '#app/_ui/work-words.ts'
import { addMinutes, type Instant, type Minutes, type Zone } from '#shared/base/moment.ts'
import { can } from '#shared/people/role.ts'
import type { JudgedBoard, JudgedLine } from '#shared/readiness/board-types.ts'
import { STAGE_WORDS } from '#shared/words/en/states.ts'
import { ChangeForm } from './change-form.tsx'
import styles from './day.module.css'
import { DeskTask } from './desk-task.tsx'
import { HealthForm } from './health-form.tsx'

export interface DayLine {
  line: JudgedLine
  operatory: string | null
}

export interface DayRowProps extends DayLine {
  of: DayOf
  board: JudgedBoard
  now: Instant
  performing: Performing
  mayChange: boolean
  /** Whether appointments open their plan page from here. */
  linked: boolean
}

export function DayRow({ line, operatory, of, board, now, performing, mayChange, linked }: DayRowProps) {
  const zone = of.site.zone
  const calls = line.state === 'ask' || line.state === 'hold'
  return (
    <li className={styles.row} data-state={line.state}>
      <p className={styles.time}>
        {timeOf(line.start, zone)}
        {line.expectedStart !== line.start ? (
          <span className={styles.small}>exp. {timeOf(line.expectedStart, zone)}</span>
        ) : null}
      </p>
      <div>
        <p className={styles.who}>
          <PlanLink line={line} linked={linked} />
          {line.patient?.age == null ? '' : `, ${line.patient.age}`}
          {line.nameAlert ? ' · name alert' : ''}
        </p>
        <p className={styles.small}>
          {[
            operatoryWords(operatory),
            line.dentistId ? of.names[line.dentistId] : 'no dentist yet',
            line.work.map(workWords).join(', '),
          ].join(' · ')}
        </p>
      </div>
      <div className={styles.stands}>
        <strong>{stageWords(line, zone)}</strong> {calls ? <Mark of={line.state} gate={line.gate} /> : null}
        <p className={calls ? '' : styles.small}>{line.says || lateWords(line, now)}</p>
      </div>
      {mayChange ? <RowActs line={line} of={of} board={board} now={now} performing={performing} /> : null}
    </li>
  )
}

function PlanLink({ line, linked }: Pick<DayRowProps, 'line' | 'linked'>) {
  const name = line.patient?.name ?? 'Patient not known here'
  if (!linked) return name
  return (
    <Link href={`/appointments/${line.appointmentId}`} prefetch={false}>
      {name}
    </Link>
  )
}

/** Where the patient is, and since when. */
const stageWords = (line: JudgedLine, zone: Zone): string =>
  line.stage === 'expected'
    ? STAGE_WORDS.expected
    : `${STAGE_WORDS[line.stage]} ${timeOf(line.stageSince, zone)}`

function lateWords(line: JudgedLine, now: Instant): string {
  const start = startsIn(line, now)
  return line.stage === 'expected' && start.kind === 'late'
    ? `${start.minutes} min past the booked start`
    : ''
}

type RowActsProps = Pick<DayRowProps, 'line' | 'of' | 'board' | 'now' | 'performing'>

/** Patients booked this soon are looked for at the door. */
const SOON: Minutes = 30

function RowActs({ line, of, board, now, performing }: RowActsProps) {
  const [open, setOpen] = useState(false)
  const close = () => setOpen(false)
  const inChair = line.stage !== 'expected' && line.stage !== 'arrived'
  const isSoon = line.start <= addMinutes(now, SOON)
  if (inChair) return <span />
  return (
    <div className={styles.acts}>
      {line.stage === 'expected' ? (
        <ActButton
          kind="appointment.arrive"
          input={{ appointmentId: line.appointmentId }}
          performing={performing}
          size="main"
          tone={isSoon ? 'ink' : 'plain'}
          done={`${line.patient?.name ?? 'The patient'} has arrived.`}
        >
          Arrived
        </ActButton>
      ) : null}
      <DeskTask line={line} />
      <Button onPress={() => setOpen(true)}>Change</Button>
      {can(of.member.roles, 'patient:allergies') ? <HealthForm line={line} /> : null}
      <Dialog
        title={`${line.patient?.name ?? 'Appointment'}, ${timeOf(line.start, of.site.zone)}`}
        isOpen={open}
        onClose={close}
      >
        <ChangeForm line={line} of={of} board={board} performing={performing} onDone={close} />
      </Dialog>
    </div>
  )
}
