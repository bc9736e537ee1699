import { canonicalJson } from '../base/canonical.ts'
import type { Day, Instant } from '../base/moment.ts'
import { type Change, joinChanges, putting, removing } from '../change.ts'
import type { World } from '../facts.ts'
import type { AppointmentId, ClinicId, MemberId, SiteId, WorkId } from '../ids.ts'
import type { Appointment, VisitStage } from './appointment.ts'
import { isOver, VISIT_STAGES } from './appointment.ts'
import type { ScheduleFinding } from './findings.ts'
import { type Changing, withDentist } from './former-dentist.ts'
import { reconcileAllergies } from './import-allergies.ts'
import { type ImportCounts, type ImportSource, plainName } from './import-batch.ts'
import type { ImportFinding } from './import-findings.ts'
import { type AppointmentIndex, type Match, openAppointmentIndex } from './import-matches.ts'
import { findPatient, isSamePerson, openPatientBook, type PatientBook } from './import-people.ts'
import { openPlaces, type Places, type UnknownName } from './import-places.ts'
import { NO_PATIENT, rowProblem, UNDER_WAY } from './import-problems.ts'
import { listedUnread, type Unread } from './import-unread.ts'
import { isOlder } from './import-versions.ts'
import { reconcileWork, type WorkAfter } from './import-work.ts'
import type { Coverage, IncomingAllergy, IncomingAppointment, IncomingProblem } from './incoming.ts'

/** What a file says, and which source says it. */
export interface ImportContent {
  source: ImportSource
  appointments: IncomingAppointment[]
  allergies: IncomingAllergy[]
  covers: Coverage | null
  /** Rows that could not be read: it still lists them. */
  unread: Unread
}

export interface ReconcileContext {
  clinicId: ClinicId
  now: Instant
  today: Day
  by: MemberId
  newId: <Id>() => Id
}

export const OUTCOMES = ['new', 'changed', 'cancelled', 'unchanged', 'older', 'vanished'] as const
export type Outcome = (typeof OUTCOMES)[number]

export interface Reconciled {
  change: Change
  /** What became of each row that was taken; line 0 for what vanished. */
  outcomes: { line: number; outcome: Outcome; appointmentId: AppointmentId }[]
  counts: ImportCounts
  findings: (ImportFinding | ScheduleFinding)[]
  /** Rows that could not be taken, or taken only in part. */
  problems: IncomingProblem[]
  /** Names whose meaning here nobody has said yet, each in the file's words with how many rows use it. */
  names: UnknownName[]
}

/**
 * What is known against what a file says. Only what is newer is written; a cancellation leaves its appointment
 * standing as cancelled, so that a late older message finds it; what a file covers and no longer lists is asked,
 * never dropped; a moved appointment stays the same appointment, so its tray and its plan move with it.
 */
export function reconcile(world: World, content: ImportContent, context: ReconcileContext): Reconciled {
  const run = openRun(world, content, context)
  for (const { incoming, match } of run.index.matches) reconcileOne(run, incoming, match)
  carryTrays(run)
  judgeVanished(run, content)
  const allergies = reconcileAllergies(world, content.allergies, {
    ...context,
    source: content.source.name,
    patientOf: (patient) => findPatient(run.book, patient),
  })
  const problems = [...run.index.problems, ...run.problems, ...run.places.problems, ...allergies.problems]
  return {
    change: joinChanges(changeOf(run), allergies.change),
    outcomes: run.outcomes,
    counts: { ...countOutcomes(run.outcomes), problems: problems.length },
    findings: [...run.findings, ...allergies.findings],
    problems,
    names: run.places.unknown(),
  }
}

const changeOf = ({ book, put, goneWork }: Run): Change =>
  joinChanges(
    putting('patient', ...book.put.values()),
    putting('appointment', ...put.appointment),
    putting('work', ...put.work),
    removing('work', ...goneWork),
    putting('tray', ...put.tray),
  )

interface Run {
  world: World
  source: ImportSource
  context: ReconcileContext
  index: AppointmentIndex
  book: PatientBook
  works: Map<AppointmentId, World['work']>
  patients: Map<string, World['patient'][number]>
  stages: Map<AppointmentId, VisitStage>
  put: { appointment: Appointment[]; work: World['work']; tray: World['tray'] }
  goneWork: WorkId[]
  places: Places
  added: Appointment[]
  cancelled: Appointment[]
  outcomes: Reconciled['outcomes']
  findings: Reconciled['findings']
  problems: IncomingProblem[]
}

function openRun(world: World, content: ImportContent, context: ReconcileContext): Run {
  const works: Run['works'] = new Map()
  for (const work of world.work)
    works.set(work.appointmentId, [...(works.get(work.appointmentId) ?? []), work])
  return {
    world,
    source: content.source,
    context,
    index: openAppointmentIndex(world, content, context.today),
    book: openPatientBook(world, context),
    works,
    patients: new Map(world.patient.map((patient) => [patient.id, patient])),
    stages: new Map(world.visit.map(({ appointmentId, stage }) => [appointmentId, stage])),
    put: { appointment: [], work: [], tray: [] },
    goneWork: [],
    places: openPlaces(world, content.source),
    added: [],
    cancelled: [],
    outcomes: [],
    findings: [],
    problems: [],
  }
}

function reconcileOne(run: Run, incoming: IncomingAppointment, { known, own, stale }: Match): void {
  if (known === undefined) {
    addAppointment(run, incoming)
    return
  }
  if (own && incoming.movedAway) {
    record(run, { incoming, outcome: 'unchanged', id: known.id })
    return
  }
  const before = own ? null : known.external
  if (before && (stale || isOlder(incoming, before)))
    record(run, { incoming, outcome: 'older', id: known.id })
  else if (before?.contentHash === incoming.contentHash) keepAppointment(run, incoming, known)
  else changeAppointment(run, incoming, { known, own })
}

function record(
  run: Run,
  { incoming, outcome, id }: { incoming: IncomingAppointment; outcome: Outcome; id: AppointmentId },
): void {
  run.outcomes.push({ line: incoming.line, outcome, appointmentId: id })
}

function countOutcomes(outcomes: Reconciled['outcomes']): Omit<ImportCounts, 'problems'> & { older: number } {
  const counts = { new: 0, changed: 0, cancelled: 0, unchanged: 0, older: 0, vanished: 0 }
  for (const { outcome } of outcomes) counts[outcome] += 1
  return counts
}

function addAppointment(run: Run, incoming: IncomingAppointment): void {
  const patientId = patientFor(run, incoming)
  const siteId = siteFor(run, incoming)
  if (patientId === null || siteId === null) return
  const id = run.context.newId<AppointmentId>()
  const appointment: Appointment = {
    clinicId: run.context.clinicId,
    id,
    siteId,
    operatoryId: run.places.operatoryFor(incoming),
    patientId,
    dentistId: run.places.dentistFor(incoming),
    studentId: null,
    ...whenAndWhat(incoming, ''),
    external: externalOf(run.source, incoming),
    vanished: null,
    formerDentist: null,
  }
  const calledOff = isOver(incoming.status) && incoming.status !== 'fulfilled'
  record(run, { incoming, outcome: calledOff ? 'cancelled' : 'new', id })
  run.added.push(appointment)
  run.put.appointment.push(appointment)
  putWork(run, workAfter(run, incoming, id))
}

/** The same words as last time: nothing is written, except what is newer about the words or was not known then. */
function keepAppointment(run: Run, incoming: IncomingAppointment, known: Appointment): void {
  record(run, { incoming, outcome: 'unchanged', id: known.id })
  const renewed: Appointment = {
    ...known,
    vanished: null,
    operatoryId: known.operatoryId ?? run.places.operatoryFor(incoming),
    ...withDentist(known, known.dentistId ?? run.places.dentistFor(incoming), listedBy(run)),
    external: externalOf(run.source, incoming, known),
  }
  putIfChanged(run, known, renewed)
}

function changeAppointment(
  run: Run,
  incoming: IncomingAppointment,
  { known, own }: { known: Appointment; own: boolean },
): void {
  const patientId = patientFor(run, incoming, known)
  if (patientId === null) return
  const renewed: Appointment = {
    ...known,
    ...whenAndWhat(incoming, known.note),
    status: statusAfter(known, incoming),
    patientId,
    operatoryId: incoming.operatory === null ? known.operatoryId : run.places.operatoryFor(incoming),
    ...withDentist(
      known,
      incoming.dentist === null ? known.dentistId : run.places.dentistFor(incoming),
      listedBy(run),
    ),
    external: own ? known.external : externalOf(run.source, incoming, known),
    // A list of our own does not say that its source lists it again.
    vanished: own ? known.vanished : null,
  }
  if (isUnderWay(run, known) && moves(known, renewed)) {
    run.problems.push(rowProblem(incoming, 'status', UNDER_WAY))
    return
  }
  const work = workAfter(run, incoming, known.id)
  const same =
    work.put.length + work.gone.length === 0 &&
    isSame({ ...known, external: null }, { ...renewed, external: null })
  const cancels = !isOver(known.status) && isOver(renewed.status) && renewed.status !== 'fulfilled'
  record(run, { incoming, outcome: same ? 'unchanged' : cancels ? 'cancelled' : 'changed', id: known.id })
  putIfChanged(run, known, renewed)
  putWork(run, work)
  if (cancels) run.cancelled.push(known)
}

const isSame = (one: object, other: object): boolean => canonicalJson(one) === canonicalJson(other)
function putIfChanged(run: Run, known: Appointment, renewed: Appointment): void {
  if (!isSame(known, renewed)) run.put.appointment.push(renewed)
}

const whenAndWhat = (
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

const externalOf = (
  source: ImportSource,
  incoming: IncomingAppointment,
  known?: Appointment,
): Appointment['external'] => ({
  sourceId: source.id,
  externalId: incoming.externalId ?? rowKey(incoming),
  recurrenceKey: incoming.recurrenceKey,
  sequence: incoming.sequence,
  stamp: incoming.stamp,
  contentHash: incoming.contentHash,
  whole: incoming.whole ?? known?.external?.whole ?? null,
})

/** Where a file has no ids: name, birth date and start. */
export const rowKey = ({ patient, start }: Pick<IncomingAppointment, 'patient' | 'start'>): string =>
  `row:${plainName(patient?.family ?? '')}|${plainName(patient?.given ?? '')}|${patient?.born ?? ''}|${start}`

/**
 * What the clinic has seen is never set back by a list that still says "booked"; and a list that can only say
 * "cancelled" or "tentative" does not blur what is known more exactly.
 */
function statusAfter({ status: known }: Appointment, { status }: IncomingAppointment): Appointment['status'] {
  const seen = known === 'arrived' || known === 'checked-in' || known === 'fulfilled'
  if (seen && ['proposed', 'pending', 'booked', 'waitlist'].includes(status)) return known
  if (status === 'cancelled' && (known === 'noshow' || known === 'entered-in-error')) return known
  return status === 'pending' && (known === 'proposed' || known === 'waitlist') ? known : status
}

const isUnderWay = (run: Run, { id }: Appointment): boolean =>
  VISIT_STAGES.indexOf(run.stages.get(id) ?? 'expected') >= VISIT_STAGES.indexOf('seated')
const moves = (known: Appointment, renewed: Appointment): boolean =>
  (isOver(renewed.status) && renewed.status !== known.status) ||
  known.start !== renewed.start ||
  known.patientId !== renewed.patientId ||
  known.operatoryId !== renewed.operatoryId
function workAfter(run: Run, incoming: IncomingAppointment, appointmentId: AppointmentId): WorkAfter {
  if (incoming.work === null) return { put: [], gone: [] }
  const clinic = run.world.clinic[0]
  const notation = run.source.notation === 'ask' ? (clinic?.notation ?? 'ask') : run.source.notation
  return reconcileWork(run.works.get(appointmentId) ?? [], incoming.work, {
    clinicId: run.context.clinicId,
    appointmentId,
    notation,
    own: run.world.ownWord,
    newId: run.context.newId,
  })
}

function putWork(run: Run, { put, gone }: WorkAfter): void {
  run.put.work.push(...put)
  run.goneWork.push(...gone)
}

/**
 * Cancelled and booked again on the same day by one file: what was begun on the tray goes over to the new visit
 * with its claim and its ticks. An untouched or an opened tray stays where it is.
 */
function carryTrays(run: Run): void {
  for (const { id: from, patientId, day } of run.cancelled) {
    const tray = run.world.tray.find(
      ({ appointmentId, life }) => appointmentId === from && BEGUN.has(life.kind),
    )
    const again = run.added.filter(
      (each) => each.patientId === patientId && each.day === day && !isOver(each.status),
    )
    const [to, ...more] = again
    if (tray === undefined || to === undefined || more.length > 0) continue
    run.put.tray.push({ ...tray, appointmentId: to.id })
    run.findings.push({ rule: 'import/tray-carried', level: 'note', about: `appointment:${to.id}`, from })
  }
}
const BEGUN = new Set(['claimed', 'laid-out', 'checked', 'held'])

function patientFor(
  run: Run,
  incoming: IncomingAppointment,
  known?: Appointment,
): Appointment['patientId'] | null {
  const standing = known && run.patients.get(known.patientId)
  if (known && (incoming.patient === null || (standing && isSamePerson(standing, incoming.patient)))) {
    if (incoming.patient && incoming.patient.identifiers.length > 0) findPatient(run.book, incoming.patient)
    return known.patientId
  }
  const found = incoming.patient === null ? null : findPatient(run.book, incoming.patient)
  if (found?.ok) return found.value
  run.problems.push(rowProblem(incoming, 'patient', NO_PATIENT[found?.reasons[0] ?? 'nobody']))
  return null
}

const listedBy = ({ context: { by, now } }: Run): Changing => ({ why: 'listed', by, at: now })

function siteFor(run: Run, { operatory: name }: IncomingAppointment): SiteId | null {
  const id = name === null ? null : run.places.operatoryOf(name)
  const operatory = run.world.operatory.find((each) => each.id === id)
  return operatory?.siteId ?? run.world.site[0]?.id ?? null
}

/** What the file covers and no longer lists. A patient in the chair has not vanished. */
function judgeVanished(run: Run, content: ImportContent): void {
  const missing = missingIn(run, content)
  const rowsWithoutId = new Set(
    content.appointments.filter(({ externalId }) => externalId === null).map(({ line }) => line),
  )
  const untaken = [...run.index.problems, ...run.problems].filter(({ line }) => rowsWithoutId.has(line))
  const rows = [...content.unread.rows, ...untaken]
  const listed = listedUnread(missing, { ids: content.unread.ids, rows }, run.patients)
  for (const known of missing) {
    if (listed.has(known.id)) continue
    run.outcomes.push({ line: 0, outcome: 'vanished', appointmentId: known.id })
    run.put.appointment.push({ ...known, vanished: { at: run.context.now } })
    run.findings.push({
      rule: 'appointment/vanished',
      level: 'ask',
      about: `appointment:${known.id}`,
      since: run.context.now,
    })
  }
}

function missingIn(run: Run, { covers, source }: ImportContent): Appointment[] {
  const days = new Set<string>(covers?.days)
  const places = covers?.operatories?.map(run.places.operatoryOf) ?? null
  const isCovered = ({ day, operatoryId }: Appointment): boolean =>
    days.has(day) && (places === null || places.includes(operatoryId))
  return run.world.appointment.filter(
    (known) =>
      known.external?.sourceId === source.id &&
      !run.index.listed.has(known.id) &&
      known.vanished === null &&
      !isOver(known.status) &&
      !isUnderWay(run, known) &&
      (isCovered(known) || isGone(run, known)),
  )
}

/** Gone from a series that the file gives whole. */
function isGone({ index, context }: Run, { external, day }: Appointment): boolean {
  const asOf = index.goneAsOf.get(external?.externalId ?? '')
  return asOf !== undefined && external !== null && day >= context.today && !isOlder(asOf, external)
}
