'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { FieldGroup } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import type { Span } from '#server/trpc/roster-router.ts'
import styles from '../../_parts/day.module.css'
import type { OfPerson } from './of-person.ts'
import { SpanFields, SpanRows } from './span-fields.tsx'
import { type Entered, hoursOf, isBlank, readSpan, shiftOf } from './spans.ts'

const BREAKS = 3
const NOT_HOURS =
  'Times such as 08:00, the second later; a break lies inside the shift, the earlier one first.'

/** A shift, its breaks, and when they are away: the whole of a day at once. Why they are away is not asked. */
export function HoursForm({ person, of, day, onDone }: OfPerson & { onDone: () => void }) {
  const performing = usePerform()
  const router = useRouter()
  const stands = shiftOf(person.hours)
  const [shift, setShift] = useState(stands.shift)
  const [breaks, setBreaks] = useState(() => withRoom(stands.breaks, BREAKS))
  const [away, setAway] = useState(() => withRoom(person.away, 1))
  const hours = hoursOf({ shift, breaks })
  const absent = readAway(away)
  const done = () => {
    router.refresh()
    onDone()
  }
  return (
    <div className={styles.written}>
      <Button autoFocus onPress={onDone}>
        Leave it as it is
      </Button>
      <FieldGroup title="Shift">
        <SpanFields name="Shift" span={shift} onSpan={setShift} />
      </FieldGroup>
      <FieldGroup title="Breaks">
        <SpanRows name="Break" spans={breaks} onSpans={setBreaks} />
      </FieldGroup>
      <FieldGroup title="Away">
        <SpanRows name="Away" spans={away} onSpans={setAway} />
      </FieldGroup>
      <p className={styles.small}>
        {hours === null || absent === null
          ? NOT_HOURS
          : hours.length === 0
            ? 'Without a shift they are not on the roster that day.'
            : 'Their visits outside these hours are asked of the desk.'}
      </p>
      <ActButton
        kind="roster.set"
        input={{
          memberId: person.memberId,
          siteId: of.site.id,
          day,
          hours: hours ?? [],
          away: absent ?? [],
        }}
        performing={performing}
        size="main"
        tone="ink"
        isDisabled={hours === null || absent === null}
        done={`The hours of ${person.shortName} are kept.`}
        onDone={done}
      >
        Keep these hours
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

/** What stands, and room for as many as are usual. */
const withRoom = (spans: readonly Entered[], usual: number): Entered[] =>
  Array.from({ length: Math.max(usual, spans.length) }, (_, index) => ({
    from: spans[index]?.from ?? '',
    to: spans[index]?.to ?? '',
  }))

/** Null where one of them is no span of time. */
function readAway(away: readonly Entered[]): Span[] | null {
  const spans = away.filter((each) => !isBlank(each)).map(readSpan)
  return spans.every((span) => span !== null) ? spans : null
}
