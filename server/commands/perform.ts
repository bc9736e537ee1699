import { randomUUID } from 'node:crypto'
import { isDeepStrictEqual } from 'node:util'
import { asClinic } from '#db/as-clinic.ts'
import { CHANNEL, type Database, type Tx } from '#db/database.ts'
import { readEntry, readReach, readReachTexts, readTouched } from '#db/read.ts'
import { listOf, saveRows } from '#db/save.ts'
import { parseWorld } from '#db/select.ts'
import { must } from '#shared/base/assert.ts'
import { type Day, dayOf, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import { type Change, nothing } from '#shared/change.ts'
import type { Command, JournalEntry, Reach } from '#shared/command.ts'
import { findCommandRule } from '#shared/decide.ts'
import { FACT_NAMES, type FactName, type World } from '#shared/facts.ts'
import type { Finding } from '#shared/finding.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import type { ClinicClock, Member } from '#shared/people/clinic.ts'
import { can } from '#shared/people/role.ts'
import { saveDepartures } from './departures.ts'
import { makeEntry, saveEntry } from './journal.ts'
import { type Around, type Deciding, type Made, makeMade } from './made.ts'
import { parseCommand } from './parse-command.ts'
import { type Asked, type Performed, refusedFor, unreadable } from './performed.ts'
import { idsOfEntry, reachOfEntry } from './reach-of-entry.ts'

/** What performing needs of its surroundings. */
export interface Keeper {
  database: Database
  /** The wall clock. */
  wall: () => number
}

const UNIQUE_VIOLATION = '23505'
const FOREIGN_KEY_VIOLATION = '23503'

/**
 * The only mutation of facts. Locks the clinic's clock row, so that one command is decided at a time on facts that
 * cannot move under it; reads what the command reaches, decides, saves, writes the journal and announces, all in
 * one transaction. A repeated command gets the first answer, a refused one moves nothing.
 */
export async function perform(keeper: Keeper, asked: Asked): Promise<Performed> {
  const parsed = parseCommand(asked.command)
  if (!parsed.ok) return unreadable(parsed.reasons[0] as (typeof parsed.reasons)[number])
  const { command, rule } = parsed.value
  const deciding: Deciding = {
    reach: rule.reach(command.input),
    decide: (world, around) => makeMade(world, command, { ...around, newId: <Id>() => randomUUID() as Id }),
  }
  return performDecided(keeper, { ...asked, command }, deciding)
}

/** A command without its input: that stays where the command is decided. */
export type Envelope = Omit<Asked, 'command'> & {
  command: Omit<Command, 'input'> & { input?: unknown }
}

/** The same for a command that is decided elsewhere: beside the event loop, where it is long. */
export async function performDecided(
  keeper: Keeper,
  asked: Envelope,
  deciding: Deciding,
): Promise<Performed> {
  const attempt = () =>
    asClinic(keeper.database, asked.clinicId, (tx) => performIn(tx, { keeper, asked, deciding }))
  try {
    return await attempt()
  } catch (error) {
    const { code } = error as { code?: string }
    // Facts made since rest on what undoing would remove.
    if (code === FOREIGN_KEY_VIOLATION && asked.command.kind === 'journal.undo') {
      return refusedFor({ rule: 'undo/moved-since', level: 'stop', about: 'revision', facts: 1 })
    }
    // Only a clinic's very first command has no row to lock: whoever came second finds it now.
    if (code !== UNIQUE_VIOLATION) throw error
    return attempt()
  }
}

interface Performing {
  keeper: Keeper
  asked: Envelope
  deciding: Deciding
}

type Times = { recordedAt: Instant; now: Instant; today: Day }

/** When it is: as it is told, else by the clinic's clock. */
function timeOf(
  { offset, zone }: { offset: number; zone: Zone },
  { keeper, asked }: Pick<Performing, 'keeper' | 'asked'>,
): Times {
  const recordedAt = instant(keeper.wall())
  const now = asked.at ?? instant(recordedAt + offset)
  return { recordedAt, now, today: dayOf(now, zone) }
}

/** The entry to undo, what it touched and all that this reaches. */
async function readForUndoing(
  tx: Tx,
  clinicId: ClinicId,
  { reach, today }: { reach: Reach; today: Day },
): Promise<{ world: World; entry: JournalEntry | null }> {
  const entry = await readEntry(tx, clinicId, must(reach.journal, 'undoing names an entry'))
  if (entry === null) return { world: await readReach(tx, clinicId, { reach, today }), entry }
  const [reached, touched] = await Promise.all([
    readReach(tx, clinicId, { reach: reachOfEntry(reach, entry), today }),
    readTouched(tx, clinicId, idsOfEntry(entry)),
  ])
  return { world: withFacts(reached, touched), entry }
}

/** What a decision rests on, read; of one that is made in another thread only who may ask is parsed here. */
interface Read {
  world: World
  entry: JournalEntry | null
  decide: (around: Around) => Made | Promise<Made>
}

async function readFor(
  tx: Tx,
  clinicId: ClinicId,
  { deciding, today }: { deciding: Deciding; today: () => Promise<Day> },
): Promise<Read> {
  const { reach } = deciding
  if ('decideApart' in deciding) {
    const texts = await readReachTexts(tx, clinicId, { reach, today })
    const { clinic = '[]', member = '[]' } = texts
    return {
      world: parseWorld({ clinic, member }),
      entry: null,
      decide: (around) => deciding.decideApart(texts, around),
    }
  }
  const { world, entry } =
    reach.journal === undefined
      ? { world: await readReach(tx, clinicId, { reach, today }), entry: null }
      : await readForUndoing(tx, clinicId, { reach, today: await today() })
  return { world, entry, decide: (around) => deciding.decide(world, around) }
}

interface Clock {
  revision: number
  digest: string
}

async function performIn(tx: Tx, { keeper, asked, deciding }: Performing): Promise<Performed> {
  const { clinicId, command } = asked
  // Asked together and answered in order: what stands behind the lock is read once the lock is held.
  const locked = lockClock(tx, clinicId)
  const answered = readFirstAnswer(tx, clinicId, command)
  const timed = readClinicTime(tx, clinicId).then((time) => timeOf(time, { keeper, asked }))
  const today = async () => (await timed).today
  const read = readFor(tx, clinicId, { deciding, today })
  const [clock, first, time, { world, entry, decide }] = await Promise.all([locked, answered, timed, read])
  if (first) return first
  const by = memberOf(world, command, clinicId)
  if (by === null || !mayUndo(by, entry)) {
    return refusedFor({ rule: 'person/not-allowed', level: 'stop', about: `member:${command.by}` })
  }
  const { station } = command
  const { now, today: day, recordedAt } = time
  const decided = await decide({ clinicId, now, today: day, by, station, journal: entry })
  if (decided.kind === 'refused') return refusedFor(...decided.findings)
  const { findings } = decided
  if (decided.kind === 'nothing') {
    return { refused: false, revision: clock?.revision ?? 0, findings, change: nothing }
  }
  const made = makeEntry(
    {
      clinicId,
      revision: (clock?.revision ?? 0) + 1,
      commandId: command.id,
      kind: command.kind,
      at: now,
      recordedAt,
      by: command.by,
      station,
      previous: clock?.digest ?? '',
    },
    decided.content,
  )
  await Promise.all([
    saveRows(tx, clinicId, decided.rows),
    saveEntry(tx, made, decided.content),
    saveReached(tx, made, decided.appointments),
    saveDepartures(tx, made, decided.departures),
    moveClock(tx, clinicId, { from: clock, to: made }),
    tx.unsafe('select pg_notify($1, $2)', [CHANNEL, `${clinicId}:${made.revision}`], { prepare: true }),
  ])
  return { refused: false, revision: made.revision, findings, change: decided.told }
}

async function lockClock(tx: Tx, clinicId: ClinicId): Promise<Clock | null> {
  const rows = await tx.unsafe<Clock[]>(
    'select revision, digest from clinic_clock where clinic_id = $1 for update',
    [clinicId],
    { prepare: true },
  )
  return rows[0] ?? null
}

async function moveClock(
  tx: Tx,
  clinicId: ClinicId,
  { from, to }: { from: Clock | null; to: { revision: number; digest: string } },
): Promise<void> {
  const sql = from
    ? 'update clinic_clock set revision = $2, digest = $3 where clinic_id = $1'
    : 'insert into clinic_clock (clinic_id, revision, digest) values ($1, $2, $3)'
  await tx.unsafe(sql, [clinicId, to.revision, to.digest], { prepare: true })
}

/** Notes which appointments an entry touched, so that the story of one can be told. */
async function saveReached(
  tx: Tx,
  { clinicId, revision }: { clinicId: ClinicId; revision: number },
  appointments: readonly string[],
): Promise<void> {
  if (appointments.length === 0) return
  await tx.unsafe(
    `insert into journal_appointment (clinic_id, appointment_id, revision)
      select $1, id, $2 from unnest($3::uuid[]) as touched(id)`,
    [clinicId, revision, listOf(appointments)],
    { prepare: true },
  )
}

/** What a command of this id was answered before; the same id on another command is a mistake that must not pass. */
async function readFirstAnswer(
  tx: Tx,
  clinicId: ClinicId,
  command: Envelope['command'],
): Promise<Performed | null> {
  const rows = await tx.unsafe<
    {
      revision: number
      kind: string
      command: Command | null
      change: Change | null
      findings: Finding[] | null
    }[]
  >(
    'select revision, kind, command, change, findings from journal where clinic_id = $1 and command_id = $2',
    [clinicId, command.id],
    { prepare: true },
  )
  const [row] = rows
  if (!row) return null
  const asJson: unknown = JSON.parse(JSON.stringify(command.input ?? null))
  const isSame =
    row.kind === command.kind &&
    (row.command === null || isDeepStrictEqual(row.command.input ?? null, asJson))
  const { revision, findings, change } = row
  if (isSame) return { refused: false, revision, findings: findings ?? [], change: change ?? nothing }
  return unreadable({
    what: 'Another command was sent under the same id before.',
    why: 'Nothing was changed; the first one stands.',
    todo: 'Look at what the screen shows now, then ask again.',
  })
}

/** How far the clinic's clock stands from the wall's, and where its days begin. Both hold from its first command on. */
export async function readClinicTime(tx: Tx, clinicId: ClinicId): Promise<{ offset: number; zone: Zone }> {
  const rows = await tx.unsafe<{ clock: ClinicClock; zone: Zone | null }[]>(
    `select clock, (select zone from site where clinic_id = $1 order by id limit 1) as zone
      from clinic where clinic_id = $1 and id = $1`,
    [clinicId],
    { prepare: true },
  )
  const [row] = rows
  return {
    offset: row?.clock.kind === 'demo' ? row.clock.offset : 0,
    zone: row?.zone ?? ('UTC' as Zone),
  }
}

/** Who asks; before a clinic is founded, its founder. */
function memberOf(world: World, { by }: Envelope['command'], clinicId: ClinicId): Member | null {
  const member = world.member.find((candidate) => candidate.id === by)
  if (member) return member
  return world.clinic.length === 0 ? founder(by, clinicId) : null
}

const founder = (id: MemberId, clinicId: ClinicId): Member => ({
  clinicId,
  id,
  name: 'founder',
  shortName: 'founder',
  roles: ['manager'],
  active: true,
  releasesLoads: false,
  drawsFirst: null,
})

/** Who undoes a step must be allowed to do it. */
const mayUndo = (by: Member, entry: JournalEntry | null): boolean => {
  if (entry === null) return true
  const rule = findCommandRule(entry.kind)
  return rule !== null && can(by.roles, rule.needs)
}

type Row = { id: string }

/** A world with more facts read into it. */
function withFacts(world: World, more: World): World {
  const joined = { ...world } as Record<FactName, Row[]>
  for (const name of FACT_NAMES) {
    const have = new Set(joined[name].map((fact) => fact.id))
    joined[name] = [...joined[name], ...(more[name] as Row[]).filter((fact) => !have.has(fact.id))]
  }
  return joined as unknown as World
}

/** The clinic's clock now. */
export async function readNow(keeper: Keeper, clinicId: ClinicId): Promise<{ at: Instant; zone: Zone }> {
  const { offset, zone } = await asClinic(
    keeper.database,
    clinicId,
    (tx) => readClinicTime(tx, clinicId),
    'read',
  )
  return { at: instant(keeper.wall() + offset), zone }
}
