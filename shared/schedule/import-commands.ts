import { z } from 'zod'
import { digestOf } from '../base/digest.ts'
import type { ClockTime, Day, Instant, Zone } from '../base/moment.ts'
import { ok, refuse } from '../base/result.ts'
import { joinChanges, putting } from '../change.ts'
import { commandRule } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import {
  type AppointmentId,
  type ImportBatchId,
  type ImportProblemId,
  type ImportSourceId,
  type MemberId,
  type PatientId,
  parseId,
} from '../ids.ts'
import { NOTATIONS } from '../teeth/notation-names.ts'
import { SURFACES, TEETH } from '../teeth/tooth.ts'
import { APPOINTMENT_STATUSES } from './appointment.ts'
import { EXPORT_FORMS } from './exported-mark.ts'
import { IMPORT_FORMATS, type ImportProblem, type ImportSource } from './import-batch.ts'
import type { ImportFinding } from './import-findings.ts'
import { OWN_PATIENT } from './import-people.ts'
import { NAME_FIELDS, sayRow } from './import-problems.ts'
import { reconcile } from './reconcile.ts'

const uuid = <Id>() => z.uuid().transform((text) => text.toLowerCase() as Id)
const day = z.iso.date().transform((text) => text as Day)
const moment = z
  .number()
  .int()
  .transform((at) => at as Instant)
const short = z.string().max(500)
const long = z.string().max(8000)

const patient = z.object({
  given: short,
  family: short,
  born: day.nullable(),
  identifiers: z.array(z.object({ system: short, value: short })).max(20),
})
const work = z.object({
  text: long,
  teeth: z
    .array(z.object({ text: short, notation: z.enum(NOTATIONS), candidates: z.array(z.enum(TEETH)).max(4) }))
    .max(52),
  surfaces: z.array(z.enum(SURFACES)).max(SURFACES.length),
})
const appointment = z.object({
  line: z.number().int().nonnegative(),
  externalId: short.nullable(),
  recurrenceKey: short,
  sequence: z.number().int().nullable(),
  stamp: moment.nullable(),
  contentHash: z.string().length(64),
  status: z.enum(APPOINTMENT_STATUSES),
  day,
  startsAt: z
    .string()
    .regex(/^\d{2}:\d{2}$/)
    .transform((text) => text as ClockTime),
  zone: short.transform((text) => text as Zone),
  start: moment,
  minutes: z.number().int().positive().max(1440),
  operatory: short.nullable(),
  dentist: short.nullable(),
  patient: patient.nullable(),
  work: z.array(work).max(50).nullable(),
  note: long.nullable(),
  whole: z.object({ sequence: z.number().int().nullable(), stamp: moment.nullable() }).optional(),
  byClock: z.literal(true).optional(),
  movedAway: z.literal(true).optional(),
  ofOurs: z.object({ form: z.enum(EXPORT_FORMS), mark: short.nullable() }).optional(),
})
const allergy = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('text'),
    line: z.number().int(),
    patient,
    text: long,
    asked: z.object({ by: z.null(), at: moment, day }).nullable().default(null),
  }),
  z.object({
    kind: z.literal('coded'),
    line: z.number().int(),
    patient,
    text: long,
    code: z.object({ system: short, code: short }).nullable(),
    clinical: z.enum(['active', 'inactive', 'resolved']).nullable(),
    verification: z.enum(['unconfirmed', 'confirmed', 'refuted', 'entered-in-error']).nullable(),
    criticality: z.enum(['low', 'high', 'unable-to-assess']).nullable(),
    severity: z.enum(['mild', 'moderate', 'severe']).nullable(),
    recorded: moment.nullable(),
    recordedOn: day.nullable().default(null),
  }),
])
const problem = z.object({
  line: z.number().int().nonnegative(),
  field: short,
  text: long,
  original: long,
  externalId: short.optional(),
  ends: z
    .object({
      recurrenceKey: short,
      status: z.enum(['cancelled', 'noshow', 'entered-in-error']),
      sequence: z.number().int().nullable(),
      stamp: moment.nullable(),
    })
    .optional(),
})
const importInput = z.object({
  source: z.object({
    /** Null for a source that brings its first file. */
    id: uuid<ImportSourceId>().nullable(),
    name: short.min(1),
    notation: z.enum(NOTATIONS),
    mapping: z.record(short, short),
    dateOrder: z.enum(['ymd', 'dmy', 'mdy']).nullable(),
  }),
  file: z.object({ name: short, digest: z.string().length(64), format: z.enum(IMPORT_FORMATS) }),
  appointments: z.array(appointment).max(20_000),
  allergies: z.array(allergy).max(50_000),
  problems: z.array(problem).max(50_000),
  covers: z
    .object({ days: z.array(day).max(400), operatories: z.array(short).max(200).nullable() })
    .nullable(),
})
export type ImportInput = z.infer<typeof importInput>

/** The source as it will stand: the known one with what was chosen this time, or a new one. */
function sourceOf(
  world: World,
  input: ImportInput,
  fresh: { clinicId: ImportSource['clinicId']; id: ImportSourceId },
): ImportSource {
  const known =
    findFact(world, 'importSource', input.source.id) ??
    world.importSource.find(({ name }) => name === input.source.name)
  const { id: _, ...chosen } = input.source
  return { ...fresh, ...known, ...chosen, mapping: { ...known?.mapping, ...chosen.mapping } }
}

const isSameSource = (world: World, source: ImportSource): boolean => {
  const known = findFact(world, 'importSource', source.id)
  return known !== undefined && digestOf(known) === digestOf(source)
}

const refused = (
  rule: 'import/nothing-read' | 'import/problem-unknown' | 'import/problem-settled',
  about: string,
) => refuse<Finding>({ rule, level: 'stop', about })

const importAppointments = commandRule({
  kind: 'appointments.import',
  needs: 'day:import',
  input: importInput,
  reach: ({ source, appointments, allergies, problems, covers }) => ({
    ownWords: true,
    wholeDays: [...new Set([...(covers?.days ?? []), ...appointments.map((each) => each.day)])],
    source: {
      ...(source.id === null ? { name: source.name } : { id: source.id }),
      externalIds: [...appointments, ...problems].flatMap(({ externalId }) => externalId ?? []),
    },
    appointments: [...appointments, ...problems].flatMap(({ externalId = null }) => ownId(externalId)),
    patients: [...appointments, ...allergies].flatMap((each) =>
      (each.patient?.identifiers ?? []).flatMap(ownPatient),
    ),
    patientsNamed: [...appointments, ...allergies].flatMap((each) =>
      each.patient ? [{ family: each.patient.family, born: each.patient.born }] : [],
    ),
    patientsIdentified: [...appointments, ...allergies].flatMap((each) => each.patient?.identifiers ?? []),
  }),
  decide: (world, input, context) => {
    const { appointments, allergies, problems } = input
    // A list of nothing still speaks for the days it covers: what stood there is asked.
    const covered = input.covers?.days.length ?? 0
    if (appointments.length + allergies.length + problems.length + covered === 0)
      return refused('import/nothing-read', 'import')
    const { clinicId, now, today, by, newId } = context
    const source = sourceOf(world, input, { clinicId, id: newId<ImportSourceId>() })
    const known = reconcile(
      world,
      { source, appointments, allergies, problems, covers: input.covers },
      { clinicId, now, today, by: by.id, newId },
    )
    const all = known.problems
    const batchId = newId<ImportBatchId>()
    const open = all.filter((each) => !stands(world, source.id, each))
    const facts = open.map(
      ({ line, field, text, original, externalId, ends }): ImportProblem => ({
        line,
        field,
        text,
        original,
        ends: ends && externalId ? { ...ends, externalId } : null,
        clinicId,
        id: newId<ImportProblemId>(),
        batchId,
        life: { kind: 'open' },
      }),
    )
    return ok({
      change: joinChanges(
        isSameSource(world, source) ? putting('importSource') : putting('importSource', source),
        putting('importBatch', {
          clinicId,
          id: batchId,
          sourceId: source.id,
          format: input.file.format,
          fileName: input.file.name,
          fileDigest: input.file.digest,
          days: input.covers?.days ?? [],
          counts: { ...known.counts, problems: all.length },
          by: by.id,
          at: now,
        }),
        known.change,
        putting(
          'importProblem',
          ...facts,
          ...readWhole(world, { source, appointments, all }, { at: now, by: by.id }),
        ),
      ),
      findings: [...known.findings, ...facts.map(rowOpen)],
    })
  },
})

const ownId = (externalId: string | null): AppointmentId[] => {
  const id = externalId?.startsWith('weirboard:') ? parseId<AppointmentId>(externalId.slice(10)) : null
  return id === null ? [] : [id]
}

const ownPatient = ({ system, value }: { system: string; value: string }): PatientId[] => {
  const id = system === OWN_PATIENT ? parseId<PatientId>(value) : null
  return id === null ? [] : [id]
}

const rowOpen = ({ id, field, text }: ImportProblem): ImportFinding => ({
  rule: 'import/row-open',
  level: 'ask',
  about: `problem:${id}`,
  field,
  text,
})

/** A row that an earlier run of this source has listed already, word for word, is not listed again. */
const stands = (
  world: World,
  sourceId: ImportSourceId,
  { field, original }: { field: string; original: string },
): boolean => {
  const runs = new Set(world.importBatch.filter((batch) => batch.sourceId === sourceId).map(({ id }) => id))
  return world.importProblem.some(
    (each) => runs.has(each.batchId) && each.field === field && each.original === original,
  )
}

interface Read {
  source: ImportSource
  appointments: ImportInput['appointments']
  all: readonly { field: string; original: string }[]
}

/** Rows that waited for the meaning of a name and now came again with every name known: nothing is left to settle. */
function readWhole(world: World, { source, appointments, all }: Read, when: Settling): ImportProblem[] {
  const runs = new Set(world.importBatch.filter(({ sourceId }) => sourceId === source.id).map(({ id }) => id))
  const rows = new Set(appointments.map(sayRow))
  const asked = new Set(all.map(({ field, original }) => `${field} ${original}`))
  return world.importProblem
    .filter(
      ({ life, batchId, field, original }) =>
        life.kind === 'open' &&
        runs.has(batchId) &&
        NAME_FIELDS.has(field) &&
        rows.has(original) &&
        !asked.has(`${field} ${original}`),
    )
    .map((problem) => ({
      ...problem,
      life: { kind: 'settled', ...when, appointmentId: null, note: 'Came again: the name is known now.' },
    }))
}
interface Settling {
  at: Instant
  by: MemberId
}

/** A row settled: entered by hand as this appointment, or put aside with a note. */
const settle = commandRule({
  kind: 'import.settle',
  needs: 'day:import',
  input: z.object({
    problemId: uuid<ImportProblemId>(),
    appointmentId: uuid<AppointmentId>().nullable(),
    note: z.string().trim().min(1).max(500),
  }),
  reach: ({ problemId, appointmentId }) => ({
    problems: [problemId],
    appointments: appointmentId === null ? [] : [appointmentId],
  }),
  decide: (world, { problemId, appointmentId, note }, { by, now }) => {
    const problem = findFact(world, 'importProblem', problemId)
    if (!problem) return refused('import/problem-unknown', `problem:${problemId}`)
    if (problem.life.kind === 'settled') return refused('import/problem-settled', `problem:${problemId}`)
    if (appointmentId !== null && !findFact(world, 'appointment', appointmentId))
      return refused('import/problem-unknown', `appointment:${appointmentId}`)
    const life = { kind: 'settled', at: now, by: by.id, appointmentId, note } as const
    return ok({ change: putting('importProblem', { ...problem, life }), findings: [] })
  },
})

export const IMPORT_COMMANDS = {
  'appointments.import': importAppointments,
  'import.settle': settle,
}
