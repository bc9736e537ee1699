'use client'
import { HelpHere } from '#app/_help/help-here.tsx'
import type { Seen } from '#app/_live/seen.ts'
import { type InputOf, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { can } from '#shared/people/role.ts'
import { findStop } from '#shared/readiness/stop.ts'
import styles from './plan.module.css'

/** Anyone, one touch, no typing. Once stopped, the dentist says what was found. Help is called beside it. */
export function StopButton({ seen }: { seen: Seen }) {
  const performing = usePerform()
  const appointmentId = seen.facts.appointment.id
  const stopped = seen.readiness.open.some((finding) => finding.rule === 'side/stopped')
  return (
    <div className={styles.stop}>
      <div className={styles.controls}>
        {stopped ? (
          <Cleared seen={seen} performing={performing} />
        ) : (
          <ActButton
            kind="stop.check-side"
            input={{ appointmentId }}
            performing={performing}
            size="main"
            tone="stop"
            done="Stopped. Every screen of this operatory shows it."
          >
            Stop, check side
          </ActButton>
        )}
        <HelpHere chairs={[{ appointmentId, name: operatoryWords(seen.facts.operatory?.name) }]} />
      </div>
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

type Found = InputOf<'stop.clear'>['outcome']
const FOUND: readonly { outcome: Found; words: string }[] = [
  { outcome: 'nothing-wrong', words: 'Nothing was wrong' },
  { outcome: 'wrong-side', words: 'It was the wrong side' },
  { outcome: 'wrong-tooth', words: 'It was the wrong tooth' },
  { outcome: 'wrong-patient', words: 'It was the wrong patient' },
  { outcome: 'other', words: 'Something else' },
]

function Cleared({ seen, performing }: { seen: Seen; performing: ReturnType<typeof usePerform> }) {
  const stop = findStop(seen.facts)
  if (stop === null || !can(seen.member.roles, 'word:give'))
    return <p>Stopped. The dentist looks and says what was found.</p>
  return (
    <>
      <p>Stopped. What did you find?</p>
      {FOUND.map(({ outcome, words }) => (
        <ActButton
          key={outcome}
          kind="stop.clear"
          input={{ appointmentId: seen.facts.appointment.id, outcome, note: '', saw: stop.id }}
          performing={performing}
          done="The stop is cleared and kept."
        >
          {words}
        </ActButton>
      ))}
    </>
  )
}
