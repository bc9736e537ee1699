import { asClinic } from '#db/as-clinic.ts'
import { selectFacts } from '#db/select.ts'
import { can } from '#shared/people/role.ts'
import type { StockLine } from '#shared/trays/tray.ts'
import type { Trouble } from '../http/reply.ts'
import type { Snapshot } from '../realtime/hub.ts'
import { clinical, router, TroubleError } from './init.ts'

const NOT_COUNTING: Trouble = {
  what: 'This page is for those who lay out trays and count the stock.',
  why: 'What stands here decides what is ordered and where a set is looked for.',
  todo: 'Ask an assistant or the steriliser lead.',
}

export const stockRouter = router({
  /** The shelf as it stands, with the kits that are laid out from it and the sets on their way between sites. */
  window: clinical.query(({ ctx: { house, session } }): Promise<Snapshot> => {
    const { clinicId, roles } = session
    if (!can(roles, 'stock:count') && !can(roles, 'tray:use'))
      throw new TroubleError('FORBIDDEN', NOT_COUNTING)
    return house.hub.snapshot(clinicId, { kind: 'stock' })
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
})
