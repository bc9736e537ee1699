import { z } from 'zod'
import { ok, type Result, refuse } from '../base/result.ts'
import { joinChanges, nothing, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId, MemberId, OperatoryId, PatientId, SiteId } from '../ids.ts'
import { clockTime, day, id } from '../inputs.ts'
import type { Patient } from '../people/patient.ts'
import { recogniseWork } from '../procedures/recognise.ts'
import type { Work } from '../procedures/work.ts'
import { withAnswer } from '../readiness/answer.ts'
import type { Appointment } from './appointment.ts'
import { findUnknown, foundAt, planTime } from './placing.ts'
import { makeAdded } from './squeezed-in.ts'

const minutes = z.int().min(5).max(600)
const words = z.string().trim().min(1).max(500)

const newPatient = z.object({
  kind: z.literal('new'),
  given: z.string().trim().min(1).max(120),
  family: z.string().trim().min(1).max(120),
  born: day.nullable(),
  /** Who accompanies and permits, where someone must; null: comes for themselves. */
  guardian: words.nullable().default(null),
  /** The language an interpreter is needed for, or null. */
  interpreter: words.nullable().default(null),
})
const knownPatient = z.object({ kind: z.literal('known'), id: id<PatientId>() })

const booking = z.object({
  siteId: id<SiteId>(),
  day,
  startsAt: clockTime,
  minutes,
  operatoryId: id<OperatoryId>().nullable(),
  dentistId: id<MemberId>().nullable(),
  studentId: id<MemberId>().nullable().default(null),
  patient: z.discriminatedUnion('kind', [newPatient, knownPatient]),
  /** Each line of work in its own words, as on the day list. */
  work: z.array(words).max(12),
  note: z.string().max(2000).default(''),
  /** Squeezed in: the chair team has to accept it first. */
  emergency: z.boolean().default(false),
})
type Booking = z.infer<typeof booking>

function decideBook(world: World, input: Booking, context: CommandContext): Decision {
  const site = findFact(world, 'site', input.siteId)
  if (!site) return refuse({ rule: 'site/unknown', level: 'stop', about: `site:${input.siteId}` })
  const unknown = findUnknown(world, input)
  if (unknown.length > 0) return refuse(...unknown)
  const when = planTime(input, site.zone)
  if (!when.ok) return when
  const patient = patientFor(world, input.patient, context)
  if (!patient.ok) return patient
  const appointment: Appointment = {
    clinicId: context.clinicId,
    id: context.newId<AppointmentId>(),
    siteId: site.id,
    operatoryId: input.operatoryId,
    patientId: patient.value.id,
    dentistId: input.dentistId,
    studentId: input.studentId,
    status: input.emergency ? 'pending' : 'booked',
    ...when.value,
    note: input.note,
    external: null,
    vanished: null,
    formerDentist: null,
  }
  const work = input.work.map((text, position) => makeWork(text, { position, appointment, world, context }))
  const change = joinChanges(
    patient.value.fresh ? putting('patient', patient.value.fresh) : putting('patient'),
    putting('appointment', appointment),
    putting('work', ...work),
    input.emergency ? withAnswer({ choice: null, appointment }, makeAdded(appointment.id), context) : nothing,
  )
  return ok({ change, findings: foundAt(appointment, world) })
}

function patientFor(
  world: World,
  asked: Booking['patient'],
  context: CommandContext,
): Result<{ id: PatientId; fresh: Patient | null }, Finding> {
  if (asked.kind === 'known') {
    return findFact(world, 'patient', asked.id)
      ? ok({ id: asked.id, fresh: null })
      : refuse({ rule: 'patient/unknown', level: 'stop', about: `patient:${asked.id}` })
  }
  const fresh: Patient = {
    clinicId: context.clinicId,
    id: context.newId<PatientId>(),
    given: asked.given,
    family: asked.family,
    born: asked.born,
    identifiers: [],
    weight: null,
    guardian: asked.guardian === null ? null : { relation: asked.guardian, present: null },
    interpreter: asked.interpreter === null ? null : { language: asked.interpreter, present: null },
    history: [],
    historyConfirmed: null,
  }
  return ok({ id: fresh.id, fresh })
}

interface WorkAround {
  position: number
  appointment: Appointment
  world: World
  context: CommandContext
}
function makeWork(text: string, { position, appointment, world, context }: WorkAround): Work {
  const read = recogniseWork(text, world.clinic[0]?.notation ?? 'ask', world.ownWord)
  return {
    clinicId: context.clinicId,
    id: context.newId<Work['id']>(),
    appointmentId: appointment.id,
    position,
    text,
    kind: read.kind,
    teeth: read.teeth,
    surfaces: read.surfaces,
    mentions: read.mentions,
  }
}

export const BOOKING_COMMANDS = {
  'appointment.book': commandRule({
    kind: 'appointment.book',
    needs: 'day:change',
    input: booking,
    reach: (input) => ({
      ownWords: true,
      days: [input.day],
      patients: input.patient.kind === 'known' ? [input.patient.id] : [],
    }),
    decide: decideBook,
  }),
}
