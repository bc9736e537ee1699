import type { Span } from '#server/trpc/roster-router.ts'
import { parseClockTime } from '#shared/base/moment.ts'

/** A span of time while it is being entered. */
export interface Entered {
  from: string
  to: string
}

/** A shift with its breaks, as a person thinks of the hours that they are there. */
export interface Shift {
  shift: Entered
  breaks: Entered[]
}

const EMPTY: Entered = { from: '', to: '' }

/** Hours that follow each other are one shift; what lies between them is a break. */
export function shiftOf(hours: readonly Span[]): Shift {
  const [first] = hours
  const last = hours.at(-1)
  if (!first || !last) return { shift: EMPTY, breaks: [] }
  return {
    shift: { from: first.from, to: last.to },
    breaks: hours.slice(1).map(({ from }, index) => ({ from: hours[index]?.to ?? from, to: from })),
  }
}

/** The hours of a shift without its breaks; null where what is entered is no such thing. An empty shift has none. */
export function hoursOf({ shift, breaks }: Shift): Span[] | null {
  if (isBlank(shift)) return breaks.every(isBlank) ? [] : null
  const whole = readSpan(shift)
  if (whole === null) return null
  const hours: Span[] = []
  let { from } = whole
  for (const each of breaks) {
    if (isBlank(each)) continue
    const rest = readSpan(each)
    if (rest === null || rest.from <= from || rest.to >= whole.to) return null
    hours.push({ from, to: rest.from })
    from = rest.to
  }
  return [...hours, { from, to: whole.to }]
}

export const isBlank = ({ from, to }: Entered): boolean => from.trim() === '' && to.trim() === ''

/** Null where one of them is no clock time, or the second is not later. */
export function readSpan({ from, to }: Entered): Span | null {
  const [first, last] = [parseClockTime(from.trim()), parseClockTime(to.trim())]
  return first !== null && last !== null && first < last ? { from: first, to: last } : null
}

export const spanText = ({ from, to }: Span): string => `${from}–${to}`
