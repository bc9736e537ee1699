import { type Change, joinChanges, putting, removing } from '../change.ts'
import type { World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'

const UNOPENED = new Set(['needed', 'claimed', 'laid-out', 'checked', 'held'])

/**
 * What an appointment that will not be kept gives back. An unopened tray goes, and the packs reserved for it are
 * on the shelf again; an opened one stays, for it has to be counted back and reprocessed, and credits no stock.
 */
export function releaseTray(world: World, appointmentId: AppointmentId): Change {
  const trays = world.tray.filter(
    (tray) => tray.appointmentId === appointmentId && UNOPENED.has(tray.life.kind),
  )
  const trayIds = new Set(trays.map((tray) => tray.id))
  const lines = world.trayLine.filter((line) => trayIds.has(line.trayId))
  const packs = world.pack.flatMap((pack) =>
    pack.life.kind === 'reserved' && trayIds.has(pack.life.trayId)
      ? [{ ...pack, life: { kind: 'shelf', place: '' } as const }]
      : [],
  )
  return joinChanges(
    removing('trayLine', ...lines.map((line) => line.id)),
    removing('tray', ...trays.map((tray) => tray.id)),
    putting('pack', ...packs),
  )
}
