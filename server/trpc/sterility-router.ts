import { z } from 'zod'
import { asClinic } from '#db/as-clinic.ts'
import { readReach } from '#db/read.ts'
import { listOf } from '#db/save.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { dayOf, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import type { Reach } from '#shared/command.ts'
import type { World } from '#shared/facts.ts'
import type { Finding } from '#shared/finding.ts'
import type { ClinicId, LoadId, SiteId } from '#shared/ids.ts'
import { day, id } from '#shared/inputs.ts'
import { can } from '#shared/people/role.ts'
import { judgeRecall, planRecall, type RecallFrom, suspectLoads } from '#shared/sterility/recall.ts'
import { countFaults, type FaultCount, type FoundFault } from '#shared/trays/fault-count.ts'
import { readNow } from '../commands/perform.ts'
import { labelsOf, type PackLabel } from '../exports/labels.ts'
import { type RecallTold, tellRecall } from '../exports/recall.ts'
import type { House } from '../house.ts'
import type { Trouble } from '../http/reply.ts'
import type { Snapshot } from '../realtime/hub.ts'
import { clinical, router, TroubleError } from './init.ts'
import { noteReading } from './note-reading.ts'
import { type RecallAsked, recallAsked } from './recall-asked.ts'

const NOT_THERE: Trouble = {
  what: 'This page is for those who run the steriliser.',
  why: 'What is released or recalled here decides whether a tray is sterile.',
  todo: 'Ask the steriliser lead, or have the role given to you in the settings.',
}
/** Someone who may run the steriliser. */
const sterilising = clinical.use(({ ctx, next }) => {
  if (!can(ctx.session.roles, 'sterility:run')) throw new TroubleError('FORBIDDEN', NOT_THERE)
  return next()
})

export type { PackLabel }

/** A recall as a preview: it changes nothing. */
export interface RecallPreview {
  told: RecallTold
  findings: Finding[]
  /** The clinic's clock when it was made. */
  at: Instant
  zone: Zone
}

/** Twice: once for what is meant, once with all that hangs on the packs it reaches. */
export async function previewRecall(
  house: House,
  clinicId: ClinicId,
  asked: RecallAsked,
): Promise<RecallPreview> {
  const { at, zone: first } = await readNow(house, clinicId)
  const today = dayOf(at, first)
  const read = (reach: Reach): Promise<World> =>
    asClinic(
      house.database,
      clinicId,
      async (tx) => {
        const world = await readReach(tx, clinicId, { reach, today })
        const steriliser = await selectFacts(tx, clinicId, { name: 'steriliser', where: everywhere })
        return { ...world, steriliser }
      },
      'read',
    )
  const named = ofSite(await read(await reachOf(house, clinicId, asked)), asked)
  const { from, zone } = fromOf(named, asked, first)
  const loads = suspectLoads(named, from).map((load) => load.id)
  const reached = await read({ allPacks: true, loads })
  const world: World = { ...reached, load: named.load, indicator: named.indicator }
  const recall = planRecall(world, from, at)
  return { told: tellRecall(world, recall), findings: judgeRecall(recall), at, zone }
}

/** A day is a site's: other sites' loads of that day are not in question. */
function ofSite(world: World, asked: RecallAsked): World {
  if (asked.kind !== 'day') return world
  const here = new Set(world.steriliser.filter(({ siteId }) => siteId === asked.siteId).map(({ id }) => id))
  return { ...world, load: world.load.filter(({ steriliserId }) => here.has(steriliserId)) }
}

async function reachOf(house: House, clinicId: ClinicId, asked: RecallAsked): Promise<Reach> {
  if (asked.kind === 'pack') return { allPacks: true }
  if (asked.kind === 'load') return { allPacks: true, loads: [asked.loadId] }
  const all = await asClinic(
    house.database,
    clinicId,
    (tx) => selectFacts(tx, clinicId, { name: 'steriliser', where: everywhere }),
    'read',
  )
  return { allPacks: true, sterilisers: all.map(({ id }) => id) }
}

function fromOf(world: World, asked: RecallAsked, zone: Zone): { from: RecallFrom; zone: Zone } {
  switch (asked.kind) {
    case 'steriliser':
      return { from: { ...asked, since: null, until: null }, zone }
    case 'day': {
      const own = world.site.find(({ id }) => id === asked.siteId)?.zone ?? zone
      const { day, steriliserId } = asked
      return { from: { kind: 'day', day, steriliserId }, zone: own }
    }
    default:
      return { from: asked, zone }
  }
}

/** Weeks looked back over. */
const FAULT_WEEKS = 8
const WEEK_MS = 7 * 86_400_000
/** Commands that find a line not to count. */
const FINDING = ['tray.fault', 'tray.open', 'tray.tick']

/** Faults as they were found, from the journal: what lies on a tray now says nothing of those that were mended. */
async function readFaults(house: House, clinicId: ClinicId): Promise<FoundFault[]> {
  const { at, zone } = await readNow(house, clinicId)
  const rows = await asClinic(
    house.database,
    clinicId,
    (tx) =>
      tx.unsafe<{ at: number; of: string; why: string }[]>(
        `select j.at, coalesce(l ->> 'packKind', split_part(l ->> 'item', '/', 1)) as of, l -> 'fault' ->> 'why' as why
          from journal j cross join lateral jsonb_array_elements(j.change -> 'put' -> 'trayLine') l
          where j.clinic_id = $1 and j.kind = any($2::text[]) and j.at > $3::bigint
            and (l -> 'fault' ->> 'at')::bigint = j.at`,
        [clinicId, listOf(FINDING), at - FAULT_WEEKS * WEEK_MS],
        { prepare: true },
      ),
    'read',
  )
  return rows.map(({ at: found, of, why }) => ({ of, why, day: dayOf(instant(Number(found)), zone) }))
}

export const sterilityRouter = router({
  /** A site's day at the steriliser: the day, loads, indicators, packs and sets. */
  window: sterilising
    .input(z.object({ siteId: id<SiteId>(), day }))
    .query(
      ({ ctx: { house, session }, input }): Promise<Snapshot> =>
        house.hub.snapshot(session.clinicId, { kind: 'sterility', ...input }),
    ),
  /** What a recall would reach; it changes nothing. It names patients, so that it was read is kept. */
  recall: sterilising
    .input(recallAsked)
    .query(async ({ ctx: { house, session }, input }): Promise<RecallPreview> => {
      const preview = await previewRecall(house, session.clinicId, input)
      await noteReading(house, session, { page: 'recall', appointmentId: null })
      return preview
    }),
  /** What was found not to count on trays, by week, for the weekly review. */
  faults: sterilising.query(
    async ({ ctx: { house, session } }): Promise<FaultCount[]> =>
      countFaults(await readFaults(house, session.clinicId)),
  ),
  /** The labels of a load's packs, to print. */
  labels: sterilising
    .input(z.object({ loadId: id<LoadId>() }))
    .query(async ({ ctx: { house, session }, input }): Promise<PackLabel[]> => {
      const { clinicId } = session
      const { at, zone } = await readNow(house, clinicId)
      const reach = { loads: [input.loadId], sets: true as const }
      return asClinic(
        house.database,
        clinicId,
        async (tx) =>
          labelsOf(await readReach(tx, clinicId, { reach, today: dayOf(at, zone) }), input.loadId),
        'read',
      )
    }),
})
