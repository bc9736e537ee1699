'use client'
import { type FormEvent, useState } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field, FieldGroup } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { type Day, parseClockTime, parseDay } from '#shared/base/moment.ts'
import type { MemberId, OperatoryId } from '#shared/ids.ts'
import type { JudgedBoard } from '#shared/readiness/board-types.ts'
import styles from './day.module.css'
import { type Known, KnownPatient } from './known-patient.tsx'
import { NOBODY, operatoryOptions, treaterOptions } from './options.ts'

/** One appointment by hand. */
export function BookForm({ of, board }: { of: DayOf; board: JudgedBoard }) {
  const [open, setOpen] = useState(false)
  return open ? (
    <Booking of={of} board={board} onClose={() => setOpen(false)} />
  ) : (
    <Button size="main" onPress={() => setOpen(true)}>
      Add an appointment
    </Button>
  )
}

const LENGTHS = ['15', '20', '30', '45', '60', '75', '90', '120'] as const
const YES_NO = [
  { value: 'no', label: 'no, as booked' },
  { value: 'yes', label: 'yes, an emergency: the team accepts it first' },
] as const

function Booking({ of, board, onClose }: { of: DayOf; board: JudgedBoard; onClose: () => void }) {
  const performing = usePerform()
  const [known, setKnown] = useState<Known | null>(null)
  const [minutes, setMinutes] = useState<(typeof LENGTHS)[number]>('45')
  const [operatory, setOperatory] = useState<OperatoryId | typeof NOBODY>(NOBODY)
  const [dentist, setDentist] = useState<MemberId | typeof NOBODY>(NOBODY)
  const [emergency, setEmergency] = useState<'yes' | 'no'>('no')
  const [wrong, setWrong] = useState<{ startsAt: string | null; born: string | null }>({
    startsAt: null,
    born: null,
  })

  const book = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const text = textsOf(event.currentTarget)
    const startsAt = parseClockTime(text('startsAt'))
    const born = text('born') === '' ? null : parseDay(text('born'))
    const noBorn = text('born') !== '' && born === null
    setWrong({
      startsAt: startsAt === null ? 'Enter a time such as 09:40.' : null,
      born: noBorn ? 'Enter a date such as 1997-02-12, or leave it empty.' : null,
    })
    if (startsAt === null || noBorn) return
    const came = await performing.perform(
      'appointment.book',
      {
        siteId: of.site.id,
        day: of.day,
        startsAt,
        minutes: Number(minutes),
        operatoryId: operatory === NOBODY ? null : operatory,
        dentistId: dentist === NOBODY ? null : dentist,
        studentId: null,
        patient: known ? { kind: 'known', id: known.id } : newPatient(text, born),
        work: text('work').split('\n').filter(Boolean),
        note: '',
        emergency: emergency === 'yes',
      },
      'The appointment is added.',
    )
    if (came?.kind === 'done' && came.findings.length === 0) onClose()
  }
  return (
    <form className={styles.form} onSubmit={book}>
      <FieldGroup title="Who has been here before">
        <KnownPatient chosen={known} onChosen={setKnown} />
      </FieldGroup>
      {known ? null : <NewPatientFields born={wrong.born} />}
      <FieldGroup title="When and where">
        <Field label="Starts at" name="startsAt" wrong={wrong.startsAt} isRequired />
        <Pick
          label="Minutes"
          value={minutes}
          options={LENGTHS.map((value) => ({ value, label: value }))}
          onPick={setMinutes}
        />
        <Pick label="Operatory" value={operatory} options={operatoryOptions(board)} onPick={setOperatory} />
        <Pick label="Dentist" value={dentist} options={treaterOptions(of)} onPick={setDentist} />
        <Pick label="Squeezed in" value={emergency} options={YES_NO} onPick={setEmergency} />
      </FieldGroup>
      <FieldGroup title="What for">
        <Field
          label="In the words of the booking"
          name="work"
          hint="For instance comp 46 MO. What cannot be read is asked, never guessed."
        />
      </FieldGroup>
      <OutcomeBox outcome={performing.outcome} />
      <div className={styles.acts}>
        <Button type="submit" size="main" tone="ink">
          Add
        </Button>
        <Button onPress={onClose}>Close</Button>
      </div>
    </form>
  )
}

function NewPatientFields({ born }: { born: string | null }) {
  return (
    <FieldGroup title="Or who is new here">
      <Field label="Given name" name="given" isRequired />
      <Field label="Family name" name="family" isRequired />
      <Field label="Birth date" name="born" hint="Year-month-day. Empty if not known." wrong={born} />
      <Field label="Who comes with them" name="guardian" hint="For instance mother. Empty if nobody need." />
      <Field label="Interpreter for" name="interpreter" hint="The language. Empty if none is needed." />
    </FieldGroup>
  )
}

type Text = (name: string) => string

const newPatient = (text: Text, born: Day | null) =>
  ({
    kind: 'new',
    given: text('given'),
    family: text('family'),
    born,
    guardian: text('guardian') || null,
    interpreter: text('interpreter') || null,
  }) as const

const textsOf = (form: HTMLFormElement): Text => {
  const data = new FormData(form)
  return (name) => {
    const value = data.get(name)
    return typeof value === 'string' ? value.trim() : ''
  }
}
