import { asClinic } from '#db/as-clinic.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { type Day, dayOf, type Instant } from '#shared/base/moment.ts'
import type { InstrumentSetId, SiteId } from '#shared/ids.ts'
import { can } from '#shared/people/role.ts'
import type { PackKind } from '#shared/sterility/sterility-facts.ts'
import type { Kit, StockLine } from '#shared/trays/tray.ts'
import { readNow } from '../commands/perform.ts'
import type { Trouble } from '../http/reply.ts'
import { clinical, router, TroubleError } from './init.ts'

const NOT_COUNTING: Trouble = {
  what: 'This page is for those who count the stock.',
  why: 'What stands here decides what is ordered.',
  todo: 'Ask an assistant or the steriliser lead.',
}

/** The shelf as it stands, with the kits that are laid out from it. */
export interface StockSeen {
  lines: StockLine[]
  kits: Kit[]
  /** Today by the clinic's clock, at its first site: a lot is past its date from the day after. */
  today: Day
}

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

export const stockRouter = router({
  seen: clinical.query(async ({ ctx: { house, session } }): Promise<StockSeen> => {
    const { clinicId, roles } = session
    if (!can(roles, 'stock:count')) throw new TroubleError('FORBIDDEN', NOT_COUNTING)
    const { at, zone } = await readNow(house, clinicId)
    return asClinic(
      house.database,
      clinicId,
      async (tx) => ({
        lines: await selectFacts(tx, clinicId, { name: 'stockLine', where: everywhere }),
        kits: await selectFacts(tx, clinicId, { name: 'kit', where: everywhere }),
        today: dayOf(at, zone),
      }),
      'read',
    )
  }),
  /** Lots of which something is left: what may lie on a tray. */
  lots: clinical.query(
    ({ ctx: { house, session } }): Promise<StockLine[]> =>
      asClinic(
        house.database,
        session.clinicId,
        (tx) =>
          selectFacts(tx, session.clinicId, {
            name: 'stockLine',
            where: { sql: 'count > 0', values: [] },
          }),
        'read',
      ),
  ),
  /** Sets on their way, the longest first. */
  travelling: clinical.query(
    ({ ctx: { house, session } }): Promise<TravellingSet[]> =>
      asClinic(
        house.database,
        session.clinicId,
        async (tx) => {
          const { clinicId } = session
          const going = { sql: `place ->> 'kind' = 'in-transit'`, values: [] }
          const sets = await selectFacts(tx, clinicId, { name: 'instrumentSet', where: going })
          const packs = await selectFacts(tx, clinicId, {
            name: 'pack',
            where: { sql: `life ->> 'kind' in ('in-transit', 'held') and set_id is not null`, values: [] },
          })
          return sets
            .flatMap(({ id, mark, kind, place }) => {
              if (place.kind !== 'in-transit') return []
              const code = packs.find(({ setId }) => setId === id)?.code ?? null
              return [{ id, mark, kind, code, to: place.to, since: place.since }]
            })
            .sort((a, b) => a.since - b.since)
        },
        'read',
      ),
  ),
})
