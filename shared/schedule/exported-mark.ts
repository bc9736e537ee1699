import { digestOf } from '../base/digest.ts'
import type { Instant, Minutes } from '../base/moment.ts'
import type { World } from '../facts.ts'
import type { Work } from '../procedures/work.ts'
import type { Tooth } from '../teeth/tooth.ts'
import { type Appointment, type AppointmentStatus, isOver } from './appointment.ts'
import type { IncomingAppointment } from './incoming.ts'

/** How an export of ours says an appointment: in words; with coded teeth; as an event; as one that has no patient. */
export const EXPORT_FORMS = ['words', 'coded', 'event', 'times'] as const
export type ExportForm = (typeof EXPORT_FORMS)[number]

/** The three things that the status of an event can say. */
export type EventStatus = 'booked' | 'pending' | 'cancelled'

export function eventStatus(status: AppointmentStatus): EventStatus {
  if (isOver(status) && status !== 'fulfilled') return 'cancelled'
  return status === 'proposed' || status === 'pending' || status === 'waitlist' ? 'pending' : 'booked'
}

/** An appointment as an export says it. Names are words, since those who bring it home are known by words. */
export interface Said {
  status: AppointmentStatus
  start: Instant
  minutes: Minutes
  operatory: string | null
  dentist: string | null
  patient: { given: string; family: string; born: string | null } | null
  /** Null where nothing is said of it, as where there is none. */
  work: readonly { text: string; teeth: readonly Tooth[] }[] | null
  note: string | null
}

const LETTERS = 16

/**
 * A mark of what an export says of an appointment, so that what comes home unedited is known to be no news. It begins
 * with a letter, so that no spreadsheet takes it for a number; white space and the order of lines do not change it.
 */
export function markOf(said: Said, form: ExportForm): string {
  const { status, start, minutes, operatory, dentist, patient, work, note } = said
  const lines = (work ?? []).map(({ text, teeth }) => [
    plain(text),
    ...(form === 'coded' ? [...teeth].sort() : []),
  ])
  const whole = {
    dentist: plain(dentist ?? ''),
    patient: patient ? [plain(patient.given), plain(patient.family), patient.born] : ['', '', null],
    work: lines.map((line) => line.join('\n')).sort(),
    note: plain(note ?? ''),
  }
  const content = {
    status: form === 'event' || form === 'times' ? eventStatus(status) : status,
    start,
    minutes,
    operatory: plain(operatory ?? ''),
    ...(form === 'times' ? {} : whole),
  }
  return `w${digestOf(content).slice(0, LETTERS)}`
}

const plain = (text: string): string => text.replace(/\s+/g, ' ').trim()

/**
 * How a row of ours stands against what it was exported from and what is known now. `as-known`: it says what is known.
 * `older`: nobody has changed the row, and the visit was changed here since. `edited`: the row was changed, and nothing
 * here. `both`: each was changed. `unknown`: it has lost its mark.
 */
export type SinceExport = 'as-known' | 'older' | 'edited' | 'both' | 'unknown'

export interface Standing {
  known: Appointment
  work: readonly Work[]
  world: Pick<World, 'operatory' | 'member'>
  patient: World['patient'][number] | undefined
}

export function sinceExport(incoming: IncomingAppointment, standing: Standing): SinceExport {
  const { ofOurs } = incoming
  if (ofOurs === undefined || ofOurs.mark === null) return 'unknown'
  const { form, mark } = ofOurs
  const said = saidOf(standing)
  const now = markOf(incoming.work === null ? { ...said, work: null } : said, form)
  const row = markOf(saidBy(incoming), form)
  if (row === now) return 'as-known'
  if (row === mark) return 'older'
  return now === mark ? 'edited' : 'both'
}

const saidBy = ({ work, ...incoming }: IncomingAppointment): Said => ({
  ...incoming,
  work:
    work?.map(({ text, teeth }) => ({ text, teeth: teeth.flatMap(({ candidates }) => candidates) })) ?? null,
})

const saidOf = ({ known, work, world, patient }: Standing): Said => ({
  ...known,
  operatory: world.operatory.find(({ id }) => id === known.operatoryId)?.name ?? null,
  dentist: world.member.find(({ id }) => id === known.dentistId)?.name ?? null,
  patient: patient ?? null,
  work,
})
