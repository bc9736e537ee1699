import { z } from 'zod'
import { asClinic } from '#db/as-clinic.ts'
import { readTouched } from '#db/read.ts'
import { everywhere, selectFacts, type Where } from '#db/select.ts'
import { INVENTED_PIN } from '#seed/people.ts'
import { must } from '#shared/base/assert.ts'
import { dayOf, instant } from '#shared/base/moment.ts'
import type { FactName, Facts } from '#shared/facts.ts'
import type { AppointmentId, ClinicId, MemberId, SiteId } from '#shared/ids.ts'
import { id } from '#shared/inputs.ts'
import { can, type Role, rolesAtStation } from '#shared/people/role.ts'
import type { House } from '../house.ts'
import type { Trouble } from '../http/reply.ts'
import { readClinic } from '../sign-in/read-people.ts'
import { listPinned } from '../sign-in/stations.ts'
import { clinical, importing, open, router, signedIn, TroubleError } from './init.ts'

const FOUND_AT_MOST = 20

export const readFacts = <Name extends FactName>(
  house: House,
  clinicId: ClinicId,
  { name, where }: { name: Name; where: Where },
): Promise<Facts[Name][]> =>
  asClinic(house.database, clinicId, (tx) => selectFacts(tx, clinicId, { name, where }), 'read')

/** Who is signed in, where, and what names a screen needs; null when nobody is. */
export const me = open.query(async ({ ctx: { house, session } }) => {
  if (!session) return null
  const { clinicId } = session
  const [clinics, sites, members] = await asClinic(
    house.database,
    clinicId,
    (tx) =>
      Promise.all([
        selectFacts(tx, clinicId, { name: 'clinic', where: everywhere }),
        selectFacts(tx, clinicId, { name: 'site', where: everywhere }),
        selectFacts(tx, clinicId, { name: 'member', where: everywhere }),
      ]),
    'read',
  )
  const clinic = must(clinics[0], 'a session belongs to a clinic')
  const member = must(
    members.find(({ id }) => id === session.memberId),
    'a session belongs to a member',
  )
  const offset = clinic.clock.kind === 'demo' ? clinic.clock.offset : 0
  const at = instant(house.wall() + offset)
  return {
    clinic,
    member: { ...member, roles: session.roles },
    audience: session.audience,
    station: session.station,
    /** Opened at a shared station, which locks again by itself. */
    atStation: session.stationId !== null,
    at,
    sites: sites.map((site) => ({ site, today: dayOf(at, site.zone) })),
    names: Object.fromEntries(members.map(({ id, shortName }) => [id, shortName])) as Record<
      MemberId,
      string
    >,
  }
})

interface Doors {
  clinicName: string | null
  invented: boolean
  people: { memberId: MemberId; name: string; roles: Role[] }[]
}

/** What someone who is not signed in may know: the clinic's name, and in the invented clinic its people. */
export const signInRouter = router({
  doors: open.query(async ({ ctx: { house } }): Promise<Doors> => {
    const [clinicId] = await house.clinics()
    const clinic = clinicId && (await readClinic(house.database, clinicId))
    if (!clinic) return { clinicName: null, invented: false, people: [] }
    const members = clinic.invented
      ? await readFacts(house, clinic.id, { name: 'member', where: { sql: 'active', values: [] } })
      : []
    const people = members.map(({ id, name, roles }) => ({ memberId: id, name, roles }))
    return { clinicName: clinic.name, invented: clinic.invented, people }
  }),
})

/** Who may take a shared station over by their digits; in the invented clinic everyone's are the same, and said. */
export const stationRouter = router({
  people: signedIn.query(async ({ ctx: { house, session } }) => {
    const { clinicId, stationId } = session
    if (stationId === null) return { people: [], hint: null }
    const [pinned, members, isInvented] = await Promise.all([
      listPinned(house.database.db, clinicId),
      readFacts(house, clinicId, { name: 'member', where: { sql: 'active', values: [] } }),
      house.isInvented(clinicId),
    ])
    const people = members
      .filter(({ id, roles }) => pinned.includes(id) && rolesAtStation(roles).length > 0)
      .sort((a, b) => a.name.localeCompare(b.name))
      .map(({ id, name, roles }) => ({ memberId: id, name, roles: rolesAtStation(roles) }))
    return { people, hint: isInvented ? INVENTED_PIN : null }
  }),
})

export const clinicRouter = router({
  members: signedIn.query(({ ctx: { house, session } }) =>
    readFacts(house, session.clinicId, { name: 'member', where: everywhere }),
  ),
  operatories: signedIn.query(({ ctx: { house, session } }) =>
    readFacts(house, session.clinicId, { name: 'operatory', where: everywhere }),
  ),
  policy: signedIn.query(async ({ ctx: { house, session } }) => {
    const [policy] = await readFacts(house, session.clinicId, { name: 'policySet', where: everywhere })
    return policy ?? null
  }),
})

export const packsRouter = router({
  /** Codes of packs of a kind that lie on the shelf out of a released load, at one site where it is named: what may be fetched. */
  onShelf: clinical
    .input(z.object({ kind: z.string().max(60), siteId: id<SiteId>().optional() }))
    .query(async ({ ctx, input }) => {
      const values = [input.kind, ...(input.siteId === undefined ? [] : [input.siteId])]
      const found = await readFacts(ctx.house, ctx.session.clinicId, {
        name: 'pack',
        where: {
          sql: `kind = $2 and life ->> 'kind' = 'shelf' and load_id in
            (select id from load where clinic_id = $1 and life ->> 'kind' = 'released')
            ${input.siteId === undefined ? '' : 'and site_id = $3'}`,
          values,
        },
      })
      return found.slice(0, FOUND_AT_MOST).map(({ code }) => code)
    }),
})

const NOT_BOOKING: Trouble = {
  what: 'Your role does not look patients up by name.',
  why: 'The list holds names and birth dates of everyone who ever came.',
  todo: 'Ask the front desk.',
}

const NO_FORMS: Trouble = {
  what: 'Who may not hand out health forms is not told whose it is.',
  why: 'It leads to what a patient answers about allergies.',
  todo: 'Ask the desk or an assistant.',
}

export const patientsRouter = router({
  /** Whose appointment it is, for the health form at the desk: its answers are recorded for a patient. */
  of: signedIn.input(z.object({ appointmentId: id<AppointmentId>() })).query(async ({ ctx, input }) => {
    if (!can(ctx.session.roles, 'patient:allergies')) throw new TroubleError('FORBIDDEN', NO_FORMS)
    const [appointment] = await readFacts(ctx.house, ctx.session.clinicId, {
      name: 'appointment',
      where: { sql: 'id = $2', values: [input.appointmentId] },
    })
    return appointment?.patientId ?? null
  }),
  /** Patients whose family name begins so, for the form that books one: name and birth day, nothing clinical. */
  find: signedIn.input(z.object({ text: z.string().trim().min(2).max(60) })).query(async ({ ctx, input }) => {
    if (!can(ctx.session.roles, 'day:change')) throw new TroubleError('FORBIDDEN', NOT_BOOKING)
    const found = await readFacts(ctx.house, ctx.session.clinicId, {
      name: 'patient',
      where: {
        sql: 'starts_with(lower(family), lower($2))',
        values: [input.text],
      },
    })
    const byName = found.sort((a, b) => a.family.localeCompare(b.family) || a.given.localeCompare(b.given))
    return byName.slice(0, FOUND_AT_MOST).map(({ id, given, family, born }) => ({ id, given, family, born }))
  }),
})

export const importsRouter = router({
  /** Rows that wait to be settled, with the run and the source they came from. */
  open: importing.query(({ ctx: { house, session } }) =>
    asClinic(
      house.database,
      session.clinicId,
      async (tx) => {
        const problems = await selectFacts(tx, session.clinicId, {
          name: 'importProblem',
          where: { sql: `life ->> 'kind' = 'open'`, values: [] },
        })
        const batches = [...new Set(problems.map(({ batchId }) => batchId))]
        const { importBatch } = await readTouched(tx, session.clinicId, { importBatch: batches })
        const sources = await selectFacts(tx, session.clinicId, { name: 'importSource', where: everywhere })
        return { problems, batches: importBatch, sources }
      },
      'read',
    ),
  ),
  sources: signedIn.query(({ ctx: { house, session } }) =>
    readFacts(house, session.clinicId, { name: 'importSource', where: everywhere }),
  ),
})
