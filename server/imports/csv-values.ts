import { type ClockTime, type Day, parseDay } from '#shared/base/moment.ts'
import { ok, type Result, refuse } from '#shared/base/result.ts'
import type { AppointmentStatus } from '#shared/schedule/appointment.ts'

export type DateOrder = 'ymd' | 'dmy' | 'mdy'

const two = (text: string): string => text.padStart(2, '0')
/** Narrow, no-break and other spaces that spreadsheets write before AM and PM. */
const plain = (text: string): string => text.replace(/[\s\u00A0\u202F\u2009]+/g, ' ').trim()

/** A clock time as day lists write it, to the minute; null where it is none. `24:00` and `13:00 PM` are none. */
export function parseTime(text: string): ClockTime | null {
  const part = /^0?[.,](\d+)$/.exec(plain(text))
  if (part) return timeOfPart(part[1] ?? '')
  const found =
    /^(\d{1,2})(?:\s*[:.hH]\s*(\d{2})(?::(\d{2})(?:\.\d+)?)?)?\s*([ap]\.?\s?m\.?)?$/i.exec(plain(text)) ??
    /^(\d{2})(\d{2})()()$/.exec(plain(text))
  if (found === null) return null
  const [, hours = '', minutes, seconds, half = ''] = found
  if (minutes === undefined && half === '') return null
  if (Number(minutes ?? 0) > 59 || Number(seconds || 0) > 59) return null
  const hour = hourOf(Number(hours), half)
  return hour === null ? null : (`${two(String(hour))}:${minutes ?? '00'}` as ClockTime)
}

/**
 * A part of a day, as spreadsheets keep a time: `0.375` is nine. Two figures may also be minutes after midnight, so
 * they are taken for a part only where that is a whole quarter of an hour; `0.30` is none.
 */
function timeOfPart(figures: string): ClockTime | null {
  const exact = Number(`0.${figures}`) * 1440
  const minutes = Math.round(exact)
  if (minutes >= 1440 || Math.abs(exact - minutes) > 0.1) return null
  if (figures.length === 2 && Number(figures) < 60 && minutes % 15 !== 0) return null
  return clockOf(minutes)
}

/** Minutes since midnight as a clock time. */
export const clockOf = (minutes: number): ClockTime =>
  `${two(String(Math.floor(minutes / 60)))}:${two(String(minutes % 60))}` as ClockTime

function hourOf(hour: number, half: string): number | null {
  if (half === '') return hour <= 23 ? hour : null
  if (hour < 1 || hour > 12) return null
  return (hour % 12) + (half.toLowerCase().startsWith('p') ? 12 : 0)
}

const MONTHS: ReadonlyMap<string, number> = new Map(
  [
    'jan jän januar january janvier enero',
    'feb februar february février febrero',
    'mar mär mrz märz march mars marzo',
    'apr april avril abril',
    'may mai mayo',
    'jun june juni juin junio',
    'jul july juli juillet julio',
    'aug august août agosto',
    'sep sept september septembre septiembre',
    'oct okt october oktober octobre octubre',
    'nov november novembre noviembre',
    'dec dez december dezember décembre diciembre',
  ].flatMap((names, index) => names.split(' ').map((name): [string, number] => [name, index + 1])),
)
const WEEKDAYS = ['sun', 'mon', 'tue', 'wed', 'thu', 'fri', 'sat']

/** How one cell writes a date, before it is known which order the file uses. */
export type DateShape =
  /** `time` in minutes; `shortYear`: written with two figures, so in a birth date of no known century. */
  | { kind: 'day'; day: Day; time: number | null; shortYear?: true }
  | { kind: 'figures'; first: string; second: string; third: string; weekday: string }
  | { kind: 'none'; why: 'missing' | 'unreadable' | 'no-such-day' | 'weekday' | 'century' }

/** Reads what can be read without knowing the order of figures. */
export function shapeOfDate(text: string, serials: '1900' | '1904' = '1900'): DateShape {
  const cell = plain(text)
  if (cell === '') return { kind: 'none', why: 'missing' }
  const [, weekday = '', figures = ''] = /^(?:(\p{L}{2,})\.?,? )?(\d[\d./-]*)$/u.exec(cell) ?? []
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/.exec(figures) ?? /^(\d{4})(\d{2})(\d{2})$/.exec(figures)
  if (iso) return onWeekday(dayShape(iso[1] ?? '', Number(iso[2]), Number(iso[3])), weekday)
  const serial = /^(\d{5})(?:[.,](\d+))?$/.exec(cell)
  if (serial) return serialShape(Number(`${serial[1]}.${serial[2] ?? 0}`), serials)
  const named =
    /^(?:(\p{L}{2,})\.?,? )?(\d{1,2})(?:st|nd|rd|th)?\.?[- ](\p{L}+)\.?,?[- ](\d{4}|\d{2})$/u.exec(cell) ??
    /^(?:(\p{L}{2,})\.?,? )?(?<month>\p{L}+)\.? (?<day>\d{1,2})(?:st|nd|rd|th)?,? (?<year>\d{4})$/u.exec(cell)
  if (named) {
    const { month, day, year } = named.groups ?? {}
    return namedShape({
      weekday: named[1] ?? '',
      day: Number(day ?? named[2]),
      month: month ?? named[3] ?? '',
      year: year ?? named[4] ?? '',
    })
  }
  const [, first, second, third] = /^(\d{1,2})[./-](\d{1,2})[./-](\d{4}|\d{2})$/.exec(figures) ?? []
  if (!first || !second || !third) return { kind: 'none', why: 'unreadable' }
  return { kind: 'figures', first, second, third, weekday }
}

/** Two figures are of this century. */
const longYear = (year: string): string => (year.length === 2 ? `20${year}` : year)

function dayShape(year: string, month: number, day: number): DateShape {
  const found = parseDay(`${year}-${two(String(month))}-${two(String(day))}`)
  return found ? { kind: 'day', day: found, time: null } : { kind: 'none', why: 'no-such-day' }
}

interface Named {
  weekday: string
  day: number
  month: string
  year: string
}
function namedShape({ weekday, day, month, year }: Named): DateShape {
  const number = MONTHS.get(month.toLowerCase())
  if (number === undefined) return { kind: 'none', why: 'unreadable' }
  const made = dayShape(longYear(year), number, day)
  if (made.kind !== 'day') return made
  return onWeekday(year.length === 2 ? { ...made, shortYear: true } : made, weekday)
}

/** The date, unless it falls on another weekday than is written. One in a language we do not read proves nothing. */
function onWeekday(shape: DateShape, weekday: string): DateShape {
  const said = WEEKDAYS.indexOf(weekday.slice(0, 3).toLowerCase())
  if (shape.kind !== 'day' || said < 0) return shape
  return said === new Date(`${shape.day}T00:00:00Z`).getUTCDay() ? shape : { kind: 'none', why: 'weekday' }
}

/** Days since 1899-12-30, or since 1904-01-01; only serials of this century and the last are taken for dates. */
function serialShape(serial: number, system: '1900' | '1904'): DateShape {
  const first = system === '1900' ? Date.UTC(1899, 11, 30) : Date.UTC(1904, 0, 1)
  // In minutes first: a serial just short of midnight is the next day, not the 24th hour of this one.
  const minutes = Math.round(serial * 1440)
  const days = Math.floor(minutes / 1440)
  if (days < 10_000 || days > 80_000) return { kind: 'none', why: 'unreadable' }
  const day = new Date(first + days * 86_400_000).toISOString().slice(0, 10) as Day
  const time = minutes % 1440
  return { kind: 'day', day, time: time === 0 ? null : time }
}

const ORDERS = ['ymd', 'dmy', 'mdy'] as const

/** Which orders of figures one cell allows. A year of two figures may stand first: `26-11-24`. */
function ordersOf({ first, second, third }: Extract<DateShape, { kind: 'figures' }>): DateOrder[] {
  const isDay = (text: string): boolean => Number(text) >= 1 && Number(text) <= 31
  const isMonth = (text: string): boolean => Number(text) >= 1 && Number(text) <= 12
  const allowed: Record<DateOrder, boolean> = {
    ymd: first.length === 2 && third.length === 2 && isMonth(second) && isDay(third),
    dmy: isDay(first) && isMonth(second),
    mdy: isMonth(first) && isDay(second),
  }
  return ORDERS.filter((order) => allowed[order])
}

/**
 * The orders that the whole file allows: what every one of its dates can be read in. One alone is proof, none is a
 * contradiction, several must be asked; null where no date needs an order. A cell that is a date in no order is told
 * by itself and proves nothing.
 */
export function orderOf(shapes: Iterable<DateShape>): readonly DateOrder[] | null {
  let allowed: readonly DateOrder[] | null = null
  for (const shape of shapes) {
    if (shape.kind !== 'figures') continue
    const here = ordersOf(shape)
    if (here.length > 0) allowed = (allowed ?? ORDERS).filter((order) => here.includes(order))
  }
  return allowed
}

export type DateRefusal = Extract<DateShape, { kind: 'none' }>['why'] | 'order'

/** The day a cell means under the file's order. Two-figure years are of this century, except in a birth date, where they are none. */
export function dayOfShape(
  shape: DateShape,
  { order, birth }: { order: DateOrder | null; birth: boolean },
): Result<Day, DateRefusal> {
  if (shape.kind === 'none') return refuse(shape.why)
  if (shape.kind === 'day') return birth && shape.shortYear ? refuse('century') : ok(shape.day)
  if (order === null) return refuse('order')
  const { first, second, third, weekday } = shape
  const [year, month, day] = {
    ymd: [first, second, third],
    dmy: [third, second, first],
    mdy: [third, first, second],
  }[order] as [string, string, string]
  if (order === 'ymd' && (first.length !== 2 || third.length !== 2)) return refuse('no-such-day')
  if (year.length === 2 && birth) return refuse('century')
  const made = onWeekday(dayShape(longYear(year), Number(month), Number(day)), weekday)
  return made.kind === 'day' ? ok(made.day) : refuse(made.kind === 'none' ? made.why : 'unreadable')
}

/** What a person chose stands where the file allows it; else what the file itself proves. */
export function chosenOrder(allowed: readonly DateOrder[] | null, said: DateOrder | null): DateOrder | null {
  if (allowed === null) return said
  const [only, ...more] = allowed
  if (said !== null) return allowed.includes(said) ? said : null
  return only !== undefined && more.length === 0 ? only : null
}

const STATUSES: ReadonlyMap<string, AppointmentStatus> = new Map(
  Object.entries({
    proposed: 'proposed provisional requested',
    pending: 'pending tentative unconfirmed',
    booked: 'booked confirmed scheduled planned active ok yes gebucht bestätigt geplant confirmé',
    arrived: 'arrived here angekommen',
    'checked-in': 'checked-in checkedin waiting',
    fulfilled: 'fulfilled completed complete done finished seen erledigt',
    cancelled: 'cancelled canceled cancelation cancellation abgesagt storniert annulé',
    noshow: 'noshow no-show dna fta missed failed-to-attend did-not-attend nichterschienen',
    'entered-in-error': 'entered-in-error error deleted void',
    waitlist: 'waitlist waiting-list standby',
  } satisfies Record<AppointmentStatus, string>).flatMap(([status, words]) =>
    words.split(' ').map((word): [string, AppointmentStatus] => [word, status as AppointmentStatus]),
  ),
)
/** A status word of a day list; an empty cell is a booked appointment; null where the word is not known. */
export const parseStatus = (text: string): AppointmentStatus | null =>
  text.trim() === '' ? 'booked' : (STATUSES.get(plain(text).toLowerCase().replace(/[ _]/g, '-')) ?? null)

/** A length in minutes: `30`, `30 min`, `0:45`, `1h30`, `1,5 h`; null where it is none or not above zero. */
export function parseMinutes(text: string): number | null {
  const cell = plain(text).toLowerCase()
  const clock = /^(\d{1,2})\s*(?:[:h]|hrs?|hours?|std)\s*(\d{2})\s*(?:m|min|mins|minutes)?$/.exec(cell)
  if (clock) return above(Number(clock[1]) * 60 + Number(clock[2]))
  const amount = /^(\d{1,4})(?:[.,](\d+))?\s*(m|min|mins|minutes?|minuten|h|hrs?|hours?|std)?\.?$/.exec(cell)
  if (!amount) return null
  const value = Number(`${amount[1]}.${amount[2] ?? 0}`)
  return above(/^(h|std)/.test(amount[3] ?? '') ? value * 60 : value)
}

/** A day's work at most; parts of a minute are refused. */
export const above = (minutes: number): number | null =>
  Number.isInteger(minutes) && minutes > 0 && minutes <= 24 * 60 ? minutes : null
