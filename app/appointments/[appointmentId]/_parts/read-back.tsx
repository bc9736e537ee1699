'use client'
import { ActButton } from '#app/_ui/act-button.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import { hasTimeOut, isReadBack, workedTeeth } from '#shared/readiness/judges.ts'
import type { ActProps } from './act-props.ts'
import styles from './plan.module.css'
import { SaidTeeth, useSaidTeeth } from './said-teeth.tsx'
import { TimeOutList } from './time-out-list.tsx'

/** Tooth and side said aloud and answered, before the needle. */
export function ReadBack({ seen, performing }: ActProps) {
  const { facts } = seen
  const number = facts.plan?.number ?? 0
  const [said, setSaid] = useSaidTeeth(number)
  const planned = workedTeeth(facts)
  if (planned.length === 0) return null
  if (isReadBack(facts)) {
    const at = facts.visit?.readBack?.at
    return (
      <p className={styles.done}>
        Tooth and side read back{at === undefined ? '' : ` ${timeOf(at, seen.zone)}`}
      </p>
    )
  }
  return (
    <div className={styles.act}>
      <h3>Tooth and side, read back</h3>
      <SaidTeeth seen={seen} planned={planned} said={said} onSaid={setSaid} />
      <ActButton
        kind="visit.read-back"
        input={{ appointmentId: facts.appointment.id, teeth: said, planNumber: number }}
        performing={performing}
        size="main"
        isDisabled={said.length === 0}
        done="Tooth and side are read back."
      >
        Read back
      </ActButton>
    </div>
  )
}

/** Patient, procedure and tooth said aloud by the team just before the start. */
export function TimeOut({ seen, performing }: ActProps) {
  const { facts } = seen
  const number = facts.plan?.number ?? 0
  const [said, setSaid] = useSaidTeeth(number)
  const planned = workedTeeth(facts)
  if (planned.length === 0 || facts.patient === null) return null
  if (hasTimeOut(facts)) return <p className={styles.done}>Time-out held</p>
  return (
    <div className={styles.act}>
      <h3>Time-out</h3>
      <p className={styles.aside}>Aloud, by the team, plan {number}:</p>
      <TimeOutList seen={seen} />
      <SaidTeeth seen={seen} planned={planned} said={said} onSaid={setSaid} />
      <ActButton
        kind="time-out.done"
        input={{ appointmentId: facts.appointment.id, patientId: facts.patient.id, teeth: said, number }}
        performing={performing}
        size="main"
        isDisabled={said.length === 0}
        done="The time-out is held."
      >
        Time-out held
      </ActButton>
    </div>
  )
}
