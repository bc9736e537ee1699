import type { Day } from '../base/moment.ts'
import { ok, type Result, refuse } from '../base/result.ts'
import type { World } from '../facts.ts'
import type { ClinicId, PatientId } from '../ids.ts'
import type { Identifier, Patient } from '../people/patient.ts'
import { plainName } from './import-batch.ts'
import type { IncomingPatient } from './incoming.ts'

/** Why nobody was chosen: no name, several fit, or a birth date that is another, missing, or not yet come. */
export type NoPatient =
  | 'unnamed'
  | 'several'
  | 'birth-date-differs'
  | 'birth-date-missing'
  | 'birth-date-ahead'

/** The system under which our own exports carry a patient's id. It is never kept as an identifier. */
export const OWN_PATIENT = 'urn:weirboard:patient'

/** The clinic's patients, findable as an import names them; those it brings are added as they come. */
export interface PatientBook {
  byIdentifier: Map<string, Patient[]>
  byName: Map<string, Patient[]>
  put: Map<PatientId, Patient>
  clinicId: ClinicId
  today: Day
  newId: () => PatientId
}

const identifierKey = ({ system, value }: Identifier): string => `${system}\n${value}`
const ownNumber = ({ id }: Patient): Identifier => ({ system: OWN_PATIENT, value: id })
const nameOf = ({ given, family }: Pick<IncomingPatient, 'given' | 'family'>): string =>
  `${plainName(family)}|${plainName(given)}`

export function openPatientBook(
  world: World,
  { clinicId, today, newId }: Pick<PatientBook, 'clinicId' | 'today' | 'newId'>,
): PatientBook {
  const book: PatientBook = {
    byIdentifier: new Map(),
    byName: new Map(),
    put: new Map(),
    clinicId,
    today,
    newId,
  }
  for (const patient of world.patient) enter(book, patient)
  return book
}

function enter(book: PatientBook, patient: Patient): void {
  const add = (map: Map<string, Patient[]>, key: string) => {
    const others = (map.get(key) ?? []).filter(({ id }) => id !== patient.id)
    map.set(key, [...others, patient])
  }
  for (const identifier of [...patient.identifiers, ownNumber(patient)])
    add(book.byIdentifier, identifierKey(identifier))
  add(book.byName, nameOf(patient))
}

/** Whether a source's words can mean this patient: same name, and no number or birth date that says otherwise. */
export const isSamePerson = (patient: IncomingPatient, incoming: IncomingPatient): boolean =>
  nameOf(patient) === nameOf(incoming) &&
  !isNumberedOtherwise(patient, incoming) &&
  (incoming.born === null || patient.born === null || incoming.born === patient.born)

/** Other numbers in the same system: somebody else, whatever the name. */
const isNumberedOtherwise = (patient: IncomingPatient, incoming: IncomingPatient): boolean =>
  incoming.identifiers.some(({ system }) => {
    const valuesOf = ({ identifiers }: { identifiers: Identifier[] }) =>
      identifiers.filter((each) => each.system === system).map(({ value }) => value)
    const known = valuesOf(patient)
    return known.length > 0 && !valuesOf(incoming).some((value) => known.includes(value))
  })

/** Whether a number says that it is this patient, whatever the name. */
export const isNumberedAlike = (patient: Patient, incoming: IncomingPatient): boolean =>
  shareNumber({ identifiers: [...patient.identifiers, ownNumber(patient)] }, incoming)

const shareNumber = (
  one: Pick<IncomingPatient, 'identifiers'>,
  other: Pick<IncomingPatient, 'identifiers'>,
): boolean => {
  const known = new Set(one.identifiers.map(identifierKey))
  return other.identifiers.some((identifier) => known.has(identifierKey(identifier)))
}

/** Whether two rows can be of one patient, as far as both name one. */
export const nameOnePerson = (one: IncomingPatient | null, other: IncomingPatient | null): boolean =>
  one === null || other === null || isSamePerson(one, other) || shareNumber(one, other)

/** Whether somebody is born after today, or after the day on which they come. Whatever source says so has it wrong. */
export const isBornAhead = ({ today }: PatientBook, { born }: IncomingPatient, comes: Day = today): boolean =>
  born !== null && (born > today || born > comes)

/**
 * The patient a source means: by number, else by name and birth date; a new one where nobody fits. `standing`: whose
 * visit it speaks of is known, so where no number says otherwise a like name is theirs.
 */
export function findPatient(
  book: PatientBook,
  incoming: IncomingPatient,
  standing?: Patient,
): Result<PatientId, NoPatient> {
  if (isBornAhead(book, incoming)) return refuse('birth-date-ahead')
  const numbered = distinct(
    incoming.identifiers.flatMap((identifier) => book.byIdentifier.get(identifierKey(identifier)) ?? []),
  )
  if (numbered.length > 1) return refuse('several')
  const [known] = numbered
  if (known) {
    if (known.born !== null && incoming.born !== null && known.born !== incoming.born)
      return refuse('birth-date-differs')
    return ok(keep(book, renew(known, incoming)))
  }
  // As this run has renewed it.
  const [theirs = standing] = standing
    ? (book.byIdentifier.get(identifierKey(ownNumber(standing))) ?? [])
    : []
  if (theirs && isSamePerson(theirs, incoming))
    return ok(incoming.identifiers.length > 0 ? keep(book, renew(theirs, incoming)) : theirs.id)
  if (incoming.family === '' && incoming.given === '') return refuse('unnamed')
  return findByName(book, incoming)
}

function findByName(book: PatientBook, incoming: IncomingPatient): Result<PatientId, NoPatient> {
  const named = (book.byName.get(nameOf(incoming)) ?? []).filter(
    (patient) => !isNumberedOtherwise(patient, incoming),
  )
  const sameDay = named.filter(({ born }) => born === incoming.born)
  const [same] = sameDay
  if (sameDay.length > 1 || (incoming.born === null && named.length > 1)) return refuse('several')
  if (same) return ok(keep(book, renew(same, incoming)))
  // A name alone says neither that it is one whose birth date is known, nor that it is somebody new.
  const unclear = named.some(({ born }) => born === null || incoming.born === null)
  return unclear ? refuse('birth-date-missing') : ok(keep(book, makePatient(book, incoming)))
}

const distinct = (patients: Patient[]): Patient[] => [
  ...new Map(patients.map((patient) => [patient.id, patient])).values(),
]

const makePatient = (
  { clinicId, newId }: PatientBook,
  { given, family, born, identifiers }: IncomingPatient,
): Patient => ({
  clinicId,
  id: newId(),
  given,
  family,
  born,
  identifiers: identifiers.filter(({ system }) => system !== OWN_PATIENT),
  weight: null,
  guardian: null,
  interpreter: null,
  history: [],
  historyConfirmed: null,
})

/** What a source adds: a birth date not known before, further numbers, a new spelling under the same number. */
function renew(patient: Patient, incoming: IncomingPatient): Patient {
  const more = incoming.identifiers.filter(
    (identifier) =>
      identifier.system !== OWN_PATIENT &&
      !patient.identifiers.some((known) => identifierKey(known) === identifierKey(identifier)),
  )
  const born = patient.born ?? incoming.born
  const renamed = incoming.family !== '' && nameOf(patient) !== nameOf(incoming)
  if (more.length === 0 && born === patient.born && !renamed) return patient
  return {
    ...patient,
    born,
    identifiers: [...patient.identifiers, ...more],
    ...(renamed ? { given: incoming.given, family: incoming.family } : {}),
  }
}

function keep(book: PatientBook, patient: Patient): PatientId {
  const standing = [...(book.byName.get(nameOf(patient)) ?? [])].find((each) => each === patient)
  if (standing === undefined) {
    enter(book, patient)
    book.put.set(patient.id, patient)
  }
  return patient.id
}
