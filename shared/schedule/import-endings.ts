import { digestOf } from '../base/digest.ts'
import type { World } from '../facts.ts'
import { type Appointment, isOver } from './appointment.ts'
import type { Ending, ImportSource } from './import-batch.ts'
import { OWN } from './import-matches.ts'
import { isOlder } from './import-versions.ts'
import type { IncomingAppointment, IncomingProblem } from './incoming.ts'

/** What a row ends, where it says that nobody comes any more and its source knows it by an id. */
export function endingOf({
  status,
  externalId,
  recurrenceKey,
  sequence,
  stamp,
}: Pick<
  IncomingAppointment,
  'status' | 'externalId' | 'recurrenceKey' | 'sequence' | 'stamp'
>): Ending | null {
  if (externalId === null) return null
  return status === 'cancelled' || status === 'noshow' || status === 'entered-in-error'
    ? { status, recurrenceKey, sequence, stamp }
    : null
}

interface Ended {
  /** Rows that end what is known or stands in the same file, with its time for theirs. */
  rows: IncomingAppointment[]
  /** Problems that are none any more, since what they end is known. */
  settled: Set<IncomingProblem>
}

/**
 * Messages that end an appointment by its id, though they name no time, as FHIR and RFC 5546 allow: where it is known,
 * it is ended; else they stay to be asked, and are kept, so that a booking which comes late is known as late.
 */
export function endByIds(
  world: World,
  source: ImportSource,
  {
    appointments,
    problems,
  }: { appointments: readonly IncomingAppointment[]; problems: readonly IncomingProblem[] },
): Ended {
  const ended: Ended = { rows: [], settled: new Set() }
  const ends = problems.filter(({ ends: ending, externalId }) => ending && externalId)
  if (ends.length === 0) return ended
  const visits = new Map<string, Appointment[]>()
  for (const visit of world.appointment) {
    const ids = [
      `${OWN}${visit.id}`,
      ...(visit.external?.sourceId === source.id ? [visit.external.externalId] : []),
    ]
    for (const id of ids) visits.set(id, [...(visits.get(id) ?? []), visit])
  }
  for (const problem of ends) {
    const { ends: ending, externalId = '', line } = problem
    if (!ending) continue
    const known = visits.get(externalId) ?? []
    const ofKey = known.find(({ external }) => (external?.recurrenceKey ?? '') === ending.recurrenceKey)
    const sibling = appointments.find((each) => isOfId(each, externalId, ending))
    const like = ofKey ?? (ending.recurrenceKey === '' ? known[0] : undefined) ?? sibling
    if (like === undefined) continue
    ended.rows.push(rowThatEnds(ending, { line, externalId, like }))
    ended.settled.add(problem)
  }
  return ended
}

const isOfId = (row: IncomingAppointment, externalId: string, { recurrenceKey }: Ending): boolean =>
  row.externalId === externalId && row.recurrenceKey === recurrenceKey

type Timed = Pick<IncomingAppointment, 'day' | 'startsAt' | 'zone' | 'start' | 'minutes'>

function rowThatEnds(
  { status, recurrenceKey, sequence, stamp }: Ending,
  {
    line,
    externalId,
    like: { day, startsAt, zone, start, minutes },
  }: { line: number; externalId: string; like: Timed },
): IncomingAppointment {
  const said = {
    ...{ externalId, recurrenceKey, status, day, startsAt, zone, start, minutes },
    ...{ operatory: null, dentist: null, patient: null, work: null, note: null },
  }
  // Without a day it is of all of them (RFC 5546 section 3.2.5, READ).
  const whole = recurrenceKey === '' ? { whole: { sequence, stamp } } : {}
  return { ...said, ...whole, line, sequence, stamp, contentHash: digestOf(said) }
}

/** Whether a source has ended an appointment before its booking came, in a version that is newer. */
export function openTombstones(world: World, source: ImportSource): (row: IncomingAppointment) => boolean {
  const runs = new Set(world.importBatch.filter(({ sourceId }) => sourceId === source.id).map(({ id }) => id))
  const endings = new Map<string, Ending[]>()
  for (const { batchId, ends } of world.importProblem)
    if (ends && runs.has(batchId))
      endings.set(ends.externalId, [...(endings.get(ends.externalId) ?? []), ends])
  return (row) =>
    !isOver(row.status) &&
    (endings.get(row.externalId ?? '') ?? []).some(
      (ending) =>
        (ending.recurrenceKey === '' || ending.recurrenceKey === row.recurrenceKey) && isOlder(row, ending),
    )
}
