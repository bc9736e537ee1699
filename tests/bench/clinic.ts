import { randomUUID } from 'node:crypto'
import { asClinic } from '#db/as-clinic.ts'
import type { Database } from '#db/database.ts'
import { account, membership, session } from '#db/schema/accounts.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { perform } from '#server/commands/perform.ts'
import type { Performed } from '#server/commands/performed.ts'
import { must } from '#shared/base/assert.ts'
import { type Day, instant } from '#shared/base/moment.ts'
import type { FactName, Facts } from '#shared/facts.ts'
import type { ClinicId, CommandId, MemberId, SiteId } from '#shared/ids.ts'
import type { Role } from '#shared/people/role.ts'

/** Every measuring happens on this day, at this moment of it: 24 November 2026, 10:40 in Dublin. */
export const DAY = '2026-11-24' as Day
const MOMENT = Date.UTC(2026, 10, 24, 10, 40)
export const ROOMS = 12
export const APPOINTMENTS = 100
export const CLAIMERS = 64

const MINUTES = 45
const WORK = [
  'RCT 36',
  'comp 46 MO',
  'fissure sealants 16 26 36 46',
  'exam',
  'extraction 28',
  'crown prep 25',
  'comp 11',
  'pulpotomy K',
]

/** Names as unlike each other as those of a town: every pair of a day is looked at for being mistaken. */
const FAMILIES = [
  'Ashgrove',
  'Boland',
  'Cusack',
  'Doyle',
  'Egan',
  'Farrelly',
  'Gorman',
  'Hession',
  'Ingoldsby',
]
const MORE_FAMILIES = ['Jennings', 'Kavanagh', 'Lavelle', 'Mulcahy', 'Nangle', 'Okonkwo', 'Prunty', 'Quirke']
const GIVEN = [
  'Ada',
  'Bernard',
  'Catriona',
  'Dermot',
  'Eithne',
  'Fergal',
  'Gobnait',
  'Hubert',
  'Imelda',
  'Jonas',
]
export const patientOf = (index: number): { given: string; family: string } => {
  const families = [...FAMILIES, ...MORE_FAMILIES]
  return {
    given: GIVEN[Math.floor(index / families.length) % GIVEN.length] ?? '',
    family: families[index % families.length] ?? '',
  }
}

export interface BenchClinic {
  database: Database
  clinicId: ClinicId
  siteId: SiteId
  manager: MemberId
  assistants: MemberId[]
  perform: (kind: string, input: unknown, by?: MemberId, id?: string) => Promise<Performed>
  read: <Name extends FactName>(name: Name) => Promise<Facts[Name][]>
}

type Known = Pick<BenchClinic, 'clinicId' | 'siteId' | 'assistants' | 'manager'>

/** A clinic as it is reached through a database. */
export function clinicOn(database: Database, known: Known): BenchClinic {
  const { clinicId, manager } = known
  return {
    ...known,
    database,
    read: (name) =>
      asClinic(database, clinicId, (tx) => selectFacts(tx, clinicId, { name, where: everywhere }), 'read'),
    perform: async (kind, input, by = manager, id = randomUUID()) => {
      const command = {
        id: id as CommandId,
        kind,
        input,
        sawRevision: 0,
        madeAt: instant(Date.now()),
        by,
        station: 'bench',
      }
      const performed = await perform({ database, wall: Date.now }, { clinicId, command })
      if (performed.refused && performed.trouble) throw new Error(`${kind}: ${performed.trouble.what}`)
      return performed
    },
  }
}

/** A clinic that is founded and has nobody and nothing yet. */
export async function foundClinic(database: Database): Promise<BenchClinic> {
  const clinic = clinicOn(database, {
    clinicId: randomUUID() as ClinicId,
    manager: randomUUID() as MemberId,
    siteId: randomUUID() as SiteId,
    assistants: [],
  })
  await done(clinic, 'clinic.found', {
    name: 'Measured clinic',
    invented: true,
    notation: 'iso',
    clockOffset: MOMENT - Date.now(),
    site: { name: 'Quay', zone: 'Europe/Dublin', opensAt: '08:00', closesAt: '18:00' },
    manager: { name: 'Mina Manager', shortName: 'M. Manager' },
  })
  const [site] = await clinic.read('site')
  return { ...clinic, siteId: must(site, 'a founded clinic has a site').id }
}

/** Performs what must not be refused. */
export async function done(
  clinic: Pick<BenchClinic, 'perform'>,
  kind: string,
  input: unknown,
  by?: MemberId,
): Promise<number> {
  const performed = await clinic.perform(kind, input, by)
  if (performed.refused) throw new Error(`${kind} was refused: ${JSON.stringify(performed.findings)}`)
  return performed.revision
}

async function addPeople(clinic: BenchClinic, role: Role, count: number): Promise<MemberId[]> {
  for (let index = 0; index < count; index += 1) {
    const name = `${role} ${index}`
    await done(clinic, 'person.add', { name, shortName: name, roles: [role] })
  }
  const members = await clinic.read('member')
  return members.filter(({ roles }) => roles.includes(role)).map(({ id }) => id)
}

const timeOf = (turn: number): string => {
  const minutes = 8 * 60 + turn * (MINUTES + 15)
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`
}

/** Twelve operatories and a hundred appointments on one day, two thirds of the patients asked and charted. */
export async function makeDay(database: Database): Promise<BenchClinic> {
  const clinic = await foundClinic(database)
  for (let index = 0; index < ROOMS; index += 1) {
    await done(clinic, 'operatory.add', {
      siteId: clinic.siteId,
      name: `${index + 1}`,
      kind: 'surgery',
      latexSafe: false,
    })
  }
  const dentists = await addPeople(clinic, 'dentist', ROOMS)
  const assistants = await addPeople(clinic, 'assistant', CLAIMERS)
  const rooms = await clinic.read('operatory')
  for (let index = 0; index < APPOINTMENTS; index += 1) {
    const room = index % ROOMS
    await done(clinic, 'appointment.book', {
      siteId: clinic.siteId,
      day: DAY,
      startsAt: timeOf(Math.floor(index / ROOMS)),
      minutes: MINUTES,
      operatoryId: rooms[room]?.id ?? null,
      dentistId: dentists[room] ?? null,
      patient: {
        kind: 'new',
        ...patientOf(index),
        born: `${index % 8 === 7 ? 2018 : 1950 + (index % 50)}-05-14`,
      },
      work: [WORK[index % WORK.length], ...(index % 5 === 0 ? [WORK[(index + 3) % WORK.length]] : [])],
    })
  }
  await prepare(clinic, assistants[0])
  return { ...clinic, assistants }
}

async function prepare(clinic: BenchClinic, by: MemberId | undefined): Promise<void> {
  const appointments = await clinic.read('appointment')
  for (const [index, { id, patientId }] of appointments.entries()) {
    if (index % 3 === 2) continue
    await done(clinic, 'allergies.record', { patientId, state: 'none-known', latex: 'none-known' }, by)
    await done(clinic, 'mouth.stand-as-drawn', { appointmentId: id }, by)
  }
}

/** Opens a sign-in for a member and gives the cookie it is asked with. */
export async function signIn({ database, clinicId }: BenchClinic, memberId: MemberId): Promise<string> {
  const id = randomUUID()
  const token = `${randomUUID()}${randomUUID()}`.replaceAll('-', '').slice(0, 32)
  const accountId = randomUUID()
  await database.db.insert(account).values({ id: accountId, name: 'bench', email: `${id}@weirboard.invalid` })
  await database.db
    .insert(session)
    .values({ id, token, userId: accountId, expiresAt: new Date(Date.now() + 12 * 3_600_000) })
  await database.db.insert(membership).values({ accountId, clinicId, memberId })
  return `weirboard.session_token=${token}.bench`
}
