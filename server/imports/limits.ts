import type {
  Coverage,
  Incoming,
  IncomingAllergy,
  IncomingAppointment,
  IncomingPatient,
  IncomingProblem,
} from '#shared/schedule/incoming.ts'
import { MOST_DAYS_COVERED, problemOf } from './incoming.ts'

/** As long as a name, a number or an id may be, and a line of work or a note. Letters. */
const SHORT = 500
const LONG = 8000
const MOST_APPOINTMENTS = 20_000
/** So many rows that cannot be taken are one mistake, not many. */
export const MOST_PROBLEMS = 2000

/** Moves to the problems what no command would take, and refuses as a whole what can only be the wrong file. */
export function keepWithin(incoming: Incoming): Incoming {
  const { appointments, allergies, problems } = incoming
  const tooLong = [...appointments.filter(isTooLong), ...allergies.filter(isLongAllergy)]
  const all = [...problems, ...tooLong.map(longProblem)]
  if (appointments.length > MOST_APPOINTMENTS || allergies.length > 2 * MOST_APPOINTMENTS)
    return refused(incoming, `The file holds more than ${MOST_APPOINTMENTS} appointments.`)
  if (all.length > MOST_PROBLEMS)
    return refused(incoming, `More than ${MOST_PROBLEMS} rows of the file cannot be taken.`)
  if (tooLong.length === 0 && isCoverable(incoming.covers)) return incoming
  return {
    ...incoming,
    // What is covered can vanish, so it is never widened: more than can be named is nothing at all.
    covers: isCoverable(incoming.covers) ? incoming.covers : null,
    appointments: appointments.filter((each) => !isTooLong(each)),
    allergies: allergies.filter((each) => !isLongAllergy(each)),
    problems: all,
  }
}

const isCoverable = (covers: Coverage | null): boolean =>
  covers === null ||
  (covers.days.length <= MOST_DAYS_COVERED &&
    (covers.operatories?.length ?? 0) <= 200 &&
    !isOver(SHORT, ...(covers.operatories ?? [])))

/** The file as one that none is taken of, and why. */
export const refused = (incoming: Incoming, what: string): Incoming => ({
  ...incoming,
  appointments: [],
  allergies: [],
  covers: null,
  problems: [
    problemOf(
      { line: 1, field: 'file', original: incoming.problems[0]?.original ?? '' },
      what,
      'It may be the wrong file, or its columns are read the wrong way, so none of it was taken.',
      'Look at the columns once more, or export fewer days, and bring it again.',
    ),
  ],
})

const isOver = (most: number, ...texts: (string | null | undefined)[]): boolean =>
  texts.some((text) => (text?.length ?? 0) > most)

const isLongPatient = (patient: IncomingPatient | null): boolean =>
  patient !== null &&
  (patient.identifiers.length > 20 ||
    isOver(
      SHORT,
      patient.given,
      patient.family,
      ...patient.identifiers.flatMap(({ system, value }) => [system, value]),
    ))

const isTooLong = ({
  externalId,
  recurrenceKey,
  operatory,
  dentist,
  patient,
  work,
  note,
}: IncomingAppointment): boolean =>
  isOver(SHORT, externalId, recurrenceKey, operatory, dentist) ||
  isOver(LONG, note, ...(work ?? []).map(({ text }) => text)) ||
  (work?.length ?? 0) > 50 ||
  (work ?? []).some(({ teeth }) => teeth.length > 52 || isOver(SHORT, ...teeth.map(({ text }) => text))) ||
  isLongPatient(patient)

const isLongAllergy = (allergy: IncomingAllergy): boolean =>
  isOver(LONG, allergy.text) ||
  (allergy.kind === 'coded' && isOver(SHORT, allergy.code?.system, allergy.code?.code)) ||
  isLongPatient(allergy.patient)

const longProblem = (entry: IncomingAppointment | IncomingAllergy): IncomingProblem =>
  problemOf(
    {
      line: entry.line,
      field: 'row',
      original: JSON.stringify(entry),
      externalId: 'externalId' in entry ? entry.externalId : null,
    },
    'A name, a number or a note in this row is longer than any can be.',
    'Cells may have run together, so which words belong where cannot be told.',
    'Mend the row in the file and bring it again, or enter this appointment by hand.',
  )
