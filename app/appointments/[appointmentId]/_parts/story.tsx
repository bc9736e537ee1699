'use client'
import { useEffect, useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { server } from '#app/_live/server.ts'
import { type Trouble, troubleOf } from '#app/_live/trouble.ts'
import { type Performing, usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { sayStep } from '#app/_ui/step-words.ts'
import { dateWords, timeOf } from '#app/_ui/time-words.ts'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import { dayOf } from '#shared/base/moment.ts'
import { can } from '#shared/people/role.ts'
import styles from './plan.module.css'

type Steps = Awaited<ReturnType<typeof server.journal.of.query>>
type Told = { kind: 'asking' } | { kind: 'told'; steps: Steps } | { kind: 'trouble'; trouble: Trouble }

/** Who did what to this appointment, the latest first; the latest can be undone where nothing rests on it yet. */
export function Story({ seen }: { seen: Seen }) {
  const [open, setOpen] = useState(false)
  return (
    <Card title="The story so far" tone="plain">
      <details onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary className={styles.more}>Who did what, and when</summary>
        {open ? <Told seen={seen} /> : null}
      </details>
    </Card>
  )
}

function Told({ seen }: { seen: Seen }) {
  const performing = usePerform()
  const told = useStory(seen)
  switch (told.kind) {
    case 'asking':
      return <p className={styles.aside}>Asking the server …</p>
    case 'trouble':
      return <TroubleBox trouble={told.trouble} />
    case 'told':
      return (
        <>
          <OutcomeBox outcome={performing.outcome} />
          <ol className={styles.story} reversed>
            {told.steps.toReversed().map((step, index) => (
              <Step
                key={step.revision}
                step={step}
                isLast={index === 0}
                seen={seen}
                performing={performing}
              />
            ))}
          </ol>
        </>
      )
  }
}

/** Asked anew with each change that reaches this page. */
function useStory(seen: Seen): Told {
  const { revision } = useWorld()
  const [told, setTold] = useState<Told>({ kind: 'asking' })
  const appointmentId = seen.facts.appointment.id
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new revision is why it is asked again
  useEffect(() => {
    let isStale = false
    server.journal.of.query({ appointmentId }).then(
      (steps) => isStale || setTold({ kind: 'told', steps }),
      (error: unknown) => isStale || setTold({ kind: 'trouble', trouble: troubleOf(error) }),
    )
    return () => {
      isStale = true
    }
  }, [appointmentId, revision])
  return told
}

interface StepProps {
  step: Steps[number]
  isLast: boolean
  seen: Seen
  performing: Performing
}

/** Undone steps stay in the story, and undoing is not itself undone. */
const isUndone = (kind: string): boolean => kind === 'journal.undo'

function Step({ step, isLast, seen, performing }: StepProps) {
  const { facts, zone, nameOf } = seen
  const day = dayOf(step.at, zone)
  const when = `${day === facts.appointment.day ? '' : `${dateWords(day)}, `}${timeOf(step.at, zone)}`
  const mayUndo = isLast && !isUndone(step.kind) && can(seen.member.roles, 'journal:undo')
  return (
    <li className={styles.lineOfWork}>
      <span>
        {sayStep(step.kind)}
        <small className={styles.aside}>
          {' '}
          {when}, {nameOf(step.by)}, {step.station}
        </small>
      </span>
      {mayUndo ? (
        <ActButton
          kind="journal.undo"
          input={{ revision: step.revision }}
          performing={performing}
          size="small"
          done="The step is undone."
          aria-label={`Undo: ${sayStep(step.kind)}`}
        >
          Undo
        </ActButton>
      ) : null}
    </li>
  )
}
