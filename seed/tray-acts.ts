import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import type { Pack } from '#shared/sterility/sterility-facts.ts'
import { lotsFor } from '#shared/trays/stock.ts'
import type { Tray, TrayLine } from '#shared/trays/tray.ts'
import { DEMO_DAY } from './clinic.ts'
import { type Ask, appointmentOf } from './telling.ts'
import type { Act } from './where.ts'

/** An act on the tray of a booking, where it has one in this state. */
const onTray =
  (states: readonly Tray['life']['kind'][], asks: (tray: Tray, world: World) => Ask[]): Act =>
  (telling, booking) => {
    const { id } = appointmentOf(telling, booking.key)
    const tray = telling.world.tray.find((each) => each.appointmentId === id)
    return tray && states.includes(tray.life.kind) ? asks(tray, telling.world) : []
  }
const ofIt =
  (kind: string, more: object = {}) =>
  (tray: Tray): Ask[] => [{ kind, input: { trayId: tray.id, ...more } }]

export const linesOf = (tray: Tray, world: World): TrayLine[] =>
  world.trayLine.filter((line) => line.trayId === tray.id)

/** A pack of this kind that is on the shelf out of a released load, other than those already taken. */
function findPack(world: World, kind: string, taken: Set<string>): Pack {
  const released = new Set(world.load.filter(({ life }) => life.kind === 'released').map(({ id }) => id))
  const pack = world.pack.find(
    (each) =>
      each.kind === kind &&
      each.life.kind === 'shelf' &&
      each.loadId !== null &&
      released.has(each.loadId) &&
      !taken.has(each.id),
  )
  return must(pack, `a ${kind} is on the shelf`)
}

/** Every line is taken in hand: packs are scanned, clamps looked at, the rest ticked from its lot. */
function pick(tray: Tray, world: World): Ask[] {
  const taken = new Set<string>()
  return linesOf(tray, world)
    .filter((line) => line.tick === null && line.omitted === null)
    .map((line) => {
      if (line.packKind !== null) {
        const pack = findPack(world, line.packKind, taken)
        taken.add(pack.id)
        return { kind: 'tray.scan', input: { trayId: tray.id, code: pack.code } }
      }
      const [stock] = lotsFor(line, world.stockLine, DEMO_DAY)
      return {
        kind: 'tray.tick',
        input: { trayId: tray.id, lineId: line.id, inspected: true, stockLineId: stock?.id ?? null },
      }
    })
}

export const claimTray = onTray(['needed', 'held'], ofIt('tray.claim'))
export const pickTray = onTray(['claimed'], pick)
export const layOutTray = onTray(['claimed'], ofIt('tray.lay-out'))
export const checkTray = onTray(['laid-out'], ofIt('tray.check'))
export const openTray = onTray(['checked'], (tray, world) => {
  const packs = linesOf(tray, world).flatMap(({ packId }) => packId ?? [])
  const looked = packs.map((packId) => ({ packId, outside: 'sound', outer: 'changed', inner: 'changed' }))
  return ofIt('tray.open', { looked })(tray)
})
export const countBack = onTray(['opened'], (tray, world) => {
  const counted = linesOf(tray, world).filter((line) => line.countedBack && line.omitted === null)
  return ofIt('tray.count-back', {
    counts: counted.map(({ id, count }) => ({ lineId: id, counted: count })),
  })(tray)
})
export const clearTray = onTray(['counted-back'], ofIt('tray.clear'))
