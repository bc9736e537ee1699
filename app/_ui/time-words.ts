import { clockTimeOf, type Day, dayOf, type Instant, type Minutes, type Zone } from '#shared/base/moment.ts'

export const timeOf = (at: Instant, zone: Zone): string => clockTimeOf(at, zone)

/** `Tuesday 24 November`. */
export const dayWords = (day: Day): string =>
  new Intl.DateTimeFormat('en-GB', {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    timeZone: 'UTC',
  }).format(new Date(`${day}T00:00:00Z`))

/** `12 Feb 1997`. */
export const dateWords = (day: Day): string =>
  new Intl.DateTimeFormat('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    timeZone: 'UTC',
  }).format(new Date(`${day}T00:00:00Z`))

/** `12 Feb 1997 08:40`. */
export const whenWords = (at: Instant, zone: Zone): string =>
  `${dateWords(dayOf(at, zone))} ${timeOf(at, zone)}`

export const bornWords = (day: Day | null): string => (day === null ? 'birth date not known' : dateWords(day))

/** `24 min`, `1 h 13 min`. */
export function spanWords(minutes: Minutes): string {
  if (minutes < 60) return `${minutes} min`
  const rest = minutes % 60
  return rest === 0 ? `${(minutes - rest) / 60} h` : `${(minutes - rest) / 60} h ${rest} min`
}
