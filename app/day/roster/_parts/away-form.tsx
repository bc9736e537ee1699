'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { useMoment } from '#app/_live/use-moment.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { FieldGroup } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import type { VisitOf } from '#server/trpc/roster-router.ts'
import type { MemberId } from '#shared/ids.ts'
import { STAGE_WORDS } from '#shared/words/en/states.ts'
import styles from '../../_parts/day.module.css'
import type { OfPerson } from './of-person.ts'
import { SpanFields } from './span-fields.tsx'
import { readSpan } from './spans.ts'

/** Where a visit goes: to somebody, to nobody yet, or it stays and the desk is asked. */
type To = MemberId | 'nobody' | 'stays'

/** Until midnight, as far as a clock says it. */
const LATEST = '23:59'

/** One act: since when they are away, and who takes each of their visits over. Nothing moves that is not chosen here. */
export function AwayForm({ person, visits, of, day, onDone }: OfPerson & { onDone: () => void }) {
  const performing = usePerform()
  const router = useRouter()
  const now = useMoment()
  const [absence, setAbsence] = useState({
    from: day === of.day ? timeOf(now, of.site.zone) : of.site.opensAt,
    to: LATEST,
  })
  const [chosen, setChosen] = useState<Record<string, To>>({})
  const span = readSpan(absence)
  const theirs = span === null ? [] : visits.filter((visit) => isTouched(visit, span))
  const toOf = ({ appointmentId }: VisitOf): To => chosen[appointmentId] ?? 'stays'
  const options = [
    { value: 'stays' as To, label: `stays with ${person.shortName}: ask the desk` },
    ...of.treaters
      .filter(({ id }) => id !== person.memberId)
      .map(({ id, shortName }) => ({ value: id as To, label: `to ${shortName}` })),
    { value: 'nobody' as To, label: 'to nobody yet' },
  ]
  const handOver = theirs.flatMap((visit) => {
    const to = toOf(visit)
    return to === 'stays'
      ? []
      : [{ appointmentId: visit.appointmentId, dentistId: to === 'nobody' ? null : to }]
  })
  const setAll = (to: To) =>
    setChosen(Object.fromEntries(theirs.map(({ appointmentId }) => [appointmentId, to])))
  const [allTo] = new Set(theirs.map(toOf))
  const done = () => {
    router.refresh()
    onDone()
  }
  return (
    <div className={styles.written}>
      <Button autoFocus onPress={onDone}>
        Leave it as it is
      </Button>
      <FieldGroup title="Since when, and until when">
        <SpanFields name="Away" span={absence} onSpan={setAbsence} />
      </FieldGroup>
      {theirs.length === 0 ? (
        <p>No visits of theirs in that time.</p>
      ) : (
        <FieldGroup title={`Their visits in that time: ${theirs.length}`}>
          <Pick label="All of them" value={allTo ?? 'stays'} options={options} onPick={setAll} />
          <ul className={styles.whole}>
            {theirs.map((visit) => (
              <li key={visit.appointmentId}>
                <Pick
                  label={visitWords(visit, of.sites.length > 1)}
                  value={toOf(visit)}
                  options={options}
                  onPick={(to) => setChosen({ ...chosen, [visit.appointmentId]: to })}
                />
              </li>
            ))}
          </ul>
        </FieldGroup>
      )}
      <p className={styles.small}>
        Why is not asked and not kept. Each visit remembers whose it was; its plan needs the word of who takes
        it over, and its patient stands on the desk’s list to be told.
      </p>
      <ActButton
        kind="person.away"
        input={{
          memberId: person.memberId,
          siteId: of.site.id,
          day,
          from: span?.from ?? of.site.opensAt,
          to: span?.to ?? of.site.closesAt,
          handOver,
        }}
        performing={performing}
        size="main"
        tone="ink"
        isDisabled={span === null}
        done={`${person.shortName} is marked away.`}
        onDone={done}
      >
        {person.shortName} is away
        <small>{handedWords(handOver.length, theirs.length - handOver.length)}</small>
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

/** Whether a visit has not ended when they leave and begins before they are back. */
const isTouched = (
  { startsAt, endsAt, stage }: VisitOf,
  { from, to }: { from: string; to: string },
): boolean =>
  stage !== 'left' && stage !== 'finished' && (endsAt > from || endsAt < startsAt) && startsAt < to

const visitWords = ({ startsAt, patient, site, stage }: VisitOf, several: boolean): string =>
  [
    `${startsAt} ${patient}`,
    ...(several ? [site] : []),
    ...(stage === 'expected' ? [] : [STAGE_WORDS[stage].toLowerCase()]),
  ].join(', ')

function handedWords(handed: number, staying: number): string {
  const visits = handed === 1 ? '1 visit changes hands' : `${handed} visits change hands`
  return staying === 0 ? visits : `${visits}, ${staying} asked of the desk`
}
