import { must } from '../base/assert.ts'
import { type Day, parseDay } from '../base/moment.ts'

const MONTHS_ON = 5
const DAYS_ON = 11
const YEARS_ON = 3
const LAST_DAY_OF_ALL_MONTHS = 28

interface Parts {
  year: number
  month: number
  day: number
}
const partsOf = (day: Day): Parts => ({
  year: Number(day.slice(0, 4)),
  month: Number(day.slice(5, 7)),
  day: Number(day.slice(8)),
})
const dayOfParts = ({ year, month, day }: Parts): Day => {
  const two = (value: number): string => `${value}`.padStart(2, '0')
  return must(parseDay(`${`${year}`.padStart(4, '0')}-${two(month)}-${two(day)}`), 'a day of the calendar')
}
/** One of `1…size`, so many further on, round and round. */
const turned = (value: number, by: number, size: number): number => ((value - 1 + by) % size) + 1

/** A number that is the same for the same text, and looks like no order. */
const scatter = (text: string): number => {
  let value = 2166136261
  for (const letter of text) value = Math.imul(value ^ letter.charCodeAt(0), 16777619) >>> 0
  return value
}

interface DecoysAsked {
  /** Whose it is. */
  of: string
  /** Nobody was born after it. */
  today: Day
  round?: number
}

/** A year near it, as often later as earlier, so that neither tells which is the right one; none that is still to come. */
function nearYear(year: number, today: Day, seed: number): number {
  const by = (seed >>> 8) % 2 === 0 ? YEARS_ON : 1
  const later = year + by
  return (seed >>> 9) % 2 === 0 && later < partsOf(today).year ? later : year - by
}

/**
 * A birth day among three that are not it: another day, another month and another year are each told by two of the
 * four, so that none stands out. The same patient gets the same days on every screen; `round` shuffles them anew.
 */
export function birthDaysAmong(born: Day, { of, today, round = 0 }: DecoysAsked): Day[] {
  const { year, month, day } = partsOf(born)
  const seed = scatter(`${of} ${born}`)
  const other: Parts = {
    year: nearYear(year, today, seed),
    month: turned(month, MONTHS_ON + (seed % 3), 12),
    day: turned(Math.min(day, LAST_DAY_OF_ALL_MONTHS), DAYS_ON + (seed % 5), LAST_DAY_OF_ALL_MONTHS),
  }
  const days = [
    born,
    dayOfParts({ year: other.year, month, day: other.day }),
    dayOfParts({ year: other.year, month: other.month, day: other.day }),
    dayOfParts({ year, month: other.month, day: Math.min(day, LAST_DAY_OF_ALL_MONTHS) }),
  ]
  return days.sort((a, b) => scatter(`${a} ${of} ${round}`) - scatter(`${b} ${of} ${round}`))
}

const WRITTEN = /^(\d{4})-(\d{1,2})-(\d{1,2})$|^(\d{1,2})[./ ](\d{1,2})[./ ](\d{4})$/

/** A birth day as it is typed, `1997-02-12`, `12.2.1997` or `12/2/1997`: day before month. Null where it is none. */
export function readBirthDay(text: string): Day | null {
  const [, year, month, day, day2, month2, year2] = WRITTEN.exec(text.trim()) ?? []
  const two = (value: string | undefined): string => (value ?? '').padStart(2, '0')
  return parseDay(`${year ?? year2}-${two(month ?? month2)}-${two(day ?? day2)}`)
}
