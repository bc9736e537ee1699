import { randomUUID } from 'node:crypto'
import { asClinic } from '#db/as-clinic.ts'
import type { Database, Tx } from '#db/database.ts'
import { selectFacts } from '#db/select.ts'
import { perform } from '#server/commands/perform.ts'
import type { Performed } from '#server/commands/performed.ts'
import { must } from '#shared/base/assert.ts'
import { type Instant, instant } from '#shared/base/moment.ts'
import { emptyWorld, FACT_NAMES, type FactName, type Facts, type World } from '#shared/facts.ts'
import type { ClinicId, CommandId, MemberId, SiteId } from '#shared/ids.ts'
import type { Role } from '#shared/people/role.ts'

/** 24 November 2026, 08:40 in Dublin. */
export const MORNING: Instant = instant(Date.UTC(2026, 10, 24, 8, 40))

export const newId = <Id>(): Id => randomUUID() as Id

export interface TestClinic {
  database: Database
  clinicId: ClinicId
  siteId: SiteId
  manager: MemberId
  /** Performs a command at the clinic's moment, by the manager unless `by` says otherwise. */
  perform: (
    kind: string,
    input: unknown,
    more?: { by?: MemberId; id?: CommandId; at?: Instant },
  ) => Promise<Performed>
  /** Performs what must not be refused. */
  done: (kind: string, input: unknown, by?: MemberId) => Promise<number>
  /** Every fact of the clinic, as it is kept. */
  world: () => Promise<World>
  in: <T>(work: (tx: Tx) => Promise<T>) => Promise<T>
}

/** Founds an invented clinic on a database; the time stands still at `MORNING` unless a command says otherwise. */
export async function foundClinic(database: Database): Promise<TestClinic> {
  const clinicId = newId<ClinicId>()
  const manager = newId<MemberId>()
  const keeper = { database, wall: () => MORNING }
  const within = <T>(work: (tx: Tx) => Promise<T>) => asClinic(database, clinicId, work, 'read')
  const clinic: Omit<TestClinic, 'siteId'> = {
    database,
    clinicId,
    manager,
    perform: (kind, input, { by = manager, id = newId<CommandId>(), at } = {}) =>
      perform(keeper, {
        clinicId,
        command: { id, kind, input, sawRevision: 0, madeAt: at ?? MORNING, by, station: 'test' },
        ...(at === undefined ? {} : { at }),
      }),
    done: async (kind, input, by) => {
      const performed = await clinic.perform(kind, input, by ? { by } : {})
      if (performed.refused) throw new Error(`${kind} was refused: ${JSON.stringify(performed)}`)
      return performed.revision
    },
    world: () => within((tx) => readAll(tx, clinicId)),
    in: within,
  }
  await clinic.done('clinic.found', {
    name: 'Invented clinic',
    invented: true,
    notation: 'iso',
    site: { name: 'Quay', zone: 'Europe/Dublin', opensAt: '08:00', closesAt: '18:00' },
    manager: { name: 'Mina Manager', shortName: 'M. Manager' },
  })
  const [site] = (await clinic.world()).site
  return { ...clinic, siteId: must(site, 'a founded clinic has a site').id }
}

/** Every fact of a clinic, in the order of ids, so that two worlds can be compared. */
export async function readAll(tx: Tx, clinicId: ClinicId): Promise<World> {
  const world = emptyWorld()
  for (const name of FACT_NAMES) {
    await readKind(tx, { clinicId, name, world })
  }
  return world
}

async function readKind<Name extends FactName>(
  tx: Tx,
  { clinicId, name, world }: { clinicId: ClinicId; name: Name; world: World },
): Promise<void> {
  const facts = await selectFacts(tx, clinicId, { name, where: { sql: 'true', values: [] } })
  const kinds: { [N in FactName]: Facts[N][] } = world
  kinds[name] = facts as (typeof kinds)[Name]
}

type Row = { id: string }
/** A world with each kind in the order of ids. */
export const inOrder = (world: World): World =>
  Object.fromEntries(
    FACT_NAMES.map((name) => [name, [...(world[name] as Row[])].sort((a, b) => a.id.localeCompare(b.id))]),
  ) as unknown as World

/** Adds a person and says who it is. */
export async function addPerson(clinic: TestClinic, name: string, role: Role): Promise<MemberId> {
  await clinic.done('person.add', { name, shortName: name, roles: [role] })
  const { member } = await clinic.world()
  return must(
    member.find((candidate) => candidate.name === name),
    'the person was added',
  ).id
}

/** Adds an operatory and says which it is. */
export async function addOperatory(clinic: TestClinic, name: string) {
  await clinic.done('operatory.add', { siteId: clinic.siteId, name, kind: 'surgery', latexSafe: false })
  const { operatory } = await clinic.world()
  return must(
    operatory.find((candidate) => candidate.name === name),
    'the operatory was added',
  ).id
}
