import { z } from 'zod'
import type { IndicatorId, LoadId, PackId, SiteId, SteriliserId } from '#shared/ids.ts'
import { day, id } from '#shared/inputs.ts'

/** Where a recall starts, as it is asked over the wire. */
export const recallAsked = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('load'), loadId: id<LoadId>() }),
  z.object({ kind: z.literal('pack'), packId: id<PackId>() }),
  z.object({ kind: z.literal('indicator'), indicatorId: id<IndicatorId>() }),
  z.object({ kind: z.literal('steriliser'), steriliserId: id<SteriliserId>() }),
  z.object({
    kind: z.literal('day'),
    siteId: id<SiteId>(),
    day,
    steriliserId: id<SteriliserId>().nullable(),
  }),
])
export type RecallAsked = z.output<typeof recallAsked>

/** The same from an address, where a steriliser that is not named means all; null where it names nothing. */
export function parseRecallAsked(query: Record<string, unknown>): RecallAsked | null {
  const asked = recallAsked.safeParse({ steriliserId: null, ...query })
  return asked.success ? asked.data : null
}
