import { z } from 'zod'
import { asClinic } from '#db/as-clinic.ts'
import { FEED_KINDS } from '#db/schema/feeds.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { dayOf, instant } from '#shared/base/moment.ts'
import type { AppointmentId, ClinicId } from '#shared/ids.ts'
import { id } from '#shared/inputs.ts'
import { can } from '#shared/people/role.ts'
import { teachable, wordsOfWork } from '#shared/procedures/own-words.ts'
import { isUnread } from '#shared/procedures/recognise.ts'
import { readNow } from '../commands/perform.ts'
import { type FeedBy, listFeeds, makeFeed, readFeedLog, revokeFeed } from '../exports/feeds.ts'
import type { House } from '../house.ts'
import { readCalendars } from '../imports/calendar-rounds.ts'
import type { Session } from '../sign-in/session.ts'
import { importing, router, signedIn, TroubleError } from './init.ts'

const NOT_YOURS = {
  what: 'Only the manager gives out this calendar.',
  why: 'Whoever knows its address reads it without signing in.',
  todo: 'Ask the manager, or make one of your own day.',
}

const target = z.object({ kind: z.enum(FEED_KINDS), targetId: id<string>() })
type Target = z.infer<typeof target>

/** The manager gives out any feed, and one with names; everybody else their own, without. */
function allowFeed({ roles, memberId }: Session, { kind, targetId }: Target, detail = false): void {
  if (can(roles, 'clinic:set')) return
  if (kind === 'dentist' && targetId === memberId && !detail) return
  throw new TroubleError('FORBIDDEN', NOT_YOURS)
}

export const feedsRouter = router({
  /** Whose days are given out. No secret is among them: only its digest is kept. */
  list: signedIn.query(({ ctx: { house, session } }) => listFeeds(house.database, session.clinicId)),
  /** Makes a feed, or gives it a new address; the old one leads nowhere from then on. The path is told this once. */
  make: signedIn
    .input(target.extend({ detail: z.boolean().default(false) }))
    .mutation(async ({ ctx: { house, session }, input }) => {
      const { detail, ...of } = input
      allowFeed(session, of, detail)
      const { clinicId } = session
      const secret = await makeFeed(house.database, { clinicId, ...of }, { detail, by: byOf(house, session) })
      return { path: `/feed/${secret}.ics` }
    }),
  revoke: signedIn.input(target).mutation(async ({ ctx: { house, session }, input }) => {
    allowFeed(session, input)
    const { clinicId } = session
    await revokeFeed(house.database, { clinicId, ...input }, byOf(house, session))
  }),
  /** Who gave out which days and who took them back: the manager's to read. */
  log: signedIn.query(({ ctx: { house, session } }) => {
    if (!can(session.roles, 'clinic:set')) throw new TroubleError('FORBIDDEN', NOT_YOURS)
    return readFeedLog(house.database, session.clinicId)
  }),
})

const byOf = (house: House, { memberId, station }: Session): FeedBy => ({
  memberId,
  station,
  at: instant(house.wall()),
})

/** What a file would do, as the import route answers it. */
export type { Preview } from '../imports/preview.ts'

/** Lines that wait for the same words. */
export interface UnreadWords {
  words: string
  /** Some of the lines as they are written. */
  examples: string[]
  appointmentIds: AppointmentId[]
}

const LINES_AT_MOST = 2000
const EXAMPLES = 3

export const wordsRouter = router({
  /** Words that the clinic has taught. */
  own: importing.query(({ ctx: { house, session } }) =>
    asClinic(
      house.database,
      session.clinicId,
      (tx) => selectFacts(tx, session.clinicId, { name: 'ownWord', where: everywhere }),
      'read',
    ),
  ),
  /** Words of appointments to come that name no kind of work, the most frequent first. */
  unread: importing.query(({ ctx: { house, session } }) => readUnread(house, session.clinicId)),
})

async function readUnread(house: House, clinicId: ClinicId): Promise<UnreadWords[]> {
  const { at, zone } = await readNow(house, clinicId)
  const { lines, own, notation } = await asClinic(
    house.database,
    clinicId,
    async (tx) => {
      const [clinic] = await selectFacts(tx, clinicId, { name: 'clinic', where: everywhere })
      return {
        notation: clinic?.notation ?? 'ask',
        own: await selectFacts(tx, clinicId, { name: 'ownWord', where: everywhere }),
        lines: await selectFacts(tx, clinicId, {
          name: 'work',
          where: {
            sql: `kind = 'undetermined' and appointment_id in (select id from appointment where clinic_id = $1
              and day >= $2::date and status not in ('fulfilled', 'cancelled', 'noshow', 'entered-in-error'))`,
            values: [dayOf(at, zone)],
          },
        }),
      }
    },
    'read',
  )
  const found = new Map<string, UnreadWords>()
  for (const { text, appointmentId } of lines.slice(0, LINES_AT_MOST)) {
    const words = teachable(wordsOfWork(text, notation))
    if (words === null || !isUnread(text, own)) continue
    const known = found.get(words) ?? { words, examples: [], appointmentIds: [] }
    if (known.examples.length < EXAMPLES && !known.examples.includes(text)) known.examples.push(text)
    known.appointmentIds.push(appointmentId)
    found.set(words, known)
  }
  return [...found.values()].sort((a, b) => b.appointmentIds.length - a.appointmentIds.length)
}

export const calendarsRouter = router({
  /** Calendars that are followed, with how their last round went. */
  list: importing.query(async ({ ctx: { house, session } }) => {
    const { calendars, sources, rounds } = await readCalendars(house.database, session.clinicId)
    return calendars.map((calendar) => ({
      id: calendar.id,
      source: sources.find(({ id }) => id === calendar.sourceId)?.name ?? '',
      // What comes after the host may be a secret.
      host: calendar.address.split('/').slice(0, 3).join('/'),
      everyMinutes: calendar.everyMinutes,
      round: rounds.find(({ calendarId }) => calendarId === calendar.id) ?? null,
    }))
  }),
})

const RUNS_SHOWN = 20

/** Files that were read in, newest first. */
export const runsRouter = router({
  latest: importing.query(async ({ ctx: { house, session } }) => {
    const { clinicId } = session
    const rows = await asClinic(
      house.database,
      clinicId,
      (tx) =>
        selectFacts(tx, clinicId, {
          name: 'importBatch',
          where: {
            sql: `id in (select id from import_batch where clinic_id = $1 order by at desc limit ${RUNS_SHOWN})`,
            values: [],
          },
        }),
      'read',
    )
    return rows.sort((a, b) => b.at - a.at)
  }),
})
