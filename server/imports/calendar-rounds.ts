import type { Logger } from 'pino'
import { asClinic } from '#db/as-clinic.ts'
import type { Database, Tx } from '#db/database.ts'
import { listOf } from '#db/save.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import type { Day, Instant } from '#shared/base/moment.ts'
import type { AppointmentId, CalendarAddressId, ClinicId } from '#shared/ids.ts'
import type { CalendarAddress, ImportSource } from '#shared/schedule/import-batch.ts'
import { say } from '#shared/words/en.ts'
import type { Environment } from '../environment.ts'
import { fetchCalendar, hostOf } from './fetch-calendar.ts'
import { digestOfFile } from './originals.ts'
import type { Preview } from './preview.ts'
import { type Brought, previewBrought, takeBrought } from './take.ts'

/** As much of a house as rounds need. */
export interface RoundsHouse {
  database: Database
  environment: Environment
  log: Logger
  wall: () => number
  clinics: () => Promise<ClinicId[]>
}

/** How the last round to a calendar went. */
export interface CalendarRound {
  calendarId: CalendarAddressId
  at: Instant
  failure: string | null
  digest: string | null
  missing: AppointmentId[]
}

const MINUTE_MS = 60_000
const LOOKS_EVERY_MS = 30_000

/** Goes round the calendars that are followed, each when its time has come. One failing holds up no other. */
export function openRounds(house: RoundsHouse): { close: () => void } {
  let busy = false
  const timer = setInterval(() => {
    if (busy) return
    busy = true
    goRound(house)
      .catch((error: unknown) => house.log.error({ err: error }, 'the calendars could not be gone round'))
      .finally(() => {
        busy = false
      })
  }, LOOKS_EVERY_MS)
  timer.unref()
  return { close: () => clearInterval(timer) }
}

/** Fetches every calendar that is due, once, whichever process comes first. */
export async function goRound(house: RoundsHouse): Promise<void> {
  for (const clinicId of await house.clinics()) {
    const { calendars, sources } = await readCalendars(house.database, clinicId)
    for (const calendar of calendars) {
      const source = sources.find(({ id }) => id === calendar.sourceId)
      const last = source && (await claim(house, calendar))
      if (source && last) await goTo(house, { calendar, source, last })
    }
  }
}

export const readCalendars = (
  database: Database,
  clinicId: ClinicId,
): Promise<{ calendars: CalendarAddress[]; sources: ImportSource[]; rounds: CalendarRound[] }> =>
  asClinic(
    database,
    clinicId,
    async (tx) => ({
      calendars: await selectFacts(tx, clinicId, { name: 'calendarAddress', where: everywhere }),
      sources: await selectFacts(tx, clinicId, { name: 'importSource', where: everywhere }),
      rounds: await readRounds(tx, clinicId),
    }),
    'read',
  )

const readRounds = async (tx: Tx, clinicId: ClinicId): Promise<CalendarRound[]> => [
  ...(await tx.unsafe<CalendarRound[]>(
    `select calendar_id as "calendarId", at, failure, digest, missing from calendar_round where clinic_id = $1`,
    [clinicId],
    { prepare: true },
  )),
]

type Last = Pick<CalendarRound, 'digest' | 'missing'>

/** Takes the round for this process where it is due; null where it is not, or another has it. */
async function claim(
  { database, wall }: RoundsHouse,
  { clinicId, id, everyMinutes }: CalendarAddress,
): Promise<Last | null> {
  const now = wall()
  const [row] = await asClinic(database, clinicId, (tx) =>
    tx.unsafe<Last[]>(
      `insert into calendar_round as round (clinic_id, calendar_id, at, failure, digest, missing)
        values ($1, $2, $3, null, null, '[]'::jsonb)
        on conflict (clinic_id, calendar_id) do update set at = excluded.at where round.at <= $4
        returning digest, missing`,
      [clinicId, id, now, now - everyMinutes * MINUTE_MS],
      { prepare: true },
    ),
  )
  return row ?? null
}

interface Going {
  calendar: CalendarAddress
  source: ImportSource
  last: Last
}

async function goTo(house: RoundsHouse, going: Going): Promise<void> {
  const { calendar, last } = going
  const came = await bring(house, going).catch((error: unknown) => {
    house.log.error({ err: error, calendarId: calendar.id }, 'a calendar could not be taken')
    return { failure: NOT_TAKEN }
  })
  const next = 'failure' in came ? { ...last, failure: came.failure } : { ...came, failure: null }
  await asClinic(house.database, calendar.clinicId, (tx) =>
    tx.unsafe(
      `update calendar_round set failure = $3, digest = $4, missing = $5::jsonb
        where clinic_id = $1 and calendar_id = $2`,
      [calendar.clinicId, calendar.id, next.failure, next.digest, JSON.stringify(next.missing)],
      { prepare: true },
    ),
  )
}

const NOT_TAKEN =
  'The calendar came and could not be taken. What is known of the day stands. It is tried again at the next round; if it goes on, tell whoever looks after this server.'
const NO_CALENDAR =
  'What lies at this address is no calendar. What is known of the day stands. See whether the address still holds.'

/** Fetches, compares, and takes what is new. What is missing for the first time is only remembered. */
async function bring(
  house: RoundsHouse,
  { calendar, source, last }: Going,
): Promise<Last | { failure: string }> {
  const fetched = await fetchCalendar(calendar.address, rulesFor(calendar, house.environment))
  if (!fetched.ok) return { failure: fetched.reasons.join(' ') }
  const bytes = fetched.value
  const digest = digestOfFile(bytes)
  const by = { clinicId: calendar.clinicId, memberId: calendar.by, station: 'calendar' }
  const brought: Brought = {
    bytes,
    fileName: `${source.name}.ics`.slice(0, 200),
    source: source.name,
    mapping: {},
    dateOrder: null,
    notation: null,
    zone: null,
    followed: true,
  }
  const preview = await previewBrought(house, by, brought)
  if (preview.file.format !== 'icalendar') return { failure: NO_CALENDAR }
  const before = new Set<string>(last.missing)
  const gone = preview.outcomes.flatMap(({ outcome, appointmentId }) =>
    outcome === 'vanished' ? (appointmentId ?? []) : [],
  )
  const missing = gone.filter((id) => !before.has(id))
  const returned = await countReturned(house.database, source, preview)
  const asked = gone.length - missing.length + returned
  if (!isNew(preview, { asked, same: digest === last.digest })) return { digest, missing }
  const waiting = await readDays(house.database, calendar.clinicId, missing)
  // A day on which something is missing for the first time may vanish nothing yet.
  const covers = preview.covers && {
    ...preview.covers,
    days: preview.covers.days.filter((day) => !waiting.has(day)),
  }
  const performed = await takeBrought(house, by, { ...brought, covers })
  if (performed.refused) return { failure: performed.trouble?.what ?? performed.findings.map(say).join(' ') }
  return { digest, missing }
}

const isNew = ({ counts }: Preview, { asked, same }: { asked: number; same: boolean }): boolean =>
  counts.new + counts.changed + counts.cancelled + asked > 0 || (counts.problems > 0 && !same)

/** Those that were missed and are listed again, word for word: what was asked of them is answered. */
async function countReturned(
  database: Database,
  { clinicId, id }: ImportSource,
  { outcomes }: Preview,
): Promise<number> {
  const missed = await asClinic(
    database,
    clinicId,
    (tx) =>
      selectFacts(tx, clinicId, {
        name: 'appointment',
        where: { sql: "external_source_id = $2 and vanished ->> 'at' is not null", values: [id] },
      }),
    'read',
  )
  const listed = new Set(outcomes.map(({ appointmentId }) => appointmentId))
  return missed.filter((each) => listed.has(each.id)).length
}

const readDays = async (
  database: Database,
  clinicId: ClinicId,
  ids: readonly AppointmentId[],
): Promise<Set<Day>> => {
  const facts = await asClinic(
    database,
    clinicId,
    (tx) =>
      selectFacts(tx, clinicId, {
        name: 'appointment',
        where: { sql: 'id = any($2::uuid[])', values: [listOf(ids)] },
      }),
    'read',
  )
  return new Set(facts.map(({ day }) => day))
}

function rulesFor({ address, hosts }: CalendarAddress, { CALENDAR_INSIDE_HOSTS }: Environment) {
  const own = hostOf(address)
  return {
    hosts: [...(own ? [own] : []), ...hosts],
    privateHosts: CALENDAR_INSIDE_HOSTS ?? [],
  }
}
