import type { Instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { InstrumentSetId, SiteId } from '#shared/ids.ts'
import type { PackKind } from '#shared/sterility/sterility-facts.ts'

/** A set that is on its way between sites. */
export interface TravellingSet {
  id: InstrumentSetId
  mark: string
  kind: PackKind
  /** Code of the pack it is wrapped in; null where it travels dirty. */
  code: string | null
  to: SiteId
  since: Instant
}

/** Sets on their way, the longest first. */
export const travellingOf = ({ instrumentSet, pack }: World): TravellingSet[] =>
  instrumentSet
    .flatMap(({ id, mark, kind, place }): TravellingSet[] => {
      if (place.kind !== 'in-transit') return []
      const code = pack.find(({ setId }) => setId === id)?.code ?? null
      return [{ id, mark, kind, code, to: place.to, since: place.since }]
    })
    .sort((a, b) => a.since - b.since)
