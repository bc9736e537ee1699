import { joinChanges } from '../change.ts'
import type { World } from '../facts.ts'
import type { AppointmentId, SiteId } from '../ids.ts'
import { type Appointment, isOver } from './appointment.ts'
import { type Changing, withDentist } from './former-dentist.ts'
import { reconcileAllergies } from './import-allergies.ts'
import type { ImportCounts } from './import-batch.ts'
import type { Match } from './import-matches.ts'
import { findPatient, isBornAhead, isSamePerson } from './import-people.ts'
import { NO_PATIENT, rowProblem, UNDER_WAY } from './import-problems.ts'
import { externalOf, isMoved, isSame, statusAfter, whenAndWhat } from './import-renewed.ts'
import {
  changeOf,
  type ImportContent,
  openRun,
  type ReconcileContext,
  type Reconciled,
  type Run,
  record,
} from './import-run.ts'
import { carryTrays } from './import-trays.ts'
import { judgeVanished } from './import-vanished.ts'
import { isOlder } from './import-versions.ts'
import { reconcileWork, type WorkAfter } from './import-work.ts'
import type { IncomingAppointment } from './incoming.ts'

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
