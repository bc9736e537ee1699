import { joinChanges } from '../change.ts'
import type { World } from '../facts.ts'
import type { AppointmentId, SiteId } from '../ids.ts'
import { type Appointment, isOver } from './appointment.ts'
import { sinceExport } from './exported-mark.ts'
import { type Changing, withDentist } from './former-dentist.ts'
import { reconcileAllergies } from './import-allergies.ts'
import type { ImportCounts } from './import-batch.ts'
import { endByIds, endingOf, openTombstones } from './import-endings.ts'
import type { Match } from './import-matches.ts'
import { findPatient, isBornAhead, isNumberedAlike, isSamePerson } from './import-people.ts'
import {
  CHANGED_TWICE,
  ENDS_UNKNOWN,
  NO_PATIENT,
  RENUMBERED,
  rowProblem,
  SAME_VERSION,
  sayEnding,
  UNDER_WAY,
  UNMARKED,
} from './import-problems.ts'
import { externalOf, isMoved, isSame, statusAfter, whenAndWhat } from './import-renewed.ts'
import {
  changeOf,
  type ImportContent,
  openRun,
  type ReadContent,
  type ReconcileContext,
  type Reconciled,
  type Run,
  record,
} from './import-run.ts'
import { atSites } from './import-sites.ts'
import { carryTrays } from './import-trays.ts'
import { unreadIn } from './import-unread.ts'
import { judgeVanished } from './import-vanished.ts'
import { isOlder, isSameVersion } from './import-versions.ts'
import { reconcileWork, type WorkAfter } from './import-work.ts'
import type { IncomingAppointment } from './incoming.ts'

/**
 * What is known against what a file says. Only what is newer is written; a cancellation leaves its appointment
 * standing as cancelled, so that a late older message finds it; what a file covers and no longer lists is asked,
 * never dropped; a moved appointment stays the same appointment, so its tray and its plan move with it.
 */
export function reconcile(world: World, given: ImportContent, context: ReconcileContext): Reconciled {
  const { content, late } = readContent(world, given)
  const run = openRun(world, content, context)
  for (const incoming of late) record(run, { incoming, outcome: 'older', id: null })
  for (const { incoming, match } of run.index.matches) reconcileOne(run, incoming, match)
  carryTrays(run)
  judgeVanished(run, content)
  const allergies = reconcileAllergies(world, content.allergies, {
    ...context,
    source: content.source.name,
    patientOf: (patient) => findPatient(run.book, patient),
  })
  const problems = [
    ...content.problems,
    ...run.index.problems,
    ...run.problems,
    ...run.places.problems,
    ...allergies.problems,
  ]
  return {
    change: joinChanges(changeOf(run), allergies.change),
    outcomes: run.outcomes,
    counts: { ...countOutcomes(run.outcomes), problems: problems.length },
    findings: [...run.findings, ...allergies.findings],
    problems,
    names: run.places.unknown(),
  }
}

/** What a file says once it is known what it ends by ids alone, without what comes after its own end. */
function readContent(
  world: World,
  given: ImportContent,
): { content: ReadContent; late: IncomingAppointment[] } {
  const { source } = given
  const ended = endByIds(world, source, given)
  const isEnded = openTombstones(world, source)
  const late = given.appointments.filter(isEnded)
  const placed = atSites(
    world,
    source,
    given.appointments.filter((row) => !isEnded(row)),
  )
  const problems = [...given.problems.filter((problem) => !ended.settled.has(problem)), ...placed.problems]
  const appointments = [...placed.rows, ...ended.rows]
  return { content: { ...given, appointments, problems, unread: unreadIn(problems, appointments) }, late }
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
  if (own) {
    bringHome(run, incoming, known)
    return
  }
  const before = known.external
  if (before && (stale || isOlder(incoming, before)))
    record(run, { incoming, outcome: 'older', id: known.id })
  else if (before?.contentHash === incoming.contentHash) keepAppointment(run, incoming, known)
  else if (before && isSameVersion(incoming, before))
    run.problems.push(rowProblem(incoming, 'id', SAME_VERSION))
  else changeAppointment(run, incoming, { known, own: false })
}

/** A row of an export of ours: only what was changed in it since is news, and only where nothing was changed here. */
function bringHome(run: Run, incoming: IncomingAppointment, known: Appointment): void {
  const { world, works, patients } = run
  const work = works.get(known.id) ?? []
  const since = sinceExport(incoming, { known, work, world, patient: patients.get(known.patientId) })
  switch (since) {
    case 'as-known':
      record(run, { incoming, outcome: 'unchanged', id: known.id })
      return
    case 'older':
      record(run, { incoming, outcome: 'older', id: known.id })
      return
    case 'both':
      run.problems.push(rowProblem(incoming, 'row', CHANGED_TWICE))
      return
    case 'edited':
    case 'unknown':
      changeAppointment(run, incoming, { known, own: true, unmarked: since === 'unknown' })
  }
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
  { known, own, unmarked = false }: { known: Appointment; own: boolean; unmarked?: boolean },
): void {
  if (unmarked && !isPatientOf(run, known, incoming)) {
    run.problems.push(rowProblem(incoming, 'row', UNMARKED))
    return
  }
  if (known.day !== incoming.day && !isPatientOf(run, known, incoming)) {
    run.problems.push(rowProblem(incoming, 'id', RENUMBERED))
    return
  }
  const patientId = patientFor(run, incoming, known)
  if (patientId === null) return
  const underWay = run.underWay.get(known.id)
  const renewed: Appointment = {
    ...known,
    ...whenAndWhat(incoming, known.note),
    // How far a visit is, is known here; only that it is over is news.
    status: underWay && !isOver(incoming.status) ? known.status : statusAfter(known, incoming),
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
  if (underWay && isMoved(known, renewed)) {
    run.problems.push(rowProblem(incoming, 'status', UNDER_WAY[underWay]))
    return
  }
  const work = workAfter(run, incoming, known.id)
  const same =
    work.put.length + work.gone.length === 0 &&
    isSame({ ...known, external: null }, { ...renewed, external: null })
  if (unmarked && !same) {
    run.problems.push(rowProblem(incoming, 'row', UNMARKED))
    return
  }
  const cancels = !isOver(known.status) && isOver(renewed.status) && renewed.status !== 'fulfilled'
  record(run, { incoming, outcome: same ? 'unchanged' : cancels ? 'cancelled' : 'changed', id: known.id })
  putIfChanged(run, known, renewed)
  putWork(run, work)
  if (cancels) run.cancelled.push(known)
}

function putIfChanged(run: Run, known: Appointment, renewed: Appointment): void {
  if (!isSame(known, renewed)) run.put.appointment.push(renewed)
}

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

function patientFor(
  run: Run,
  incoming: IncomingAppointment,
  known?: Appointment,
): Appointment['patientId'] | null {
  if (incoming.patient && isBornAhead(run.book, incoming.patient, incoming.day)) {
    run.problems.push(rowProblem(incoming, 'born', NO_PATIENT['birth-date-ahead']))
    return null
  }
  if (known && incoming.patient === null) return known.patientId
  const standing = known && run.patients.get(known.patientId)
  const found = incoming.patient === null ? null : findPatient(run.book, incoming.patient, standing)
  if (found?.ok) return found.value
  const ends = known ? null : endingOf(incoming)
  run.problems.push(
    ends && incoming.patient === null
      ? { ...rowProblem(incoming, 'status', ENDS_UNKNOWN), original: sayEnding(incoming), ends }
      : rowProblem(incoming, 'patient', NO_PATIENT[found?.reasons[0] ?? 'nobody']),
  )
  return null
}

/** Whether a row can mean whom a visit is of: it names nobody, or by number or name and birth date the same. */
function isPatientOf(run: Run, { patientId }: Appointment, { patient }: IncomingAppointment): boolean {
  if (patient === null) return true
  const standing = run.patients.get(patientId)
  return standing !== undefined && (isSamePerson(standing, patient) || isNumberedAlike(standing, patient))
}

const listedBy = ({ context: { by, now } }: Run): Changing => ({ why: 'listed', by, at: now })

function siteFor(run: Run, { operatory: name }: IncomingAppointment): SiteId | null {
  const id = name === null ? null : run.places.operatoryOf(name)
  const operatory = run.world.operatory.find((each) => each.id === id)
  return operatory?.siteId ?? run.world.site[0]?.id ?? null
}
