import { Card } from '#app/_ui/card.tsx'
import { Field } from '#app/_ui/field.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { Pick } from '#app/_ui/pick.tsx'
import { dayWords } from '#app/_ui/time-words.ts'
import type { Preview } from '#server/trpc/exchange-router.ts'
import { type Day, parseDay } from '#shared/base/moment.ts'
import styles from '../../_parts/day.module.css'
import type { WholeOf } from './bring.ts'

export interface CoversPartProps {
  covers: Preview['covers']
  today: Day
  /** What a person said; undefined: nothing, it is as it looks. */
  wholeOf: WholeOf | undefined
  onSay: (wholeOf: WholeOf | undefined) => void
}

const WAYS = [
  { value: 'looks', label: 'as it looks' },
  { value: 'part', label: 'a part: nothing is missing from it' },
  { value: 'whole', label: 'the whole list of the days below' },
] as const

const wayOf = (wholeOf: WholeOf | undefined): (typeof WAYS)[number]['value'] =>
  wholeOf === undefined ? 'looks' : wholeOf === null ? 'part' : 'whole'

/** Which days and operatories a file speaks for whole: what was known of these and is not in it is asked about. */
export function CoversPart({ covers, today, wholeOf, onSay }: CoversPartProps) {
  const days = covers?.days ?? []
  const said = {
    looks: undefined,
    part: null,
    whole: { first: days[0] ?? today, last: days.at(-1) ?? today },
  }
  const sayDay = (end: 'first' | 'last') => (text: string) => {
    const day = parseDay(text)
    if (wholeOf && day) onSay({ ...wholeOf, [end]: day })
  }
  return (
    <Card title="What it speaks for">
      <p>{coversWords(covers)}</p>
      <div className={styles.known}>
        <Pick label="It is" value={wayOf(wholeOf)} options={WAYS} onPick={(way) => onSay(said[way])} />
        {wholeOf ? (
          <>
            <Field label="First day" type="date" value={wholeOf.first} onChange={sayDay('first')} />
            <Field label="Last day" type="date" value={wholeOf.last} onChange={sayDay('last')} />
          </>
        ) : null}
      </div>
    </Card>
  )
}

function coversWords(covers: Preview['covers']): string {
  const [first] = covers?.days ?? []
  const last = covers?.days.at(-1)
  if (!covers || first === undefined || last === undefined)
    return 'For its own rows only: nothing that is known is missing from it.'
  const days =
    first === last
      ? dayWords(first)
      : `${covers.days.length} days from ${dayWords(first)} to ${dayWords(last)}`
  const where = covers.operatories?.map(operatoryWords).join(', ') ?? 'all operatories'
  return `For ${days}, ${where}. What this source told of these before and does not list now is asked about, never dropped.`
}
