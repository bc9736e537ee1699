import type { ClockTime, Day } from '#shared/base/moment.ts'

/** Wall-clock time, before a zone makes it an instant. */
export interface Wall {
  day: Day
  time: ClockTime
}

/** Wall-clock time counted as if it were UTC. */
export const epochOf = ({ day, time }: Wall): number => Date.parse(`${day}T${time}:00Z`)
export const wallAt = (epoch: number): Wall => {
  const text = new Date(epoch).toISOString()
  return { day: text.slice(0, 10) as Day, time: text.slice(11, 16) as ClockTime }
}

/** Why a series is not written out, in words that end a sentence; with where it stands, if it is not the rule. */
export class SeriesRefused extends Error {
  readonly at: { line: number; field: string } | null
  constructor(why: string, property?: { line: number; name: string }) {
    super(why)
    this.at = property ? { line: property.line, field: property.name } : null
  }
}

const FREQUENCIES = ['DAILY', 'WEEKLY', 'MONTHLY', 'YEARLY'] as const
const WEEKDAYS = ['SU', 'MO', 'TU', 'WE', 'TH', 'FR', 'SA']
/** The parts of a rule (RFC 5545 section 3.3.10, READ) that are lists of numbers: their bounds, and whether they count from either end. */
const NUMBERS = {
  BYMONTH: [1, 12, false],
  BYWEEKNO: [1, 53, true],
  BYYEARDAY: [1, 366, true],
  BYMONTHDAY: [1, 31, true],
  BYHOUR: [0, 23, false],
  BYMINUTE: [0, 59, false],
  BYSECOND: [0, 60, false],
  BYSETPOS: [1, 366, true],
} as const
type NumberPart = keyof typeof NUMBERS
const PARTS = new Set<string>([
  'FREQ',
  'INTERVAL',
  'COUNT',
  'UNTIL',
  'BYDAY',
  'WKST',
  ...Object.keys(NUMBERS),
])

/** A recurrence rule of a day or longer, read and found whole. */
export interface Rule {
  frequency: (typeof FREQUENCIES)[number]
  interval: number
  count: number | null
  /** As it is written: it is an instant, or a wall-clock time of where the series is. */
  until: string | null
  weekStart: number
  days: { nth: number | null; weekday: number }[]
  numbers: Record<NumberPart, number[]>
}

/** A visit that begins oftener than this in a day is no visit. */
const MOST_A_DAY = 24

/** Reads a rule strictly: what the standard does not allow is refused, never read as something near it. */
export function parseRule(text: string): Rule {
  const parts = partsOf(text)
  const frequency = FREQUENCIES.find((each) => each === parts.get('FREQ'))
  if (frequency === undefined)
    throw new SeriesRefused(
      /^(SECOND|MINUTE|HOUR)LY$/.test(parts.get('FREQ') ?? '')
        ? 'it repeats more often than once a day'
        : 'its rule does not say how often it repeats',
    )
  const weekStart = WEEKDAYS.indexOf(parts.get('WKST') ?? 'MO')
  if (weekStart < 0) throw cannotRead('WKST')
  const rule: Rule = {
    frequency,
    interval: wholeNumber(parts, 'INTERVAL') ?? 1,
    count: wholeNumber(parts, 'COUNT'),
    until: parts.get('UNTIL') ?? null,
    weekStart,
    days: weekdaysOf(parts.get('BYDAY')),
    numbers: numbersOf(parts),
  }
  judgeRule(rule)
  return rule
}

const cannotRead = (name: string): SeriesRefused => new SeriesRefused(`${name} of its rule cannot be read`)

function partsOf(text: string): Map<string, string> {
  const parts = new Map<string, string>()
  for (const part of text.trim().toUpperCase().replace(/;$/, '').split(';')) {
    const [name = '', value, ...more] = part.split('=')
    if (value === undefined || more.length > 0 || !PARTS.has(name))
      throw new SeriesRefused(`"${part.slice(0, 40)}" in its rule is not read here`)
    if (parts.has(name)) throw new SeriesRefused(`its rule says ${name} twice`)
    parts.set(name, value)
  }
  return parts
}

function wholeNumber(parts: Map<string, string>, name: 'INTERVAL' | 'COUNT'): number | null {
  const text = parts.get(name)
  if (text === undefined) return null
  if (!/^\d{1,5}$/.test(text) || Number(text) === 0) throw cannotRead(name)
  return Number(text)
}

function weekdaysOf(text: string | undefined): Rule['days'] {
  if (text === undefined) return []
  return text.split(',').map((each) => {
    const [, nth, name = ''] = /^([+-]?\d{1,2})?(SU|MO|TU|WE|TH|FR|SA)$/.exec(each.trim()) ?? []
    if (name === '' || Number(nth) === 0 || Math.abs(Number(nth ?? 1)) > 53) throw cannotRead('BYDAY')
    return { nth: nth === undefined ? null : Number(nth), weekday: WEEKDAYS.indexOf(name) }
  })
}

function numbersOf(parts: Map<string, string>): Rule['numbers'] {
  const read = (name: NumberPart): number[] => {
    const text = parts.get(name)
    if (text === undefined) return []
    const [least, most, signed] = NUMBERS[name]
    const numbers = text.split(',').map((each) => {
      const value = /^[+-]?\d{1,3}$/.test(each.trim()) ? Number(each) : Number.NaN
      const size = signed ? Math.abs(value) : value
      if (!(size >= least && size <= most)) throw cannotRead(name)
      return value
    })
    return [...new Set(numbers)].sort((one, other) => one - other)
  }
  return {
    BYMONTH: read('BYMONTH'),
    BYWEEKNO: read('BYWEEKNO'),
    BYYEARDAY: read('BYYEARDAY'),
    BYMONTHDAY: read('BYMONTHDAY'),
    BYHOUR: read('BYHOUR'),
    BYMINUTE: read('BYMINUTE'),
    BYSECOND: read('BYSECOND'),
    BYSETPOS: read('BYSETPOS'),
  }
}

/** What the parts of a rule may not be together (RFC 5545 section 3.3.10, READ), and what would be no visits. */
function judgeRule({ frequency, count, until, days, numbers }: Rule): void {
  const { BYWEEKNO, BYYEARDAY, BYMONTHDAY, BYHOUR, BYMINUTE, BYSECOND, BYSETPOS } = numbers
  const yearly = frequency === 'YEARLY'
  const counted = days.some(({ nth }) => nth !== null)
  const chosen = days.length + Object.values(numbers).flat().length - BYSETPOS.length
  const against: [broken: boolean, why: string][] = [
    [count !== null && until !== null, 'its rule ends both by COUNT and by UNTIL'],
    [BYWEEKNO.length > 0 && !yearly, 'BYWEEKNO is for years alone'],
    [BYYEARDAY.length > 0 && !yearly, 'BYYEARDAY is for years alone'],
    [BYMONTHDAY.length > 0 && frequency === 'WEEKLY', 'BYMONTHDAY is not for weeks'],
    [counted && !(yearly || frequency === 'MONTHLY'), 'BYDAY counts weekdays in months and years alone'],
    [counted && BYWEEKNO.length > 0, 'BYDAY counts weekdays beside BYWEEKNO'],
    [BYSETPOS.length > 0 && chosen === 0, 'BYSETPOS has nothing to choose from'],
    // Readers differ: some take the weekday of the start, some all seven days.
    [
      BYWEEKNO.length > 0 && days.length + BYYEARDAY.length + BYMONTHDAY.length === 0,
      'its rule names weeks but no weekday',
    ],
    [
      Math.max(1, BYHOUR.length) * Math.max(1, BYMINUTE.length) * Math.max(1, BYSECOND.length) > MOST_A_DAY,
      `it repeats more than ${MOST_A_DAY} times a day`,
    ],
  ]
  const [, why] = against.find(([broken]) => broken) ?? []
  if (why !== undefined) throw new SeriesRefused(why)
}

const DAY_MS = 86_400_000
const MINUTE_MS = 60_000
/** So many visits of series, and days looked at for them, in one file; some tenths of a second. */
const MOST_VISITS = 5000
const MOST_DAYS_LOOKED_AT = 500_000
export const MOST_INSTANCES = 2000

/** What is left to spend on the series of one file. */
export interface Effort {
  visits: number
  days: number
}
export const openEffort = (): Effort => ({ visits: MOST_VISITS, days: MOST_DAYS_LOOKED_AT })

/** A day with its place in its month and year, worked out once. Day numbers count from 1970. */
interface Placed {
  number: number
  year: number
  month: number
  inMonth: number
  inYear: number
  monthLength: number
  yearLength: number
  weekday: number
}

const numberOf = (year: number, month: number, day: number): number => {
  const date = new Date(0)
  date.setUTCFullYear(year, month - 1, day)
  return date.getTime() / DAY_MS
}

function place(number: number): Placed {
  const date = new Date(number * DAY_MS)
  const [year, month] = [date.getUTCFullYear(), date.getUTCMonth() + 1]
  const newYear = numberOf(year, 1, 1)
  return {
    number,
    year,
    month,
    inMonth: date.getUTCDate(),
    inYear: number - newYear + 1,
    monthLength: numberOf(year, month + 1, 1) - numberOf(year, month, 1),
    yearLength: numberOf(year + 1, 1, 1) - newYear,
    weekday: date.getUTCDay(),
  }
}

/** A stretch of days in which a rule chooses. */
interface Period {
  from: number
  length: number
}

function periodAt({ frequency, interval, weekStart }: Rule, first: Placed, index: number): Period {
  const step = index * interval
  if (frequency === 'DAILY') return { from: first.number + step, length: 1 }
  if (frequency === 'WEEKLY')
    return { from: first.number - ((first.weekday - weekStart + 7) % 7) + step * 7, length: 7 }
  const [year, month, months] =
    frequency === 'MONTHLY' ? [first.year, first.month + step, 1] : [first.year + step, 1, 12]
  const from = numberOf(year, month, 1)
  return { from, length: numberOf(year, month + months, 1) - from }
}

const LENGTHS = { DAILY: 1, WEEKLY: 7, MONTHLY: 31, YEARLY: 366 } as const

/** Without a COUNT what lies before the window need not be counted: the last period that surely begins before it. */
const firstIndex = ({ frequency, interval, count }: Rule, first: Placed, from: number): number =>
  count === null ? Math.max(0, Math.floor((from - first.number) / (LENGTHS[frequency] * interval)) - 1) : 0

/** What a rule leaves open is as in its start (RFC 5545 section 3.3.10, READ). */
function withStart(rule: Rule, first: Placed): Rule {
  const { frequency, days, numbers } = rule
  if (days.length + numbers.BYWEEKNO.length + numbers.BYYEARDAY.length + numbers.BYMONTHDAY.length > 0)
    return rule
  if (frequency === 'WEEKLY') return { ...rule, days: [{ nth: null, weekday: first.weekday }] }
  if (frequency === 'DAILY') return rule
  const BYMONTH = frequency === 'YEARLY' && numbers.BYMONTH.length === 0 ? [first.month] : numbers.BYMONTH
  return { ...rule, numbers: { ...numbers, BYMONTH, BYMONTHDAY: [first.inMonth] } }
}

const has = (chosen: readonly number[], place: number, length: number): boolean =>
  chosen.length === 0 || chosen.includes(place) || chosen.includes(place - length - 1)

function fits({ frequency, weekStart, days, numbers }: Rule, day: Placed): boolean {
  return (
    (numbers.BYMONTH.length === 0 || numbers.BYMONTH.includes(day.month)) &&
    has(numbers.BYMONTHDAY, day.inMonth, day.monthLength) &&
    has(numbers.BYYEARDAY, day.inYear, day.yearLength) &&
    (numbers.BYWEEKNO.length === 0 || fitsWeek(numbers.BYWEEKNO, day, weekStart)) &&
    (days.length === 0 ||
      days.some(
        ({ nth, weekday }) =>
          weekday === day.weekday &&
          (nth === null || isNth(nth, day, frequency === 'MONTHLY' || numbers.BYMONTH.length > 0)),
      ))
  )
}

function isNth(nth: number, day: Placed, ofMonth: boolean): boolean {
  const [at, length] = ofMonth ? [day.inMonth, day.monthLength] : [day.inYear, day.yearLength]
  return nth > 0 ? Math.ceil(at / 7) === nth : -Math.ceil((length - at + 1) / 7) === nth
}

/** The first week of a year is the first with four of its days in it (ISO 8601), from whichever weekday weeks begin. */
function fitsWeek(chosen: readonly number[], { number, year, weekday }: Placed, weekStart: number): boolean {
  const begins = number - ((weekday - weekStart + 7) % 7)
  const ofYear =
    begins < firstWeek(year, weekStart)
      ? year - 1
      : begins >= firstWeek(year + 1, weekStart)
        ? year + 1
        : year
  const week = (begins - firstWeek(ofYear, weekStart)) / 7 + 1
  return has(chosen, week, (firstWeek(ofYear + 1, weekStart) - firstWeek(ofYear, weekStart)) / 7)
}
function firstWeek(year: number, weekStart: number): number {
  const fourth = numberOf(year, 1, 4)
  return fourth - ((new Date(fourth * DAY_MS).getUTCDay() - weekStart + 7) % 7)
}

/** The minutes of a day at which it begins. Visits are counted to the minute. */
function minutesOf({ numbers: { BYHOUR, BYMINUTE } }: Rule, first: Wall): number[] {
  const [hour, minute] = first.time.split(':').map(Number)
  const hours = BYHOUR.length > 0 ? BYHOUR : [hour ?? 0]
  const minutes = BYMINUTE.length > 0 ? BYMINUTE : [minute ?? 0]
  return hours.flatMap((each) => minutes.map((more) => each * 60 + more))
}

function choose(moments: number[], positions: readonly number[]): number[] {
  if (positions.length === 0) return moments
  const chosen = positions.flatMap((at) => moments[at > 0 ? at - 1 : moments.length + at] ?? [])
  return [...new Set(chosen)].sort((one, other) => one - other)
}

/**
 * The wall-clock starts of a rule within a window, as epochs of pseudo-UTC: the clock of the wall does not jump, and
 * each start becomes an instant afterwards. UNTIL is left to the caller. What is spent is counted while it is spent.
 */
export function expandRule(
  written: Rule,
  first: Wall,
  { from, to, effort }: { from: number; to: number; effort: Effort },
): number[] {
  const start = epochOf(first)
  const firstDay = place(Math.floor(start / DAY_MS))
  const rule = withStart(written, firstDay)
  const minutes = minutesOf(rule, first)
  const found: number[] = []
  let counted = 0
  for (let index = firstIndex(rule, firstDay, Math.floor(from / DAY_MS)); ; index += 1) {
    const period = periodAt(rule, firstDay, index)
    if (period.from * DAY_MS > to) return found
    effort.days -= period.length
    if (effort.days < 0) throw new SeriesRefused('it would take too long to write out')
    const days = Array.from({ length: period.length }, (_, day) => place(period.from + day))
    const moments = days
      .filter((day) => fits(rule, day))
      .flatMap(({ number }) => minutes.map((minute) => number * DAY_MS + minute * MINUTE_MS))
    for (const at of choose(moments, rule.numbers.BYSETPOS)) {
      if (at < start) continue
      if (rule.count !== null && counted === rule.count) return found
      counted += 1
      if (at < from || at > to) continue
      found.push(at)
      effort.visits -= 1
      if (found.length > MOST_INSTANCES) throw new SeriesRefused(`it has more than ${MOST_INSTANCES} days`)
      if (effort.visits < 0) throw new SeriesRefused('the series of the file hold too many days')
    }
  }
}

/** Whether a start is one of its own rule's; where it is not, what the series is is undefined (RFC 5545 section 3.8.5.3, READ). */
export const isOfRule = (rule: Rule, first: Wall): boolean => {
  const at = epochOf(first)
  return expandRule({ ...rule, count: null }, first, { from: at, to: at, effort: openEffort() }).includes(at)
}
