import { randomUUID } from 'node:crypto'
import { asClinic } from '#db/as-clinic.ts'
import { readReach } from '#db/read.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { must } from '#shared/base/assert.ts'
import { dayOf, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { ClinicId, CommandId, MemberId } from '#shared/ids.ts'
import type { Clinic } from '#shared/people/clinic.ts'
import type { ImportSource } from '#shared/schedule/import-batch.ts'
import { IMPORT_COMMANDS, type ImportInput } from '#shared/schedule/import-commands.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import type { Performed } from '../commands/performed.ts'
import type { House } from '../house.ts'
import { makeImportInput, type Preview, previewImport, readUpload } from './preview.ts'

/** A file that someone brings, and what they said of it. */
export interface Brought {
  bytes: Uint8Array
  fileName: string
  source: string
  mapping: Record<string, string>
  dateOrder: 'ymd' | 'dmy' | 'mdy' | null
  notation: Notation | null
  zone: Zone | null
}

/** Where a file is compared: the clinic's own zone, notation and clock, and what is known of its source. */
interface Surroundings {
  zone: Zone
  notation: Notation
  known: ImportSource | null
  now: Instant
}

async function readSurroundings(house: House, clinicId: ClinicId, source: string): Promise<Surroundings> {
  const [clinics, sites, sources] = await asClinic(
    house.database,
    clinicId,
    (tx) =>
      Promise.all([
        selectFacts(tx, clinicId, { name: 'clinic', where: everywhere }),
        selectFacts(tx, clinicId, { name: 'site', where: everywhere }),
        selectFacts(tx, clinicId, { name: 'importSource', where: { sql: 'name = $2', values: [source] } }),
      ]),
    'read',
  )
  const clinic: Clinic = must(clinics[0], 'an import is asked of a clinic')
  const offset = clinic.clock.kind === 'demo' ? clinic.clock.offset : 0
  return {
    zone: must(sites[0], 'a clinic has a site').zone,
    notation: clinic.notation,
    known: sources[0] ?? null,
    now: instant(house.wall() + offset),
  }
}

const optionsOf = (brought: Brought, { zone, notation, known }: Surroundings) => ({
  source: brought.source,
  zone: brought.zone ?? zone,
  notation: brought.notation ?? known?.notation ?? notation,
  mapping: { ...known?.mapping, ...brought.mapping },
  dateOrder: brought.dateOrder ?? known?.dateOrder ?? null,
})

async function readInput(
  brought: Brought,
  surroundings: Surroundings,
  signal?: AbortSignal,
): Promise<ImportInput> {
  const options = optionsOf(brought, surroundings)
  const upload = await readUpload(brought.bytes, brought.fileName, options, signal)
  return makeImportInput(upload, {
    id: surroundings.known?.id ?? null,
    name: brought.source,
    notation: options.notation,
    mapping: options.mapping,
    dateOrder: options.dateOrder,
  })
}

/** What the file would do to the clinic as it stands. Nothing is kept. */
export async function previewBrought(
  house: House,
  clinicId: ClinicId,
  brought: Brought,
  signal?: AbortSignal,
): Promise<Preview> {
  const surroundings = await readSurroundings(house, clinicId, brought.source)
  const input = await readInput(brought, surroundings, signal)
  const today = dayOf(surroundings.now, surroundings.zone)
  const reach = IMPORT_COMMANDS['appointments.import'].reach(input)
  const world: World = await asClinic(
    house.database,
    clinicId,
    (tx) => readReach(tx, clinicId, { reach, today }),
    'read',
  )
  return previewImport(
    world,
    brought.bytes,
    {
      ...optionsOf(brought, surroundings),
      fileName: brought.fileName,
      ...(surroundings.known ? { known: surroundings.known } : {}),
      now: surroundings.now,
      today,
    },
    signal,
  )
}

/** Takes the file in: one batch, one revision, in the name of whoever brought it. */
export async function takeBrought(
  house: House,
  by: { clinicId: ClinicId; memberId: MemberId; station: string },
  brought: Brought,
  signal?: AbortSignal,
): Promise<Performed> {
  const surroundings = await readSurroundings(house, by.clinicId, brought.source)
  return house.perform({
    clinicId: by.clinicId,
    command: {
      id: randomUUID() as CommandId,
      kind: 'appointments.import',
      input: await readInput(brought, surroundings, signal),
      sawRevision: 0,
      madeAt: surroundings.now,
      by: by.memberId,
      station: by.station,
    },
  })
}
