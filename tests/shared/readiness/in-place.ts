import { must } from '#shared/base/assert.ts'
import { GATES, type Gate } from '#shared/base/rule.ts'
import type { World } from '#shared/facts.ts'
import type { Visit } from '#shared/schedule/appointment.ts'
import { BLOCK, does, inChair, refusals, shutting } from './chair.ts'
import { AGREED, ASSISTANT, answered, at, DENTIST, having, scene, visit } from './scene.ts'

/** For each gate the scene's appointment before it, with everything in place, and how it is passed. */
export const one = <T>(facts: readonly T[]): T => must(facts[0], 'the scene holds one')
const IDENTITY: Visit['identity'] = {
  identifiers: ['full-name', 'birth-day'],
  how: 'asked',
  of: null,
  by: ASSISTANT.id,
  at: at(-9),
}
const NUMB_GUM = [
  answered(96, { kind: 'gum', tooth: '46', side: 'cheek' }),
  answered(97, { kind: 'gum', tooth: '46', side: 'tongue' }),
]
const NUMB_TOOTH = answered(95, { kind: 'tooth', tooth: '46' })
export const RECOUNTED = { before: at(-8), through: at(-3), teeth: ['46' as const], by: DENTIST.id }
const TIME_OUT = { teeth: ['46' as const], planNumber: 1, by: DENTIST.id, at: at(-3) }
export const REMOVAL = {
  holesWhole: 1,
  septaCut: 0,
  clamps: 1,
  ligaturesIn: 1,
  ligatures: 1,
  sheetPieces: 1,
  fragment: 'none-missing',
  gum: 'sound',
  needles: 1,
  files: 0,
  blades: 0,
}
const PLACED = {
  planNumber: 1,
  sheets: AGREED.sheets.map(({ field, clamps }) => ({ field, clamps, sequence: 'clamp-first' })),
  tied: true,
  inspected: true,
  bow: 'back',
  minutes: 2,
  outcome: { leak: false, tear: false, retries: 0, gum: 'sound' },
}

function worldsInPlace(): Record<Gate, World> {
  const seat = having(scene(), 'visit', visit('arrived', { identity: IDENTITY }))
  const inject = inChair()
  const given = does(inject, 'dose.record', { dose: BLOCK })
  const clamp = having(given, 'numbness', ...NUMB_GUM)
  const clamped = having(does(clamp, 'visit.clamp', { tied: true }, { minute: -3 }), 'numbness', NUMB_TOOTH)
  const start = changed(clamped, 'visit', { recounted: RECOUNTED, timeOut: TIME_OUT })
  const placed = does(start, 'dam.placed', PLACED, { minute: -2 })
  const finished = does(does(placed, 'visit.start', {}, { minute: -1 }), 'visit.finish', {}, { minute: 20 })
  const removed = does(finished, 'dam.removed', REMOVAL, { minute: 21 })
  return {
    seat,
    inject,
    clamp,
    start,
    leave: does(removed, 'aftercare.give', { to: 'patient' }, { minute: 22 }),
  }
}

/** The one fact of a name, otherwise. */
export const changed = <
  Name extends 'visit' | 'patient' | 'tray' | 'allergyRecord' | 'appointment' | 'occupancy',
>(
  world: World,
  name: Name,
  more: Partial<World[Name][number]>,
): World => having(world, name, { ...one<World[Name][number]>(world[name]), ...more } as never)

export const IN_PLACE = worldsInPlace()
/** What opens each gate, as it is asked for in its own minute. */
export const PASSING: Record<Gate, { kind: string; input: object; minute: number }> = {
  seat: { kind: 'visit.seat', input: {}, minute: -5 },
  inject: { kind: 'dose.record', input: { dose: BLOCK }, minute: -5 },
  clamp: { kind: 'visit.clamp', input: { tied: true }, minute: -3 },
  start: { kind: 'visit.start', input: {}, minute: -1 },
  leave: { kind: 'visit.leave', input: {}, minute: 23 },
}
export const refusedAt = (gate: Gate, world: World, input: object = {}): string[] => {
  const { kind, input: usual, minute } = PASSING[gate]
  return refusals(world, kind, { ...usual, ...input }, { by: DENTIST, minute })
}
/** Gates that stay shut by any of these rules, in their own order. */
export const shutBy = (rules: readonly string[], world: World, minute: number): Gate[] =>
  GATES.filter((gate) => shutting(world, gate, minute).some((rule) => rules.includes(rule)))
