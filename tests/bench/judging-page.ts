import { instant } from '#shared/base/moment.ts'
import { applyChange, putting } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import { boardFor } from '#shared/readiness/board.ts'
import type { BenchJudging } from './judging.ts'

const CHANGES = 25

declare global {
  interface Window {
    judgeDay: (world: World, now: number) => BenchJudging
  }
}

/** Runs in the browser: the day judged once from nothing, then after one change, many times over. */
window.judgeDay = (given, now) => {
  const [appointment] = given.appointment
  if (!appointment) throw new Error('The day holds no appointment.')
  const asked = { siteId: appointment.siteId, day: appointment.day, now: instant(now) }
  const took = (world: World): number => {
    const began = performance.now()
    boardFor(world, asked)
    return performance.now() - began
  }
  const first = took(given)
  let world = given
  const after: number[] = []
  for (let turn = 0; turn < CHANGES; turn += 1) {
    const tray = world.tray[turn % world.tray.length]
    if (!tray) throw new Error('The day holds no tray.')
    const by = world.member[turn % world.member.length]?.id ?? tray.id
    const life = { kind: 'claimed', by, since: asked.now, touched: asked.now } as typeof tray.life
    world = applyChange(world, putting('tray', { ...tray, life }))
    after.push(took(world))
  }
  return { first, after, lanes: boardFor(world, asked).lanes.length }
}
