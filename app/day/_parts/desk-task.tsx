'use client'
import { useState } from 'react'
import { server } from '#app/_live/server.ts'
import { type Trouble, troubleOf } from '#app/_live/trouble.ts'
import { type InputOf, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { PatientId } from '#shared/ids.ts'
import { readBirthDay } from '#shared/people/decoys.ts'
import type { JudgedLine } from '#shared/readiness/board-types.ts'
import type { DeskTask as DeskTaskName } from '#shared/readiness/desk-task.ts'
import styles from './day.module.css'

const TASK_WORDS: Record<DeskTaskName, string> = {
  guardian: 'Who came with them',
  interpreter: 'Interpreter here?',
  'book-interpreter': 'Interpreter booked',
  'birth-day': 'Birth date',
}

/** The one thing the desk records itself before this patient can be seated; nothing where nothing is. */
export function DeskTask({ line }: { line: JudgedLine }) {
  const [open, setOpen] = useState(false)
  const close = () => setOpen(false)
  if (line.task === null) return null
  const name = line.patient?.name ?? 'the patient'
  return (
    <>
      <Button tone="ink" onPress={() => setOpen(true)} aria-label={`${TASK_WORDS[line.task]}: ${name}`}>
        {TASK_WORDS[line.task]}
      </Button>
      <Dialog title={`${name}: ${line.says}`} isOpen={open} onClose={close}>
        <Button autoFocus onPress={close}>
          Close
        </Button>
        <Task task={line.task} appointmentId={line.appointmentId} onDone={close} />
      </Dialog>
    </>
  )
}

interface TaskProps {
  appointmentId: JudgedLine['appointmentId']
  onDone: () => void
}

function Task({ task, ...rest }: TaskProps & { task: DeskTaskName }) {
  switch (task) {
    case 'book-interpreter':
      return <BookInterpreter {...rest} />
    case 'birth-day':
      return <BirthDay {...rest} />
    default:
      return <Companion task={task} {...rest} />
  }
}

function BirthDay({ appointmentId, onDone }: TaskProps) {
  const performing = usePerform()
  const [text, setText] = useState('')
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const born = readBirthDay(text)
  const record = async () => {
    const found = await patientOf(appointmentId)
    if (typeof found !== 'string') return setTrouble(found)
    const came = await performing.perform('patient.change', { patientId: found, born }, 'Recorded.')
    if (came?.kind === 'done') onDone()
  }
  return (
    <div className={styles.written}>
      {trouble ? <TroubleBox trouble={trouble} /> : null}
      <Field
        label="Birth date, as the patient says it"
        hint="12.2.1997 or 1997-02-12"
        value={text}
        onChange={setText}
        wrong={text === '' || born !== null ? null : 'This is no day: day, month, year.'}
        autoComplete="off"
      />
      <Button size="main" tone="ink" isDisabled={performing.busy || born === null} onPress={record}>
        Record it
      </Button>
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

function BookInterpreter({ appointmentId, onDone }: TaskProps) {
  const performing = usePerform()
  const [who, setWho] = useState('')
  return (
    <div className={styles.written}>
      <Field label="Who will interpret" hint="A name, a service, a number." value={who} onChange={setWho} />
      <ActButton
        kind="interpreter.book"
        input={{ appointmentId, who: who.trim() }}
        performing={performing}
        size="main"
        tone="ink"
        isDisabled={who.trim() === ''}
        done="The interpreter is booked."
        onDone={onDone}
      >
        Booked
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

type Came = InputOf<'companion.record'>['companion']

/** Who came, or who interprets. The patient is asked for only now: the desk's list holds no patient ids. */
function Companion({ appointmentId, task, onDone }: TaskProps & { task: 'guardian' | 'interpreter' }) {
  const performing = usePerform()
  const [words, setWords] = useState('')
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const said = words.trim()
  const record = async (companion: Came) => {
    const found = await patientOf(appointmentId)
    if (typeof found !== 'string') return setTrouble(found)
    const came = await performing.perform('companion.record', { patientId: found, companion }, 'Recorded.')
    if (came?.kind === 'done') onDone()
  }
  return (
    <div className={styles.written}>
      {trouble ? <TroubleBox trouble={trouble} /> : null}
      {task === 'guardian' ? (
        <>
          <Button
            size="main"
            tone="ink"
            isDisabled={performing.busy}
            onPress={() => record({ kind: 'guardian' })}
          >
            As expected: they are here
          </Button>
          <Field label="Or somebody else" hint="For instance aunt." value={words} onChange={setWords} />
          <Button
            isDisabled={performing.busy || said === ''}
            onPress={() => record({ kind: 'guardian', relation: said })}
          >
            They came instead
          </Button>
        </>
      ) : (
        <>
          <Button
            size="main"
            tone="ink"
            isDisabled={performing.busy}
            onPress={() => record({ kind: 'interpreter', who: 'professional' })}
          >
            A professional is here
          </Button>
          <Button
            size="main"
            isDisabled={performing.busy}
            onPress={() => record({ kind: 'interpreter', who: 'staff' })}
          >
            One of our own people interprets
          </Button>
          <Field label="A relative interprets, because" value={words} onChange={setWords} />
          <Button
            isDisabled={performing.busy || said === ''}
            onPress={() => record({ kind: 'interpreter', who: 'relative', reason: said })}
          >
            A relative interprets
          </Button>
        </>
      )}
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

const GONE: Trouble = {
  what: 'This appointment is not here.',
  why: 'Nothing can be recorded for nobody.',
  todo: 'Look for it in the list of the day; it may have been moved or cancelled.',
}

async function patientOf(appointmentId: JudgedLine['appointmentId']): Promise<PatientId | Trouble> {
  try {
    return (await server.patients.of.query({ appointmentId })) ?? GONE
  } catch (error) {
    return troubleOf(error)
  }
}
