import { canonicalJson } from '../base/canonical.ts'
import { type Appointment, type ExternalReference, isOver } from './appointment.ts'
import { type ImportSource, plainName } from './import-batch.ts'
import type { IncomingAppointment } from './incoming.ts'

/** What a row says of when and what; `before`: the note as it stands. */
export const whenAndWhat = (
  { status, day, startsAt, zone, start, minutes, note }: IncomingAppointment,
  before: string,
) => ({
  status,
  day,
  startsAt,
  zone,
  start,
  minutes,
  // Not every format can carry which sign ends a line, or white space around the whole.
  note: note === null || plainLines(note) === plainLines(before) ? before : note,
})

const plainLines = (text: string): string => text.replace(/\r\n?/g, '\n').trim()

/** How the source’s own row is known again. */
export const externalOf = (
  source: ImportSource,
  incoming: IncomingAppointment,
  known?: Appointment,
): Appointment['external'] => ({
  sourceId: source.id,
  ...keyOf(incoming, known?.external ?? null),
  // A list without them does not take back what the source has counted before.
  sequence: incoming.sequence ?? known?.external?.sequence ?? null,
  stamp: incoming.stamp ?? known?.external?.stamp ?? null,
  contentHash: incoming.contentHash,
  whole: incoming.whole ?? known?.external?.whole ?? null,
})

/** A list that leaves its ids out does not take them away. */
function keyOf(
  incoming: IncomingAppointment,
  known: Appointment['external'],
): Pick<ExternalReference, 'externalId' | 'recurrenceKey'> {
  const { externalId, recurrenceKey } = incoming
  if (externalId !== null) return { externalId, recurrenceKey }
  return known && !known.externalId.startsWith(ROW)
    ? { externalId: known.externalId, recurrenceKey: known.recurrenceKey }
    : { externalId: rowKey(incoming), recurrenceKey }
}

/** Before what stands for an id where a file has none. */
export const ROW = 'row:'

/** Where a file has no ids: name, birth date and start. */
export const rowKey = ({ patient, start }: Pick<IncomingAppointment, 'patient' | 'start'>): string =>
  `${ROW}${plainName(patient?.family ?? '')}|${plainName(patient?.given ?? '')}|${patient?.born ?? ''}|${start}`

/**
 * What the clinic has seen is never set back by a list that still says "booked"; and a list that can only say
 * "cancelled" or "tentative" does not blur what is known more exactly.
 */
export function statusAfter(
  { status: known }: Appointment,
  { status }: IncomingAppointment,
): Appointment['status'] {
  const seen = known === 'arrived' || known === 'checked-in' || known === 'fulfilled'
  if (seen && ['proposed', 'pending', 'booked', 'waitlist'].includes(status)) return known
  if (status === 'cancelled' && (known === 'noshow' || known === 'entered-in-error')) return known
  return status === 'pending' && (known === 'proposed' || known === 'waitlist') ? known : status
}

/** Whether a patient would be sent away, called elsewhere or become another. */
export const isMoved = (known: Appointment, renewed: Appointment): boolean =>
  (isOver(renewed.status) && renewed.status !== known.status) ||
  known.start !== renewed.start ||
  known.patientId !== renewed.patientId ||
  known.operatoryId !== renewed.operatoryId

export const isSame = (one: object, other: object): boolean => canonicalJson(one) === canonicalJson(other)
