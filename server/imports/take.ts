import { randomUUID } from 'node:crypto'
import { asClinic } from '#db/as-clinic.ts'
import { readReachTexts } from '#db/read.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { must } from '#shared/base/assert.ts'
import { type Day, dayAfter, dayOf, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import type { ClinicId, CommandId, MemberId } from '#shared/ids.ts'
import type { Clinic } from '#shared/people/clinic.ts'
import type { ImportSource } from '#shared/schedule/import-batch.ts'
import type { Coverage } from '#shared/schedule/incoming.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import { type Keeper, performDecided } from '../commands/perform.ts'
import { type Performed, unreadable } from '../commands/performed.ts'
import type { ReadOptions } from './incoming.ts'
import { openRun, Stopped } from './open-run.ts'
import { dropUnused, keepOriginal } from './originals.ts'
import type { Preview } from './preview.ts'
import type { RunStart } from './run.ts'

/** A file that someone brings, and what they said of it. */
export interface Brought {
  bytes: Uint8Array
  fileName: string
  source: string
  mapping: Record<string, string>
  dateOrder: 'ymd' | 'dmy' | 'mdy' | null
  notation: Notation | null
  zone: Zone | null
  /** What it speaks for whole, where that is less than it looks like. */
  covers?: Coverage | null
  /** A calendar fetched from its address. */
  followed?: boolean
  /** The days a person says it is the whole list of; null: it is a part. */
  wholeOf?: ReadOptions['wholeOf']
}

/** Where a file is compared: the clinic's own zone, notation and clock, and what is known of its source. */
interface Surroundings {
  /** The days from today on which a followed calendar has given something that still stands. */
  given: Day[]
  zone: Zone
  notation: Notation
  known: ImportSource | null
  now: Instant
  today: Day
}

async function readSurroundings(
  house: Keeper,
  clinicId: ClinicId,
  { source, followed }: Brought,
): Promise<Surroundings> {
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
  const { zone } = must(sites[0], 'a clinic has a site')
  const now = instant(house.wall() + offset)
  const [known = null] = sources
  const today = dayOf(now, zone)
  const given = followed && known ? await readGiven(house, known, today) : []
  return { zone, notation: clinic.notation, known, now, today, given }
}

const readGiven = (house: Keeper, { clinicId, id }: ImportSource, today: Day): Promise<Day[]> =>
  asClinic(
    house.database,
    clinicId,
    async (tx) => {
      const rows = await tx.unsafe<{ day: Day }[]>(
        `select distinct day::text as day from appointment
          where clinic_id = $1 and external_source_id = $2 and day >= $3::date and vanished ->> 'at' is null`,
        [clinicId, id, today],
        { prepare: true },
      )
      return rows.map(({ day }) => day)
    },
    'read',
  )

/** So far ahead the days of a series are written out. Days. */
const AHEAD = 60

const optionsOf = (brought: Brought, { zone, notation, known, today, given }: Surroundings) => ({
  source: brought.source,
  zone: brought.zone ?? zone,
  notation: brought.notation ?? known?.notation ?? notation,
  mapping: { ...known?.mapping, ...brought.mapping },
  dateOrder: brought.dateOrder ?? known?.dateOrder ?? null,
  window: { from: today, to: dayAfter(today, AHEAD) },
  ...(brought.followed ? { followed: { given } } : {}),
  ...(brought.wholeOf === undefined ? {} : { wholeOf: brought.wholeOf }),
})

/** Where a run stands, for whoever waits. */
export type RunProgress = { step: 'reading' } | { step: 'comparing' | 'keeping'; rows: number }

interface Taking {
  signal?: AbortSignal | undefined
  tell?: (progress: RunProgress) => void
}

type By = { clinicId: ClinicId; memberId: MemberId; station: string }

function startOf(brought: Brought, surroundings: Surroundings, by: By): RunStart {
  const options = optionsOf(brought, surroundings)
  return {
    bytes: brought.bytes,
    fileName: brought.fileName,
    options,
    ...(brought.covers === undefined ? {} : { covers: brought.covers }),
    source: {
      id: surroundings.known?.id ?? null,
      name: brought.source,
      notation: options.notation,
      mapping: options.mapping,
      dateOrder: options.dateOrder,
    },
    command: {
      id: randomUUID() as CommandId,
      kind: 'appointments.import',
      sawRevision: 0,
      madeAt: surroundings.now,
      by: by.memberId,
      station: by.station,
    },
  }
}

/** What the file would do to the clinic as it stands, or why it cannot be read. Nothing is kept. */
export async function previewBrought(
  house: Keeper,
  by: By,
  brought: Brought,
  signal?: AbortSignal,
): Promise<Preview> {
  const surroundings = await readSurroundings(house, by.clinicId, brought)
  const run = await openRun(startOf(brought, surroundings, by), signal)
  try {
    const { now, today } = surroundings
    const reach = run.read.ok ? run.read.reach : {}
    const texts = await asClinic(
      house.database,
      by.clinicId,
      (tx) => readReachTexts(tx, by.clinicId, { reach, today }),
      'read',
    )
    return await run.preview(texts, {
      ...optionsOf(brought, surroundings),
      fileName: brought.fileName,
      ...(surroundings.known ? { known: surroundings.known } : {}),
      now,
      today,
    })
  } finally {
    run.close()
  }
}

/**
 * Takes the file in: one batch, one revision, in the name of whoever brought it, or nothing at all. Its original is
 * kept beside it. It can be stopped until it is kept.
 */
export async function takeBrought(
  house: Keeper,
  by: By,
  brought: Brought,
  { signal, tell = () => {} }: Taking = {},
): Promise<Performed> {
  const { clinicId } = by
  const surroundings = await readSurroundings(house, clinicId, brought)
  tell({ step: 'reading' })
  const start = startOf(brought, surroundings, by)
  const run = await openRun(start, signal)
  let taken = false
  try {
    const { read } = run
    if (!read.ok) return unreadable(read.trouble)
    await keepOriginal(house, clinicId, { bytes: brought.bytes, digest: read.digest })
    tell({ step: 'comparing', rows: read.rows })
    const performed = await performDecided(
      house,
      { clinicId, command: start.command },
      {
        reach: read.reach,
        decideApart: async (texts, around) => {
          const made = await run.decide(texts, around)
          if (signal?.aborted) throw new Stopped()
          tell({ step: 'keeping', rows: read.rows })
          return made
        },
      },
    )
    taken = !performed.refused
    return performed
  } finally {
    run.close()
    if (!taken && run.read.ok) await dropUnused(house, clinicId, run.read.digest)
  }
}
