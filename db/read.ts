import type { Day } from '#shared/base/moment.ts'
import type { JournalEntry, Reach } from '#shared/command.ts'
import type { FactName, World } from '#shared/facts.ts'
import type { ClinicId } from '#shared/ids.ts'
import type { Window } from '#shared/window.ts'
import type { Tx } from './database.ts'
import {
  byId,
  COMPANY,
  either,
  HANGING,
  HANGING_ON,
  listsOf,
  OF_REACHED,
  orWhere,
  PEOPLE,
  REACHED,
  ROOMS,
  where,
  withBehindPacks,
} from './hanging.ts'
import { appointmentsReached, dependsOnToday, reachPatients, sourceWhere } from './reach.ts'
import { listOf } from './save.ts'
import {
  everywhere,
  type Lists,
  selectTexts,
  selectWanted,
  type Wanted,
  type Where,
  type WorldTexts,
} from './select.ts'

/** Read for every command: they are few and every decision may need them. */
const ALWAYS: Wanted = {
  clinic: everywhere,
  site: everywhere,
  policySet: everywhere,
  operatory: everywhere,
  member: everywhere,
  kit: everywhere,
}

/**
 * What a command must be decided on, and nothing else, in one statement where it names no person by what they are
 * called. `today` bounds what counts as still to come; a day that is being read is waited for only where it does.
 */
export async function readReach(tx: Tx, clinicId: ClinicId, reaching: Reaching): Promise<World> {
  const { wanted, lists } = await wantedFor(tx, clinicId, reaching)
  return readSourceOfProblems(tx, clinicId, await selectWanted(tx, clinicId, wanted, lists))
}

/** The same as texts, for a decision in another thread. The source of an import's own batches must be reached. */
export async function readReachTexts(tx: Tx, clinicId: ClinicId, reaching: Reaching): Promise<WorldTexts> {
  const { wanted, lists } = await wantedFor(tx, clinicId, reaching)
  return selectTexts(tx, clinicId, wanted, lists)
}

export interface Reaching {
  reach: Reach
  today: Day | (() => Promise<Day>)
}

async function wantedFor(
  tx: Tx,
  clinicId: ClinicId,
  { reach, today }: Reaching,
): Promise<{ wanted: Wanted; lists: Lists }> {
  const day = !dependsOnToday(reach) ? null : typeof today === 'string' ? today : await today()
  const patients = await reachPatients(tx, clinicId, reach)
  const reached = appointmentsReached(reach, { today: day, patients })
  const isHanging = reached !== null || patients.length > 0
  const lists = isHanging ? listsOf(reached ?? where('(select null::uuid where false)'), patients) : {}
  const wanted: Wanted = { ...ALWAYS, ...(isHanging ? HANGING_ON : {}) }
  addCompany(wanted, lists, reach)
  if (reach.operatories?.length) {
    wanted.incident = orWhere(wanted.incident, reach.operatories, 'operatory_id')
    wanted.occupancy = orWhere(wanted.occupancy, reach.operatories, 'operatory_id')
  }
  if (reach.incidents?.length) wanted.incident = orWhere(wanted.incident, reach.incidents, 'id')
  if (reach.packs?.length) wanted.pack = orWhere(wanted.pack, reach.packs, 'id')
  if (reach.stock) wanted.stockLine = everywhere
  if (reach.loads?.length || reach.sterilisers?.length) addLoads(wanted, reach)
  if (reach.allPacks) wanted.pack = everywhere
  if (reach.sets) wanted.instrumentSet = everywhere
  if (reach.source) {
    const { sql, value } = sourceWhere(reach.source)
    const values = [value]
    const ofSource = `source_id in (select id from import_source where clinic_id = $1 and ${sql(2)})`
    wanted.importSource = { sql: sql(2), values }
    wanted.importBatch = { sql: ofSource, values }
    wanted.importProblem = {
      // Settled ones too: a row that a person has put aside is not asked again when the file comes again.
      sql: `batch_id in
        (select id from import_batch where clinic_id = $1 and ${ofSource})`,
      values,
    }
  }
  if (reach.ownWords) wanted.ownWord = everywhere
  if (reach.sources) wanted.importSource = everywhere
  if (reach.calendars) {
    wanted.calendarAddress = everywhere
    wanted.importSource = everywhere
  }
  if (reach.batches?.length) wanted.importBatch = orWhere(wanted.importBatch, reach.batches, 'id')
  if (reach.problems?.length) wanted.importProblem = orWhere(wanted.importProblem, reach.problems, 'id')
  const behind = withBehindPacks(wanted)
  return { wanted: behind.wanted, lists: { ...lists, ...behind.lists } }
}

/** Who else comes on the days that are reached. */
function addCompany(wanted: Wanted, lists: Lists, reach: Reach): void {
  const days = [...(reach.days ?? []), ...(reach.wholeDays ?? [])]
  if (days.length === 0 && !reach.daysOf?.length) return
  const onDays: Where = {
    sql: `day = any($2::date[]) or day in
      (select day from appointment where clinic_id = $1 and id = any($3::uuid[]))`,
    values: [listOf(days), listOf(reach.daysOf ?? [])],
  }
  lists['company(id, patient_id)'] = {
    sql: `(select id, patient_id from appointment where clinic_id = $1 and (${onDays.sql}))`,
    values: onDays.values,
  }
  wanted.appointment = either(wanted.appointment, where(`id = ${COMPANY}`))
  wanted.visit = either(wanted.visit, where(`appointment_id = ${COMPANY}`))
  wanted.patient = either(wanted.patient, where('id = any(array(select patient_id from company))'))
  wanted.roster = onDays
  wanted.occupancy = everywhere
}

/** Loads and sterilisers that are reached, with their indicators and packs. */
function addLoads(wanted: Wanted, { loads = [], sterilisers = [] }: Reach): void {
  const ids = [listOf(loads), listOf(sterilisers)]
  const these = 'id = any($2::uuid[]) or steriliser_id = any($3::uuid[])'
  const ofThese = `load_id in (select id from load where clinic_id = $1 and (${these}))`
  wanted.load = { sql: these, values: ids }
  wanted.indicator = { sql: `${ofThese} or steriliser_id = any($3::uuid[])`, values: ids }
  wanted.steriliser = {
    sql: `id = any($3::uuid[]) or id in
      (select steriliser_id from load where clinic_id = $1 and id = any($2::uuid[]))`,
    values: ids,
  }
  wanted.pack = either(wanted.pack, { sql: ofThese, values: ids })
}

/** A problem comes with its batch, a batch with its source. */
async function readSourceOfProblems(tx: Tx, clinicId: ClinicId, world: World): Promise<World> {
  const batches = missingFrom(
    world.importBatch,
    world.importProblem.map((problem) => problem.batchId),
  )
  if (world.importBatch.length + batches.length === 0) return world
  const read = batches.length > 0 ? await selectWanted(tx, clinicId, { importBatch: byId(batches) }) : null
  const importBatch = [...world.importBatch, ...(read?.importBatch ?? [])]
  const sources = missingFrom(
    world.importSource,
    importBatch.map((batch) => batch.sourceId),
  )
  if (sources.length === 0) return { ...world, importBatch }
  const { importSource } = await selectWanted(tx, clinicId, { importSource: byId(sources) })
  return { ...world, importBatch, importSource: [...world.importSource, ...importSource] }
}

const missingFrom = (held: readonly { id: string }[], ids: readonly string[]): string[] => {
  const have = new Set(held.map((fact) => fact.id))
  return [...new Set(ids)].filter((id) => !have.has(id))
}

/** Facts by their ids, as they stand now. */
export const readTouched = (
  tx: Tx,
  clinicId: ClinicId,
  touched: Partial<Record<FactName, readonly string[]>>,
): Promise<World> =>
  selectWanted(
    tx,
    clinicId,
    Object.fromEntries(Object.entries(touched).map(([name, ids]) => [name, byId(ids ?? [])])) as Wanted,
  )

/** An entry of the journal as undoing needs it; null where there is none or its content was blanked. */
export async function readEntry(tx: Tx, clinicId: ClinicId, revision: number): Promise<JournalEntry | null> {
  const [row] = await tx<JournalEntry[]>`
    select revision, kind, change, before from journal
    where clinic_id = ${clinicId} and revision = ${revision} and change is not null and before is not null`
  return row ? { ...row } : null
}

/** How far the clinic's journal has come. */
export async function readRevision(tx: Tx, clinicId: ClinicId): Promise<number> {
  const [row] = await tx<{ revision: number }[]>`
    select revision from clinic_clock where clinic_id = ${clinicId}`
  return row?.revision ?? 0
}

const BOARD_KINDS = {
  clinic: everywhere,
  site: everywhere,
  policySet: everywhere,
  member: everywhere,
} satisfies Wanted

/** The facts of a window, and the revision at which they stood so. One moment, so open it for reading. */
export async function readWindow(
  tx: Tx,
  clinicId: ClinicId,
  window: Window,
): Promise<{ revision: number; world: World }> {
  const revision = readRevision(tx, clinicId)
  const world = readOf(tx, clinicId, window)
  return { revision: await revision, world: await world }
}

function readOf(tx: Tx, clinicId: ClinicId, window: Window): Promise<World> {
  switch (window.kind) {
    case 'day':
      return selectWanted(tx, clinicId, dayKinds(window))
    case 'appointment':
      return readOne(tx, clinicId, window)
    case 'sterility':
      return selectWanted(tx, clinicId, { ...dayKinds(window), ...sterilityKinds(window) })
    case 'stock':
      return selectWanted(tx, clinicId, STOCK)
  }
}

/** The clinic's shelf and the kits laid out from it; sets on their way, with the packs they travel in. */
const STOCK: Wanted = {
  ...BOARD_KINDS,
  kit: everywhere,
  stockLine: everywhere,
  instrumentSet: where(`place ->> 'kind' = 'in-transit'`),
  pack: where(`life ->> 'kind' in ('in-transit', 'held') and set_id is not null`),
}

type DayWindow = Pick<Extract<Window, { kind: 'day' }>, 'siteId' | 'day'>
type OneWindow = Extract<Window, { kind: 'appointment' }>

const DAY = 'select id from appointment where clinic_id = $1 and site_id = $2 and day = $3'

/** One round trip: every kind is asked for by the day itself, not by ids that would have to be fetched first. */
function dayKinds({ siteId, day }: DayWindow): Wanted {
  const values = [siteId, day]
  const ofDay: Where = { sql: `appointment_id in (${DAY})`, values }
  const patients = `select patient_id from appointment where clinic_id = $1 and site_id = $2 and day = $3`
  const rooms = 'operatory_id in (select id from operatory where clinic_id = $1 and site_id = $2)'
  const openHere = `${rooms} and appointment_id is null and life ->> 'kind' = 'open'`
  return {
    ...BOARD_KINDS,
    ...Object.fromEntries(HANGING.map((name) => [name, ofDay])),
    operatory: { sql: 'site_id = $2', values: [siteId] },
    roster: { sql: 'site_id = $2 and day = $3', values },
    appointment: { sql: 'site_id = $2 and day = $3', values },
    patient: { sql: `id in (${patients})`, values },
    mouthChart: { sql: `patient_id in (${patients})`, values },
    allergyRecord: { sql: `patient_id in (${patients})`, values },
    dose: ofDay,
    occupancy: { sql: rooms, values: [siteId] },
    incident: { sql: `appointment_id in (${DAY}) or (${openHere})`, values },
  }
}

/** Loads and opened packs of so many days back stand on the steriliser's screen; older ones only while a pack lies there. */
const BENCH_DAYS = 14
/** A weekly test that was missed for long is still found as the last one. */
const TEST_DAYS = 90

/** Sterilisers of a site, what they ran lately, the packs of the site, and every set: pools are shared between sites. */
function sterilityKinds({ siteId, day }: DayWindow): Wanted {
  const own = 'steriliser_id in (select id from steriliser where clinic_id = $1 and site_id = $2)'
  const since = (days: number) => `extract(epoch from $3::date - ${days}) * 1000`
  const unused = `life ->> 'kind' in ('shelf', 'reserved', 'held', 'in-transit')`
  // What comes from another site has its load and its load's tests there.
  const lying = `select load_id from pack where clinic_id = $1 and site_id = $2 and ${unused}`
  const recent = `${own} and (started >= ${since(BENCH_DAYS)} or life ->> 'kind' in ('running', 'ended'))`
  const values = [siteId, day]
  const coming = `life ->> 'kind' = 'in-transit' and life ->> 'to' = ($2::uuid)::text`
  const packs = `(site_id = $2 and (${unused} or load_id in (select id from load where clinic_id = $1 and ${recent}))) or (${coming})`
  return {
    steriliser: { sql: 'site_id = $2', values: [siteId] },
    load: {
      sql: `(${recent}) or id in (${lying})`,
      values,
    },
    indicator: {
      sql: `(${own} and (placed >= ${since(TEST_DAYS)} or life ->> 'kind' = 'pending')) or load_id in (${lying})`,
      values,
    },
    instrumentSet: everywhere,
    pack: { sql: packs, values },
    trayLine: {
      // Those that hold or want a pack: the others bear on no set.
      sql: `pack_kind is not null and tray_id in
        (select id from tray where clinic_id = $1 and appointment_id in (${DAY}))`,
      values,
    },
  }
}

/** What a sterility window holds beside its day: the day's own facts are not read again. */
export const readBesideDay = (tx: Tx, clinicId: ClinicId, window: DayWindow): Promise<World> =>
  selectWanted(tx, clinicId, sterilityKinds(window))

/** Who else comes that day and how far they are: who may be taken for whom, and when room and people are free. */
const ITS_DAY = `(select b.id, b.patient_id from appointment a join appointment b
  on b.clinic_id = a.clinic_id and b.site_id = a.site_id and b.day = a.day
  where a.clinic_id = $1 and a.id = ${REACHED})`

const ONE: Wanted = {
  ...BOARD_KINDS,
  ...HANGING_ON,
  operatory: where(`id = ${ROOMS}`),
  appointment: where(`id = ${COMPANY}`),
  patient: where('id = any(array(select patient_id from company))'),
  visit: where(`appointment_id = ${COMPANY}`),
  // Other doses of the same day count towards the same limit.
  dose: where(`appointment_id = ${COMPANY} and patient_id = ${PEOPLE}`),
  roster: where(
    `(site_id, day) in (select site_id, day from appointment where clinic_id = $1 and id = ${REACHED})`,
  ),
  incident: OF_REACHED,
  kit: everywhere,
}

function readOne(tx: Tx, clinicId: ClinicId, { appointmentId }: OneWindow): Promise<World> {
  const { wanted, lists } = withBehindPacks(ONE)
  const reached: Where = { sql: '(select $2::uuid)', values: [appointmentId] }
  const company = { 'company(id, patient_id)': where(ITS_DAY) }
  return selectWanted(tx, clinicId, wanted, { ...listsOf(reached, []), ...company, ...lists })
}
