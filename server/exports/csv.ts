import type { World } from '#shared/facts.ts'
import { type ExportedAppointment, exportedOf, isoWithOffset, markIn } from './day.ts'
import { guardedText } from './formula-guard.ts'

const HEADERS = [
  'Weirboard id',
  'Start',
  'Minutes',
  'Operatory',
  'Dentist',
  'Family name',
  'Given name',
  'Born',
  'Status',
  'Procedure',
  'Note',
  'Weirboard mark',
] as const

/**
 * The day as a delimited file (RFC 4180, UTF-8 with a mark for spreadsheets): a row for each line of work. Times are
 * ISO 8601 with offset. No allergies. Brought back, it changes nothing.
 */
export const makeCsv = (world: World): string =>
  `\uFEFF${[HEADERS, ...exportedOf(world).flatMap(rowsOf)].map((cells) => `${cells.map(makeCell).join(',')}\r\n`).join('')}`

function rowsOf(exported: ExportedAppointment): string[][] {
  const { appointment, patient, operatory, dentist, work } = exported
  const mark = markIn(exported, 'words')
  const texts = work.length === 0 ? [''] : work.map(({ text }) => text)
  return texts.map((text) => [
    appointment.id,
    isoWithOffset(appointment.start, appointment.zone),
    String(appointment.minutes),
    operatory?.name ?? '',
    dentist?.name ?? '',
    patient?.family ?? '',
    patient?.given ?? '',
    patient?.born ?? '',
    appointment.status,
    text,
    appointment.note,
    mark,
  ])
}

/** A cell by RFC 4180 that no spreadsheet runs, in quotes wherever one might split it. */
export function makeCell(text: string): string {
  const guarded = guardedText(text)
  return /[",;|\t\r\n]/.test(guarded) || guarded !== guarded.trim()
    ? `"${guarded.replaceAll('"', '""')}"`
    : guarded
}
