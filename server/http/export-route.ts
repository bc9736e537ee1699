import { z } from 'zod'
import { asClinic } from '#db/as-clinic.ts'
import { type Day, dayOf, type Instant, type Zone } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import { day } from '#shared/inputs.ts'
import { can, type Permission } from '#shared/people/role.ts'
import { readNow } from '../commands/perform.ts'
import { makeCsv } from '../exports/csv.ts'
import { makeFhirBundle } from '../exports/fhir.ts'
import { type FeedOptions, makeICalendar } from '../exports/icalendar.ts'
import { idsOf, readExported, readVersions } from '../exports/read.ts'
import { noteReading } from '../trpc/note-reading.ts'
import type { Answer } from './answer.ts'
import { NOT_SIGNED_IN, replyTrouble, type Trouble } from './reply.ts'

interface Making {
  world: World
  day: Day
  now: Instant
  zone: Zone
  versionOf: FeedOptions['versionOf']
}

interface Format {
  type: string
  needs: Permission
  make: (making: Making) => string
}

/** What the day can be given back as, by the end of the address. Allergies go out in FHIR only. */
const FORMATS: Record<string, Format> = {
  'day.csv': { type: 'text/csv; charset=utf-8', needs: 'day:read', make: ({ world }) => makeCsv(world) },
  'day.ics': {
    type: 'text/calendar; charset=utf-8',
    needs: 'day:read',
    make: ({ world, day, versionOf }) =>
      makeICalendar(world, { name: day, detail: true, versionOf, departed: [] }),
  },
  'day.fhir.json': {
    type: 'application/fhir+json; charset=utf-8',
    needs: 'clinical:read',
    make: ({ world, now, zone }) => JSON.stringify(makeFhirBundle(world, { now, zone })),
  },
}

const NOT_ALLOWED: Trouble = {
  what: 'Your role does not take this out of the house.',
  why: 'It holds patients’ allergies beside their names.',
  todo: 'Take the CSV or the calendar instead, or ask someone who treats patients.',
}
const NO_NAMES: Trouble = {
  what: 'A station that nobody has taken over gives no day out.',
  why: 'It names every patient of the day.',
  todo: 'Enter your digits first, or take it from your own screen.',
}
const NO_SUCH_EXPORT: Trouble = {
  what: 'The day is not given back under this address.',
  why: 'A file of the wrong day or kind could be taken for the right one.',
  todo: 'Ask for day.csv, day.ics or day.fhir.json, with ?day=YYYY-MM-DD; left out, it is today.',
}

const asked = z.object({ day: day.optional() })

/** `/api/export/day.csv?day=YYYY-MM-DD` and its like: a day of all sites as a file. That it was taken is kept. */
export const answerExport: Answer = async (house, request, response) => {
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  const { pathname, searchParams } = new URL(request.url ?? '', 'http://here')
  const file = pathname.slice(pathname.lastIndexOf('/') + 1)
  const format = Object.hasOwn(FORMATS, file) ? FORMATS[file] : undefined
  const told = asked.safeParse(Object.fromEntries(searchParams))
  if (!format || !told.success) return replyTrouble(response, format ? 400 : 404, NO_SUCH_EXPORT)
  // Who stands in a corridor may see that there is a day, and no name in it.
  if (session.audience === 'wall') return replyTrouble(response, 403, NO_NAMES)
  if (!can(session.roles, format.needs)) return replyTrouble(response, 403, NOT_ALLOWED)
  const { clinicId } = session
  const { at: now, zone } = await readNow(house, clinicId)
  const day = told.data.day ?? dayOf(now, zone)
  const { world, versionOf } = await asClinic(
    house.database,
    clinicId,
    async (tx) => {
      const world = await readExported(tx, clinicId, { sql: 'day = $2::date', values: [day] })
      return { world, versionOf: await readVersions(tx, clinicId, idsOf(world)) }
    },
    'read',
  )
  await noteReading(house, session, { page: `export ${file} ${day}`, appointmentId: null })
  const text = format.make({ world, day, now, zone, versionOf })
  response.writeHead(200, {
    'content-type': format.type,
    'content-disposition': `attachment; filename="${day}${file.slice('day'.length)}"`,
    'cache-control': 'no-store',
  })
  response.end(request.method === 'HEAD' ? undefined : text)
}
