import type { ReadOptions } from '#server/imports/incoming.ts'
import { makeImportInput } from '#server/imports/preview.ts'
import { readNow } from '#server/imports/read-upload.ts'
import { must } from '#shared/base/assert.ts'
import { type ClockTime, type Day, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import { applyChange, type Change } from '#shared/change.ts'
import { emptyWorld, type World } from '#shared/facts.ts'
import type { Finding } from '#shared/finding.ts'
import type { ClinicId, MemberId, OperatoryId, SiteId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import type { Role } from '#shared/people/role.ts'
import { IMPORT_COMMANDS } from '#shared/schedule/import-commands.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'

export const ZONE = 'Europe/London' as Zone
export const DAY = '2026-11-24' as Day
/** 08:40 of the clinic day. */
export const MORNING: Instant = instant(Date.UTC(2026, 10, 24, 8, 40))

const uuid = (kind: number, index: number): string =>
  `${String(kind).padStart(8, '0')}-0000-4000-8000-${String(index).padStart(12, '0')}`
const clinicId = uuid(1, 1) as ClinicId
const siteId = uuid(2, 1) as SiteId

const member = (index: number, name: string, ...roles: Role[]): Member => ({
  clinicId,
  id: uuid(3, index) as MemberId,
  name,
  shortName: name.replace(/^(\w)\w+ /, '$1. '),
  roles,
  active: true,
  releasesLoads: false,
  drawsFirst: null,
})
export const DESK = member(1, 'Nell Quay', 'front-desk', 'manager')

/** A clinic of ten operatories with nobody booked. */
export function smallClinic(notation: Notation = 'iso'): World {
  return {
    ...emptyWorld(),
    clinic: [{ clinicId, id: clinicId, name: 'Quay', invented: true, notation, clock: { kind: 'wall' } }],
    site: [
      {
        clinicId,
        id: siteId,
        name: 'Quay',
        zone: ZONE,
        opensAt: '08:00' as ClockTime,
        closesAt: '19:00' as ClockTime,
        assistantPlaces: 'allowed',
        startOfDay: null,
      },
    ],
    operatory: Array.from({ length: 10 }, (_, index) => ({
      clinicId,
      id: uuid(4, index + 1) as OperatoryId,
      siteId,
      name: String(index + 1),
      position: index + 1,
      kind: 'surgery' as const,
      latexSafe: false,
      retiredAt: null,
    })),
    member: [
      DESK,
      member(2, 'Dr Corrigan', 'dentist'),
      member(3, 'Dr Feher', 'dentist'),
      member(4, 'Dr Nambiar', 'dentist'),
      member(5, 'S. Wolters', 'hygienist'),
      member(6, 'Prof. Brandt', 'instructor', 'dentist'),
    ],
  }
}

export const OPTIONS: ReadOptions = { source: 'front desk', zone: ZONE, notation: 'iso' }

let made = 0
const newId = <Id>(): Id => uuid(9, ++made) as Id

export interface Imported {
  world: World
  change: Change
  counts: World['importBatch'][number]['counts']
  findings: Finding[]
}

/** Brings a file: read, parsed as a command's input, decided, applied in memory. */
export function importFile(
  world: World,
  file: string | Uint8Array,
  options: Partial<ReadOptions> = {},
  now = MORNING,
): Imported {
  const known = world.importSource[0]
  const upload = readNow(Buffer.from(file), 'day', {
    ...OPTIONS,
    ...(known ? { mapping: known.mapping, dateOrder: known.dateOrder } : {}),
    ...options,
  })
  const rule = IMPORT_COMMANDS['appointments.import']
  const input = rule.input.parse(
    JSON.parse(
      JSON.stringify(
        makeImportInput(upload, {
          id: known?.id ?? null,
          name: OPTIONS.source,
          notation: options.notation ?? 'iso',
          mapping: options.mapping ?? {},
          dateOrder: options.dateOrder ?? null,
        }),
      ),
    ),
  )
  const decision = rule.decide(world, input, {
    clinicId,
    now,
    today: DAY,
    by: DESK,
    station: 'test',
    newId,
    journal: null,
  })
  if (!decision.ok) throw new Error(`refused: ${JSON.stringify(decision.reasons)}`)
  const { change, findings } = decision.value
  const [batch] = change.put.importBatch ?? []
  return {
    world: applyChange(world, change),
    change,
    counts: must(batch, 'every run is kept').counts,
    findings,
  }
}

/** What a run changed besides the record of the run itself. */
export const effect = ({ change: { put, remove } }: Imported): string[] => [
  ...Object.entries(put)
    .filter(([name, facts]) => name !== 'importBatch' && facts.length > 0)
    .map(([name]) => name),
  ...Object.keys(remove),
]

const HEADER = 'Id,Date,Start,Minutes,Operatory,Dentist,Patient,Born,Procedure,Allergies,Status'
/** A day list in few words: one text for each row, cells as in HEADER. */
export const list = (...rows: string[]): string => [HEADER, ...rows].join('\r\n')
export const row = (
  cells: Partial<
    Record<
      | 'id'
      | 'day'
      | 'start'
      | 'minutes'
      | 'operatory'
      | 'dentist'
      | 'patient'
      | 'born'
      | 'work'
      | 'allergies'
      | 'status',
      string
    >
  > = {},
): string =>
  [
    cells.id ?? 'a',
    cells.day ?? DAY,
    cells.start ?? '10:00',
    cells.minutes ?? '30',
    cells.operatory ?? '1',
    cells.dentist ?? 'Dr Corrigan',
    `"${cells.patient ?? 'Ashgrove, Aoife'}"`,
    cells.born ?? '1990-05-01',
    `"${cells.work ?? 'comp 46 MO'}"`,
    `"${cells.allergies ?? ''}"`,
    cells.status ?? 'booked',
  ].join(',')
