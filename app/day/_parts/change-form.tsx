'use client'
import { type FormEvent, useState } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field, FieldGroup } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import { parseClockTime } from '#shared/base/moment.ts'
import type { MemberId, OperatoryId } from '#shared/ids.ts'
import type { JudgedBoard, JudgedLine } from '#shared/readiness/board-types.ts'
import styles from './day.module.css'
import { NOBODY, operatoryOptions, treaterOptions } from './options.ts'

export interface ChangeFormProps {
  line: JudgedLine
  of: DayOf
  board: JudgedBoard
  performing: Performing
  onDone: () => void
}

const REASONS = ['Patient asked', 'Clinic asked', 'Patient unwell', 'Booked twice']

/** Another time, operatory or dentist; or the end of it, with a reason. The tray stays with the appointment. */
export function ChangeForm({ line, of, board, performing, onDone }: ChangeFormProps) {
  const [time, setTime] = useState(timeOf(line.start, of.site.zone))
  const [operatory, setOperatory] = useState<OperatoryId | typeof NOBODY>(line.operatoryId ?? NOBODY)
  const [dentist, setDentist] = useState<MemberId | typeof NOBODY>(line.dentistId ?? NOBODY)
  const startsAt = parseClockTime(time)
  const { appointmentId } = line
  const change = async (event: FormEvent) => {
    event.preventDefault()
    if (startsAt === null) return
    const came = await performing.perform(
      'appointment.change',
      {
        appointmentId,
        startsAt,
        operatoryId: operatory === NOBODY ? null : operatory,
        dentistId: dentist === NOBODY ? null : dentist,
      },
      'The appointment is changed.',
    )
    if (came?.kind === 'done') onDone()
  }
  return (
    <>
      <Button autoFocus onPress={onDone}>
        Leave it as it is
      </Button>
      <form className={styles.form} onSubmit={change}>
        <FieldGroup title="Change">
          <Field
            label="Starts at"
            value={time}
            onChange={setTime}
            wrong={startsAt === null ? 'Enter a time such as 09:40.' : null}
          />
          <Pick label="Operatory" value={operatory} options={operatoryOptions(board)} onPick={setOperatory} />
          <Pick label="Dentist" value={dentist} options={treaterOptions(of)} onPick={setDentist} />
        </FieldGroup>
        <Button type="submit" size="main" tone="ink">
          Change
        </Button>
      </form>
      <OutcomeBox outcome={performing.outcome} />
      <FieldGroup title="Or end it">
        {line.stage === 'expected' ? (
          <ActButton
            kind="appointment.no-show"
            input={{ appointmentId }}
            performing={performing}
            done="Kept as not come."
            onDone={onDone}
          >
            Did not come
          </ActButton>
        ) : null}
        {REASONS.map((reason) => (
          <ActButton
            key={reason}
            kind="appointment.cancel"
            input={{ appointmentId, reason }}
            performing={performing}
            done="Cancelled."
            onDone={onDone}
          >
            Cancel: {reason.toLowerCase()}
          </ActButton>
        ))}
        <ActButton
          kind="appointment.keep"
          input={{ appointmentId }}
          performing={performing}
          done="Kept."
          onDone={onDone}
        >
          Keep it, though the list no longer shows it
        </ActButton>
      </FieldGroup>
    </>
  )
}
