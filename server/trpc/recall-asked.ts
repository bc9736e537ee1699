import { z } from 'zod'
import type { IndicatorId, LoadId, PackId, SiteId, SteriliserId } from '#shared/ids.ts'
import { dayText, idOf } from './inputs.ts'

/** Where a recall starts, as it is asked over the wire. */
export const recallAsked = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('load'), loadId: idOf<LoadId>() }),
  z.object({ kind: z.literal('pack'), packId: idOf<PackId>() }),
  z.object({ kind: z.literal('indicator'), indicatorId: idOf<IndicatorId>() }),
  z.object({ kind: z.literal('steriliser'), steriliserId: idOf<SteriliserId>() }),
  z.object({
    kind: z.literal('day'),
    siteId: idOf<SiteId>(),
    day: dayText,
    steriliserId: idOf<SteriliserId>().nullable(),
  }),
])
export type RecallAsked = z.output<typeof recallAsked>

/** The same from an address, where a steriliser that is not named means all; null where it names nothing. */
export function parseRecallAsked(query: Record<string, unknown>): RecallAsked | null {
  const asked = recallAsked.safeParse({ steriliserId: null, ...query })
  return asked.success ? asked.data : null
}
