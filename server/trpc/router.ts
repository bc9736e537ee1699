import { z } from 'zod'
import { asClinic } from '#db/as-clinic.ts'
import type { Tx } from '#db/database.ts'
import type { Instant } from '#shared/base/moment.ts'
import { findCommandRule } from '#shared/decide.ts'
import type { Finding } from '#shared/finding.ts'
import type { AppointmentId, ClinicId, CommandId, MemberId, SiteId } from '#shared/ids.ts'
import { day, id, instantMs } from '#shared/inputs.ts'
import { can } from '#shared/people/role.ts'
import type { JudgedSnapshot, Snapshot } from '../realtime/hub.ts'
import {
  clinicRouter,
  importsRouter,
  me,
  packsRouter,
  patientsRouter,
  signInRouter,
  stationRouter,
} from './clinic-router.ts'
import { calendarsRouter, feedsRouter, runsRouter, wordsRouter } from './exchange-router.ts'
import { clinical, makeCallerOf, router, signedIn, TroubleError } from './init.ts'
import { mouthRouter } from './mouth-router.ts'
import { noteReading } from './note-reading.ts'
import { rosterRouter } from './roster-router.ts'
import { settingsRouter } from './settings-router.ts'
import { signOffsRouter } from './sign-offs-router.ts'
import { sterilityRouter } from './sterility-router.ts'
import { stockRouter } from './stock-router.ts'

const dayWindow = z.object({ siteId: id<SiteId>(), day })

export type DaySnapshot = ({ kind: 'facts' } & Snapshot) | ({ kind: 'lanes' } & JudgedSnapshot)

const boardRouter = router({
  /** A site's day: facts for those who may hold them, judged lanes for the others. */
  day: signedIn.input(dayWindow).query(async ({ ctx, input }): Promise<DaySnapshot> => {
    const { clinicId, audience } = ctx.session
    const window = { kind: 'day', ...input } as const
    if (audience === 'clinical') return { kind: 'facts', ...(await ctx.house.hub.snapshot(clinicId, window)) }
    return { kind: 'lanes', ...(await ctx.house.hub.judged(clinicId, window, audience)) }
  }),
  /** The same day as the corridor may see it, whoever is signed in on that screen. */
  wall: signedIn.input(dayWindow).query(
    async ({ ctx, input }): Promise<DaySnapshot> => ({
      kind: 'lanes',
      ...(await ctx.house.hub.judged(ctx.session.clinicId, { kind: 'day', ...input }, 'wall')),
    }),
  ),
})

const appointmentsRouter = router({
  /** All that hangs on one appointment. That it was read is kept. */
  window: clinical
    .input(z.object({ appointmentId: id<AppointmentId>() }))
    .query(async ({ ctx: { house, session }, input }): Promise<Snapshot> => {
      const snapshot = await house.hub.snapshot(session.clinicId, { kind: 'appointment', ...input })
      await noteReading(house, session, { page: 'appointment', ...input })
      return snapshot
    }),
})

/** One step in the story of an appointment. */
export interface StoryStep {
  revision: number
  at: Instant
  kind: string
  by: MemberId
  station: string
}

const journalRouter = router({
  /** Who did what to an appointment, oldest first. */
  of: clinical
    .input(z.object({ appointmentId: id<AppointmentId>() }))
    .query(
      ({ ctx: { house, session }, input }): Promise<StoryStep[]> =>
        asClinic(
          house.database,
          session.clinicId,
          (tx) => readStory(tx, session.clinicId, input.appointmentId),
          'read',
        ),
    ),
})

const readStory = async (tx: Tx, clinicId: ClinicId, appointmentId: AppointmentId): Promise<StoryStep[]> => [
  ...(await tx.unsafe<StoryStep[]>(
    `select j.revision, j.at, j.kind, j."by", j.station from journal_appointment t
      join journal j on j.clinic_id = t.clinic_id and j.revision = t.revision
      where t.clinic_id = $1 and t.appointment_id = $2 order by j.revision`,
    [clinicId, appointmentId],
    { prepare: true },
  )),
]

const asked = z.object({
  id: id<CommandId>(),
  kind: z.string().max(80),
  input: z.unknown(),
  sawRevision: z.int().min(0),
  madeAt: instantMs,
})

export type Answer =
  | { refused: false; revision: number; findings: Finding[] }
  | { refused: true; findings: Finding[] }

/** The one mutation. What came of it is a value; only what cannot be read is an error. */
const performing = signedIn.input(asked).mutation(async ({ ctx, input }): Promise<Answer> => {
  const { clinicId, memberId, station, stationId, roles } = ctx.session
  const needs = findCommandRule(input.kind)?.needs
  if (stationId !== null && needs && !can(roles, needs)) {
    const about = `member:${memberId}`
    return { refused: true, findings: [{ rule: 'person/not-allowed', level: 'stop', about }] }
  }
  const performed = await ctx.house.perform({
    clinicId,
    command: { ...input, input: input.input, by: memberId, station },
  })
  const isClinical = can(roles, 'clinical:read')
  if (!performed.refused) {
    return { refused: false, revision: performed.revision, findings: isClinical ? performed.findings : [] }
  }
  if (performed.trouble) throw new TroubleError('BAD_REQUEST', performed.trouble)
  return { refused: true, findings: performed.findings }
})

export const appRouter = router({
  me,
  signIn: signInRouter,
  station: stationRouter,
  clinic: clinicRouter,
  packs: packsRouter,
  patients: patientsRouter,
  imports: importsRouter,
  runs: runsRouter,
  words: wordsRouter,
  calendars: calendarsRouter,
  feeds: feedsRouter,
  roster: rosterRouter,
  signOffs: signOffsRouter,
  sterility: sterilityRouter,
  stock: stockRouter,
  settings: settingsRouter,
  mouth: mouthRouter,
  board: boardRouter,
  appointments: appointmentsRouter,
  journal: journalRouter,
  perform: performing,
})
export type AppRouter = typeof appRouter
export const makeCaller = makeCallerOf(appRouter)
export type Caller = ReturnType<typeof makeCaller>
