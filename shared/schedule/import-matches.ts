import type { Day } from '../base/moment.ts'
import type { World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import type { Appointment, Version } from './appointment.ts'
import { plainName } from './import-batch.ts'
import { isSamePerson, nameOnePerson } from './import-people.ts'
import { ROW } from './import-renewed.ts'
import type { ReadContent } from './import-run.ts'
import { settleSeries } from './import-series.ts'
import { compareVersions } from './import-versions.ts'
import type { IncomingAppointment, IncomingProblem } from './incoming.ts'

/** Which known appointment a row means. `own`: it was named by our own id, as our exports do. */
export interface Match {
  known: Appointment | undefined
  own: boolean
  /** Its series has moved on since this was written. */
  stale?: true
}

export interface AppointmentIndex {
  matches: { incoming: IncomingAppointment; match: Match }[]
  /** Known appointments that the file still speaks of, taken or not. */
  listed: Set<AppointmentId>
  problems: IncomingProblem[]
  /** External ids of which the file gives the whole: what else is known of them is gone as of that version. */
  goneAsOf: Map<string, Version>
}

/** Before our own id, where a file of ours brings it back. */
export const OWN = 'weirboard:'
const keyOf = ({ externalId, recurrenceKey }: { externalId: string | null; recurrenceKey: string }): string =>
  `${externalId}\n${recurrenceKey}`

/** Finds for each row the appointment it means: by the source's id, by our own, else by name, birth date and start. */
export function openAppointmentIndex(world: World, content: ReadContent, today: Day): AppointmentIndex {
  const index: AppointmentIndex = { matches: [], listed: new Set(), problems: [], goneAsOf: new Map() }
  const newest = newestOfEach(content.appointments, index.problems)
  const known = openKnown(world, content)
  const withoutId: IncomingAppointment[] = []
  for (const incoming of takeSeries(index, known, { newest, today })) {
    const match = matchById(known, incoming)
    if (match.known === undefined && incoming.patient !== null) withoutId.push(incoming)
    else take(index, incoming, match)
  }
  const unsettled = withoutId.filter((incoming) => !matchByStart(index, known, incoming))
  matchMoved(index, known, unsettled)
  for (const problem of index.problems) markListed(index, known, problem.line, content.appointments)
  return index
}

/** Takes the rows of ids that are a series, known or listed, together; gives the others. */
function takeSeries(
  index: AppointmentIndex,
  known: Known,
  { newest, today }: { newest: readonly IncomingAppointment[]; today: Day },
): IncomingAppointment[] {
  const rows = new Map<string, IncomingAppointment[]>()
  for (const incoming of newest) {
    const id = incoming.externalId ?? ''
    rows.set(id, [...(rows.get(id) ?? []), incoming])
  }
  const rivals = new Set(index.problems.map(({ externalId }) => externalId))
  const others: IncomingAppointment[] = []
  for (const [id, of] of rows) {
    const visits = known.ofId.get(id) ?? []
    const keys = [...of.map(({ recurrenceKey }) => recurrenceKey), ...visits.map(keyOfVisit)]
    if (visits.length === 0 || rivals.has(id) || keys.every((key) => key === '')) {
      others.push(...of)
      continue
    }
    const settled = settleSeries({ rows: of, visits, today, unread: known.content.unread.ids.has(id) })
    for (const { incoming, known: visit, stale } of settled.matches)
      if (visit) take(index, incoming, { known: visit, own: false, ...(stale ? { stale } : {}) })
      else others.push(incoming)
    for (const visit of settled.spokenOf) index.listed.add(visit.id)
    index.problems.push(...settled.problems)
    if (settled.goneAsOf) index.goneAsOf.set(id, settled.goneAsOf)
  }
  return others.sort((one, other) => one.line - other.line)
}

const keyOfVisit = ({ external }: Appointment): string => external?.recurrenceKey ?? ''

function take(index: AppointmentIndex, incoming: IncomingAppointment, match: Match): void {
  index.matches.push({ incoming, match })
  if (match.known) index.listed.add(match.known.id)
}

/** Of several messages about one appointment only the newest counts; two that say different things at once are asked. */
function newestOfEach(
  appointments: readonly IncomingAppointment[],
  problems: IncomingProblem[],
): IncomingAppointment[] {
  const groups = new Map<string, IncomingAppointment[]>()
  const alone: IncomingAppointment[] = []
  for (const incoming of appointments)
    if (incoming.externalId === null) alone.push(incoming)
    else groups.set(keyOf(incoming), [...(groups.get(keyOf(incoming)) ?? []), incoming])
  const chosen = [...groups.values()].flatMap((group) => {
    const [first, ...rest] = group
    if (first === undefined) return []
    const newest = rest.reduce((best, each) => (compareVersions(each, best) > 0 ? each : best), first)
    const rivals = group.filter((each) => compareVersions(each, newest) === 0 || isOfAnother(each, newest))
    if (rivals.every(({ contentHash }) => contentHash === newest.contentHash)) return [newest]
    problems.push(...rivals.map(sayRival))
    return []
  })
  return [...chosen, ...distinctRows(alone)].sort((one, other) => one.line - other.line)
}

/** An id that runs again from one, or that a spreadsheet has cut short, is several people's on several days. */
const isOfAnother = (each: IncomingAppointment, newest: IncomingAppointment): boolean =>
  each.day !== newest.day && !nameOnePerson(each.patient, newest.patient)

/** A row that stands twice word for word is one row. */
const distinctRows = (rows: IncomingAppointment[]): IncomingAppointment[] => [
  ...new Map(rows.map((row) => [row.contentHash, row])).values(),
]

const sayRival = ({ line, externalId, day, startsAt }: IncomingAppointment): IncomingProblem => ({
  line,
  field: 'id',
  text: `The file speaks of appointment "${externalId}" more than once and does not say which is newer. Taking the wrong one would move a patient. Find out which holds, and enter it by hand.`,
  original: `${externalId} · ${day} ${startsAt}`,
  externalId: externalId ?? undefined,
})

interface Known {
  world: World
  content: ReadContent
  byExternal: Map<string, Appointment>
  /** All visits that the source gave under one id. */
  ofId: Map<string, Appointment[]>
  byId: Map<string, Appointment>
  bySlot: Map<string, Appointment[]>
  patients: Map<string, World['patient'][number]>
}

function openKnown(world: World, content: ReadContent): Known {
  const byExternal = new Map<string, Appointment>()
  const bySlot: Known['bySlot'] = new Map()
  const ofId: Known['ofId'] = new Map()
  for (const appointment of world.appointment) {
    if (appointment.external?.sourceId === content.source.id) {
      byExternal.set(keyOf(appointment.external), appointment)
      const { externalId } = appointment.external
      ofId.set(externalId, [...(ofId.get(externalId) ?? []), appointment])
    }
    // A visit of another source is not ours to change; one entered by hand has no source and may be adopted.
    if (appointment.external === null || appointment.external.sourceId === content.source.id) {
      const slot = String(appointment.start)
      bySlot.set(slot, [...(bySlot.get(slot) ?? []), appointment])
    }
  }
  return {
    world,
    content,
    byExternal,
    ofId,
    byId: new Map(world.appointment.map((appointment) => [appointment.id as string, appointment])),
    bySlot,
    patients: new Map(world.patient.map((patient) => [patient.id as string, patient])),
  }
}

function matchById(known: Known, incoming: IncomingAppointment): Match {
  if (incoming.externalId === null) return { known: undefined, own: false }
  const own = incoming.externalId.startsWith(OWN)
    ? known.byId.get(incoming.externalId.slice(OWN.length))
    : undefined
  return own ? { known: own, own: true } : { known: known.byExternal.get(keyOf(incoming)), own: false }
}

const isTheirs = (
  { patients }: Known,
  { patientId }: Appointment,
  { patient }: IncomingAppointment,
): boolean => {
  const standing = patients.get(patientId)
  return standing !== undefined && patient !== null && isSamePerson(standing, patient)
}

/** Whether its source gave it without an id of its own. */
const isWithoutId = ({ external }: Appointment): boolean => external?.externalId.startsWith(ROW) ?? false

/** Same person, same start. Two that fit are told apart by the operatory, or asked. */
function matchByStart(index: AppointmentIndex, known: Known, incoming: IncomingAppointment): boolean {
  const fitting = (known.bySlot.get(String(incoming.start)) ?? []).filter(
    (each) =>
      !index.listed.has(each.id) &&
      isTheirs(known, each, incoming) &&
      // A row with its own id is not the row of another id; but one that had none before may have got it.
      (incoming.externalId === null || each.external === null || isWithoutId(each)),
  )
  const named = fitting.filter(({ operatoryId }) => {
    const operatory = known.world.operatory.find(({ id }) => id === operatoryId)
    return (
      operatory !== undefined &&
      incoming.operatory !== null &&
      plainName(operatory.name) === plainName(incoming.operatory)
    )
  })
  const [only, ...more] = fitting.length > 1 && named.length === 1 ? named : fitting
  if (only === undefined) return false
  if (more.length === 0) {
    take(index, incoming, { known: only, own: false })
    return true
  }
  for (const each of fitting) index.listed.add(each.id)
  index.problems.push({
    line: incoming.line,
    field: 'patient',
    text: 'Two appointments of this patient fit this row, and it carries no id. Changing the wrong one would move a patient. Change the right one by hand.',
    original: `${incoming.patient?.family ?? ''}, ${incoming.patient?.given ?? ''} · ${incoming.day} ${incoming.startsAt}`,
  })
  return true
}

/**
 * Without ids a moved row looks like one gone and one new. It is the same appointment where the patient has
 * exactly one of each on the day and the work is word for word the same; otherwise it stays new, and the old is asked.
 */
function matchMoved(index: AppointmentIndex, known: Known, unsettled: readonly IncomingAppointment[]): void {
  const rivals = new Map<string, number>()
  for (const incoming of unsettled)
    rivals.set(personDay(incoming), (rivals.get(personDay(incoming)) ?? 0) + 1)
  const rowsOfDay = new Map<string, Appointment[]>()
  for (const each of known.byExternal.values())
    if (isWithoutId(each) && !index.listed.has(each.id))
      rowsOfDay.set(each.day, [...(rowsOfDay.get(each.day) ?? []), each])
  for (const incoming of unsettled) {
    const gone = (rowsOfDay.get(incoming.day) ?? []).filter((each) => isTheirs(known, each, incoming))
    const [only, ...more] = gone
    const alone = incoming.externalId === null && more.length === 0 && rivals.get(personDay(incoming)) === 1
    const moved =
      alone &&
      only !== undefined &&
      wordsOf(known.world, only) === (incoming.work ?? []).map(({ text }) => text).join('\n')
    take(index, incoming, { known: moved ? only : undefined, own: false })
  }
}

const personDay = ({ day, patient }: IncomingAppointment): string =>
  `${day}|${plainName(patient?.family ?? '')}|${plainName(patient?.given ?? '')}`
const wordsOf = (world: World, { id }: Appointment): string =>
  world.work
    .filter(({ appointmentId }) => appointmentId === id)
    .sort((one, other) => one.position - other.position)
    .map(({ text }) => text)
    .join('\n')

/** A row that is asked about still lists its appointment: it has not vanished. */
function markListed(
  index: AppointmentIndex,
  known: Known,
  line: number,
  rows: readonly IncomingAppointment[],
): void {
  for (const incoming of rows) {
    const match = incoming.line === line ? matchById(known, incoming).known : undefined
    if (match) index.listed.add(match.id)
  }
}
