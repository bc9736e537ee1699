import { digestOf } from '../base/digest.ts'
import type { Day } from '../base/moment.ts'
import { type Appointment, isOver, type Version } from './appointment.ts'
import { isOlder as isBefore } from './import-versions.ts'
import type { IncomingAppointment, IncomingProblem } from './incoming.ts'

/** All rows of one external id in a file, and all visits known of it. */
export interface SeriesCase {
  rows: readonly IncomingAppointment[]
  visits: readonly Appointment[]
  today: Day
  /** Whether some of it could not be read. */
  unread: boolean
}

export interface SettledSeries {
  /** Which visit each row means; rows that mean none are new. */
  matches: { incoming: IncomingAppointment; known: Appointment | undefined; stale?: true }[]
  /** Visits that the file speaks of, though it is not told in what way. */
  spokenOf: Appointment[]
  problems: IncomingProblem[]
  /** The version as of which what is known and not matched is gone; null where it may still stand. */
  goneAsOf: Version | null
}

/**
 * The rows of one external id against its visits. A key that is known is its visit. What the file gives whole and under
 * other keys has been moved: the visit of the same start, of the same day, or of the same place in a series that has
 * moved altogether. Where that is not plain, it is asked once, and nothing is booked beside what stands.
 */
export function settleSeries(all: SeriesCase): SettledSeries {
  const { rows, visits } = all
  const [only] = rows
  if (only && rows.length === 1 && isWholeCancelled(only) && visits.some(isOfSeries))
    return cancelAll(only, all)
  const keyed = matchByKey(rows, visits)
  const matches: SettledSeries['matches'] = [...keyed].map(([incoming, known]) => ({ incoming, known }))
  const matched = new Set(keyed.values())
  const open = rows.filter((row) => !keyed.has(row))
  const left = visits.filter((visit) => !matched.has(visit) && !isOver(visit.status))
  const newest = newestWhole(visits)
  const stale = newest ? open.filter((row) => isBefore(row.whole ?? row, newest.version)) : []
  for (const incoming of stale) matches.push({ incoming, known: newest?.visit, stale: true })
  const fresh = open.filter((row) => !stale.includes(row))
  const whole = rows.find((row) => row.whole && !(newest && isBefore(row.whole, newest.version)))?.whole
  const moved = pairMoved(fresh, left, { ...all, matched: matches.length > 0 })
  return {
    matches: [...matches, ...moved.pairs],
    spokenOf: moved.asked.length > 0 ? left : [],
    problems: moved.asked.length > 0 ? [askSeries(moved.asked, moved.left)] : [],
    goneAsOf: moved.asked.length === 0 ? (whole ?? null) : null,
  }
}

/**
 * A series that was cancelled, booked again at another time and moved back: its old visits are known by the same keys,
 * but those that stand are meant.
 */
function matchByKey(
  rows: readonly IncomingAppointment[],
  visits: readonly Appointment[],
): Map<IncomingAppointment, Appointment> {
  const standing = visits.filter(({ status }) => !isOver(status))
  const keys = new Set(rows.map(({ recurrenceKey }) => recurrenceKey))
  const moved = standing.some(({ external }) => !keys.has(external?.recurrenceKey ?? ''))
  const byKey = new Map([...visits, ...standing].map((visit) => [visit.external?.recurrenceKey, visit]))
  const matches = new Map<IncomingAppointment, Appointment>()
  for (const row of rows) {
    const known = byKey.get(row.recurrenceKey)
    const revives = known !== undefined && isOver(known.status) && !isOver(row.status)
    if (known && !(revives && moved && row.whole)) matches.set(row, known)
  }
  return matches
}

const isOfSeries = ({ external }: Appointment): boolean => (external?.recurrenceKey ?? '') !== ''

/** A cancellation that names no day is of all of them (RFC 5546 section 3.2.5, READ). */
const isWholeCancelled = ({ whole, recurrenceKey, status }: IncomingAppointment): boolean =>
  whole !== undefined && recurrenceKey === '' && status === 'cancelled'

/** Cancels what is to come. Where nothing is, the last visit carries the version, so that a late message is known as late. */
function cancelAll(incoming: IncomingAppointment, { visits, today }: SeriesCase): SettledSeries {
  const coming = visits.filter((visit) => !isOver(visit.status) && visit.day >= today)
  const last = [...visits].sort(byStart).slice(-1)
  const matches = (coming.length > 0 ? coming : last).map((known) => ({
    incoming: asVisit(incoming, known, coming.length > 0),
    known,
  }))
  return { matches, spokenOf: [...visits], problems: [], goneAsOf: null }
}

/** A message about a whole series, said of one visit of it. */
function asVisit(incoming: IncomingAppointment, known: Appointment, cancels: boolean): IncomingAppointment {
  const { day, startsAt, zone, start, minutes, external } = known
  const said = {
    recurrenceKey: external?.recurrenceKey ?? '',
    status: cancels ? incoming.status : known.status,
    day,
    startsAt,
    zone,
    start,
    minutes,
    operatory: null,
    dentist: null,
    patient: null,
    work: null,
    note: null,
  }
  return { ...incoming, ...said, contentHash: digestOf({ externalId: incoming.externalId, ...said }) }
}

/** The newest version in which a source has given the whole of an id, and a visit that it stands with. */
function newestWhole(visits: readonly Appointment[]): { version: Version; visit: Appointment } | null {
  const versions = visits.flatMap((visit) => {
    const { external } = visit
    const version = external?.whole ?? (external?.recurrenceKey === '' ? external : null)
    return version ? [{ version, visit }] : []
  })
  return versions.reduce<(typeof versions)[number] | null>(
    (best, each) => (best === null || isBefore(best.version, each.version) ? each : best),
    null,
  )
}

interface Moved {
  pairs: SettledSeries['matches']
  asked: IncomingAppointment[]
  left: readonly Appointment[]
}

/** Rows under new keys with the visits that no row names any more. */
function pairMoved(
  fresh: readonly IncomingAppointment[],
  left: readonly Appointment[],
  { visits, today, unread, matched }: SeriesCase & { matched: boolean },
): Moved {
  const pairs: Moved['pairs'] = []
  const taken = new Set<Appointment>()
  const pair = (incoming: IncomingAppointment, known: Appointment): void => {
    pairs.push({ incoming, known })
    taken.add(known)
  }
  // One day of a series that came alone may be of any series: it is none of those that stand.
  const [whole, alone] = [fresh.filter((row) => row.whole), fresh.filter((row) => !row.whole)]
  const openRows = () => whole.filter((row) => !pairs.some(({ incoming }) => incoming === row))
  const openVisits = () => left.filter((visit) => !taken.has(visit))
  for (const sameAs of [sameStart, sameDay])
    for (const row of openRows()) {
      const visitsThere = openVisits().filter((visit) => sameAs(row, visit))
      const rowsThere = openRows().filter((other) => sameAs(other, row))
      const [only] = visitsThere
      if (only && visitsThere.length === 1 && rowsThere.length === 1) pair(row, only)
    }
  const rows = openRows().filter(({ day }) => day >= today)
  const toCome = openVisits().filter(({ day }) => day >= today)
  const inOrder = !matched && !unread && pairs.length === 0 && rows.length === toCome.length
  if (inOrder) {
    const sorted = [...toCome].sort(byStart)
    for (const [index, row] of [...rows].sort(byStart).entries()) {
      const known = sorted[index]
      if (known) pair(row, known)
    }
  }
  const lastKnown = [...visits].sort(byStart).at(-1)?.day ?? ''
  // What follows the last day known has only come into the period read; it takes the place of none.
  const among = openRows().filter(({ day }) => !matched || day <= lastKnown)
  const asked = openVisits().some(({ day }) => day >= today) ? among : []
  const added = [...openRows().filter((row) => !asked.includes(row)), ...alone]
  return {
    pairs: [...pairs, ...added.map((incoming) => ({ incoming, known: undefined }))],
    asked,
    left: openVisits(),
  }
}

type Timed = Pick<IncomingAppointment, 'start' | 'day'>
const sameStart = (one: Timed, other: Timed): boolean => one.start === other.start
const sameDay = (one: Timed, other: Timed): boolean => one.day === other.day
const byStart = (one: Timed, other: Timed): number => one.start - other.start

function askSeries(asked: readonly IncomingAppointment[], left: readonly Appointment[]): IncomingProblem {
  const said = (times: readonly { day: Day; startsAt: string }[]): string =>
    times
      .slice(0, 10)
      .map(({ day, startsAt }) => `${day} ${startsAt}`)
      .join(', ')
  const [first] = asked
  return {
    line: first?.line ?? 1,
    field: 'RRULE',
    text: `The days of this series have changed, and which visit became which cannot be told. Taken as they stand, the patient would be booked twice. Move or cancel the visits by hand: known are ${said(left)}; listed now are ${said(asked)}.`,
    original: `${first?.externalId ?? ''} · ${said(asked)}`,
    ...(first?.externalId ? { externalId: first.externalId } : {}),
  }
}
