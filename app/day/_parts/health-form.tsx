'use client'
import { useState } from 'react'
import { server } from '#app/_live/server.ts'
import { type Trouble, troubleOf } from '#app/_live/trouble.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { AllergyForm, LatexAnswers, OtherAnswers } from '#app/_ui/allergy-form.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { PatientId } from '#shared/ids.ts'
import type { JudgedLine } from '#shared/readiness/board-types.ts'
import styles from './day.module.css'

type Whose =
  | { kind: 'asking' }
  | { kind: 'known'; patientId: PatientId }
  | { kind: 'trouble'; trouble: Trouble }

const GONE: Trouble = {
  what: 'This appointment is not here.',
  why: 'Nothing can be recorded for nobody.',
  todo: 'Look for it in the list of the day; it may have been moved or cancelled.',
}

/** What the patient writes on the form, taken down. What was known before is not shown here. */
export function HealthForm({ line }: { line: JudgedLine }) {
  const [whose, setWhose] = useState<Whose | null>(null)
  const open = async () => {
    setWhose({ kind: 'asking' })
    setWhose(await askWhose(line.appointmentId))
  }
  const close = () => setWhose(null)
  return (
    <>
      <Button onPress={open} aria-label={`Health form of ${line.patient?.name ?? 'the patient'}`}>
        Health form
      </Button>
      <Dialog
        title={`${line.patient?.name ?? 'The patient'}: what the health form says`}
        isOpen={whose !== null}
        onClose={close}
      >
        <Button autoFocus onPress={close}>
          Close
        </Button>
        {whose?.kind === 'trouble' ? <TroubleBox trouble={whose.trouble} /> : null}
        {whose?.kind === 'known' ? <Written patientId={whose.patientId} /> : null}
      </Dialog>
    </>
  )
}

async function askWhose(appointmentId: JudgedLine['appointmentId']): Promise<Whose> {
  try {
    const patientId = await server.patients.of.query({ appointmentId })
    return patientId === null ? { kind: 'trouble', trouble: GONE } : { kind: 'known', patientId }
  } catch (error) {
    return { kind: 'trouble', trouble: troubleOf(error) }
  }
}

function Written({ patientId }: { patientId: PatientId }) {
  const performing = usePerform()
  const [taken, setTaken] = useState(0)
  const count = () => setTaken(taken + 1)
  return (
    <div className={styles.written}>
      <p className={styles.small}>
        Only what is written there. An empty line is not a “none”. What was recorded before stays.
      </p>
      <LatexAnswers patientId={patientId} performing={performing} onDone={count} />
      <OtherAnswers patientId={patientId} performing={performing} onDone={count} />
      <AllergyForm patientId={patientId} performing={performing} onDone={count} />
      {taken > 0 ? <p>{taken === 1 ? 'One answer is' : `${taken} answers are`} recorded.</p> : null}
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}
