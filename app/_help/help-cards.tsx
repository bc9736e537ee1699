'use client'
import { useEffect, useRef } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { spanWords, timeOf } from '#app/_ui/time-words.ts'
import { minutesBetween } from '#shared/base/moment.ts'
import { can } from '#shared/people/role.ts'
import { findOpenHelp, type HelpIncident, outcomesOf } from '#shared/readiness/help.ts'
import { cardFor } from '#shared/readiness/help-cards.ts'
import styles from './help.module.css'
import { CALL_WORDS, OUTCOME_WORDS } from './help-words.ts'

/** Every open call for help on this appointment, each with its card; nothing where none is open. */
export function HelpCards({ seen }: { seen: Seen }) {
  return findOpenHelp(seen.facts).map((incident) => (
    <Opened key={incident.id} incident={incident} seen={seen} />
  ))
}

interface OpenedProps {
  incident: HelpIncident
  seen: Seen
}

function Opened({ incident, seen }: OpenedProps) {
  const performing = usePerform()
  const ref = useRef<HTMLElement>(null)
  const isMine = incident.by === seen.member.id && minutesBetween(incident.at, seen.now) < 1
  // Whoever called has the card before them at once, wherever on the page they were.
  useEffect(() => {
    if (!isMine) return
    ref.current?.scrollIntoView({ block: 'start' })
    ref.current?.focus({ preventScroll: true })
  }, [isMine])
  const card = cardFor(incident.kind, seen.facts.policy)
  const done = new Map(incident.steps.map((step) => [step.text, step]))
  const others = incident.steps.filter(({ text }) => !card.steps.includes(text))
  const stamp = ({ at, by }: HelpIncident['steps'][number]) => `${timeOf(at, seen.zone)} ${seen.nameOf(by)}`
  return (
    <section
      ref={ref}
      tabIndex={-1}
      className={styles.card}
      data-drill={incident.drill || undefined}
      aria-label={titleOf(incident)}
    >
      <h2>{titleOf(incident)}</h2>
      <p>
        Called at {timeOf(incident.at, seen.zone)} by {seen.nameOf(incident.by)},{' '}
        {spanWords(minutesBetween(incident.at, seen.now))} ago.{' '}
        {incident.drill ? 'Nothing is held.' : 'The team is told; the chair cannot be closed before this is.'}
      </p>
      <ol className={styles.steps}>
        {card.steps.map((text) => {
          const stamped = done.get(text)
          return (
            <li key={text}>
              {stamped ? (
                <p className={styles.stamped}>
                  {text} <small>{stamp(stamped)}</small>
                </p>
              ) : (
                <ActButton
                  kind="help.step"
                  input={{ incidentId: incident.id, text }}
                  performing={performing}
                  done="Stamped."
                >
                  {text}
                </ActButton>
              )}
            </li>
          )
        })}
        {others.map((step) => (
          <li key={`${step.at} ${step.text}`}>
            <p className={styles.stamped}>
              {step.text} <small>{stamp(step)}</small>
            </p>
          </li>
        ))}
      </ol>
      <p className={styles.whose}>
        {card.general === null
          ? 'The clinic’s own card.'
          : 'A general list, common practice without a source: the clinic has not written its own card. Its own emergency plan comes first.'}
      </p>
      <Ending incident={incident} seen={seen} performing={performing} />
      <OutcomeBox outcome={performing.outcome} />
    </section>
  )
}

const titleOf = ({ kind, drill }: HelpIncident): string =>
  `${drill ? 'Drill: ' : 'Help is called: '}${CALL_WORDS[kind].toLowerCase()}`

function Ending({ incident, seen, performing }: OpenedProps & { performing: ReturnType<typeof usePerform> }) {
  if (!can(seen.member.roles, 'word:give')) return <p>A dentist says how it ended.</p>
  return (
    <fieldset className={styles.kinds}>
      <legend>How did it end?</legend>
      {outcomesOf(incident.kind).map((outcome) => (
        <ActButton
          key={outcome}
          kind="help.close"
          input={{ incidentId: incident.id, outcome, note: '' }}
          performing={performing}
          done="Closed and kept."
        >
          {OUTCOME_WORDS[outcome]}
        </ActButton>
      ))}
    </fieldset>
  )
}
