import { clockTimeOf, dayOf, type Instant, type Zone } from '#shared/base/moment.ts'
import { findFact, type World } from '#shared/facts.ts'
import type { AppointmentId, LoadId, PackId, PatientId, SteriliserId } from '#shared/ids.ts'
import type { Recall, RecalledPack } from '#shared/sterility/recall.ts'
import { makeCell } from './csv.ts'

/** A recall as it is shown, printed and exported: names beside ids, nothing left out. */
export interface RecallTold {
  loads: {
    id: LoadId
    number: string
    steriliserId: SteriliserId
    steriliser: string
    started: Instant
    state: string
  }[]
  packs: RecallRow[]
  trays: (Visit & { replacements: string[] })[]
  patients: (Visit & {
    patientId: PatientId
    name: string
    born: string | null
    used: Instant
    codes: string[]
  })[]
  operatories: string[]
  /** Codes of packs without a load. */
  cannotNarrow: string[]
}

interface Visit {
  appointmentId: AppointmentId
  start: Instant | null
  operatory: string | null
}

export interface RecallRow {
  packId: PackId
  code: string
  kind: string
  load: string
  where: RecalledPack['where']['kind']
  place: string | null
  visit: Visit | null
}

export function tellRecall(world: World, recall: Recall): RecallTold {
  const trays = recall.trays.map(({ appointmentId, replacements }) => ({
    ...visitOf(world, appointmentId),
    replacements: codesOf(world, replacements),
  }))
  const patients = recall.patients.map(({ patientId, appointmentId, at, codes }) => {
    const patient = findFact(world, 'patient', patientId)
    const name = patient ? `${patient.given} ${patient.family}` : 'not known'
    return { ...visitOf(world, appointmentId), patientId, name, born: patient?.born ?? null, used: at, codes }
  })
  const operatories = [...trays, ...patients].flatMap(({ operatory }) => operatory ?? [])
  return {
    loads: recall.loads.flatMap((id) => loadOf(world, id)),
    packs: recall.packs.map((pack) => rowOf(world, pack)),
    trays,
    patients,
    operatories: [...new Set(operatories)].sort(),
    cannotNarrow: codesOf(world, recall.cannotNarrow),
  }
}

function loadOf(world: World, id: LoadId): RecallTold['loads'] {
  const load = findFact(world, 'load', id)
  if (!load) return []
  const { number, steriliserId, started, life } = load
  const steriliser = findFact(world, 'steriliser', steriliserId)?.name ?? ''
  return [{ id, number, steriliserId, steriliser, started, state: life.kind }]
}

const codesOf = (world: World, ids: readonly PackId[]): string[] =>
  ids.flatMap((id) => findFact(world, 'pack', id)?.code ?? [])

function visitOf(world: World, id: AppointmentId): Visit {
  const appointment = findFact(world, 'appointment', id)
  const operatory = findFact(world, 'operatory', appointment?.operatoryId ?? null)
  return { appointmentId: id, start: appointment?.start ?? null, operatory: operatory?.name ?? null }
}

function rowOf(world: World, { packId, code, loadId, where }: RecalledPack): RecallRow {
  const appointmentId =
    where.kind === 'used'
      ? where.appointmentId
      : where.kind === 'tray'
        ? (findFact(world, 'tray', where.trayId)?.appointmentId ?? null)
        : null
  return {
    packId,
    code,
    kind: findFact(world, 'pack', packId)?.kind ?? '',
    load: findFact(world, 'load', loadId)?.number ?? '',
    where: where.kind,
    place: where.kind === 'shelf' ? where.place : null,
    visit: appointmentId && visitOf(world, appointmentId),
  }
}

const HEADERS = [
  'Pack',
  'Kind',
  'Load',
  'Where',
  'Place',
  'Operatory',
  'Appointment',
  'Used',
  'Patient',
  'Born',
] as const

/**
 * A recall as a delimited file (RFC 4180, UTF-8 with a mark for spreadsheets): a row for each pack, with the patient
 * it was used for; packs without a load at the end, as such. Times are the site's own.
 */
export function makeRecallCsv(told: RecallTold, zone: Zone): string {
  const time = (at: Instant | null): string =>
    at === null ? '' : `${dayOf(at, zone)} ${clockTimeOf(at, zone)}`
  const packs = told.packs.map((row) => {
    const patient = told.patients.find(
      ({ appointmentId, codes }) => appointmentId === row.visit?.appointmentId && codes.includes(row.code),
    )
    return [
      row.code,
      row.kind,
      row.load,
      row.where,
      row.place ?? '',
      row.visit?.operatory ?? '',
      time(row.visit?.start ?? null),
      time(patient?.used ?? null),
      patient?.name ?? '',
      patient?.born ?? '',
    ]
  })
  const without = told.cannotNarrow.map((code) => [
    code,
    '',
    '',
    'no load: cannot be narrowed',
    ...Array(6).fill(''),
  ])
  const rows: string[][] = [[...HEADERS], ...packs, ...without]
  return `\uFEFF${rows.map((cells) => `${cells.map(makeCell).join(',')}\r\n`).join('')}`
}
