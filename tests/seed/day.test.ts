import { beforeAll, describe, expect, test } from 'vitest'
import { DEMO_MOMENT } from '#seed/acts.ts'
import { DEMO_DAY } from '#seed/clinic.ts'
import { PEOPLE } from '#seed/people.ts'
import { dayScript, INVENTED_FOUNDER, performInMemory, seedInventedClinic } from '#seed/run.ts'
import { momentOf, type Step, type Telling, tell } from '#seed/telling.ts'
import { must } from '#shared/base/assert.ts'
import { type Instant, instant, MINUTE } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import { boardFor } from '#shared/readiness/board.ts'
import type { Board, BoardLine } from '#shared/readiness/board-types.ts'
import { overlapOf } from '#shared/schedule/clashes.ts'

const OPENS = momentOf(DEMO_DAY, '08:00')
const CLOSES = momentOf(DEMO_DAY, '17:30')

const boardAt = (world: World, now: Instant): Board =>
  boardFor(world, { siteId: must(world.site[0], 'there is a site').id, day: DEMO_DAY, now })

const isColoured = (line: BoardLine | null | undefined): boolean =>
  line?.state === 'ask' || line?.state === 'hold'
/** A lane is coloured where who is in it, or who comes next, waits for someone to act. */
const coloured = ({ lanes }: Board): string[] =>
  lanes.filter(({ now, next }) => isColoured(now) || isColoured(next[0])).map(({ name }) => name)

/** Plays steps and looks at the board each minute, as it stands when that minute is over. */
async function play(telling: Telling, steps: readonly Step[], perform: ReturnType<typeof performInMemory>) {
  const looks: { at: Instant; lanes: string[]; inChair: Map<string, string[]> }[] = []
  let at = OPENS
  for (const step of steps) {
    const moment = momentOf(step.day, step.time)
    for (; at < moment && at <= CLOSES; at = instant(at + MINUTE)) {
      const board = boardAt(telling.world, at)
      looks.push({ at, lanes: coloured(board), inChair: treatingOf(telling.world) })
    }
    await tell(telling, step, perform)
  }
  return looks
}

/** Whose chairs have work under way, by dentist or student. */
function treatingOf(world: World): Map<string, string[]> {
  const busy = new Map<string, string[]>()
  for (const visit of world.visit) {
    if (!['injected', 'clamped', 'started'].includes(visit.stage)) continue
    const appointment = must(
      world.appointment.find(({ id }) => id === visit.appointmentId),
      'a visit is of an appointment',
    )
    const who = appointment.studentId ?? appointment.dentistId ?? ''
    busy.set(who, [...(busy.get(who) ?? []), appointment.id])
  }
  return busy
}

describe('the invented clinic when its clock starts', () => {
  let world: World
  beforeAll(async () => {
    world = (await seedInventedClinic(performInMemory(), INVENTED_FOUNDER)).world
  })

  test('ten operatories, fourteen people, sixty appointments of one day, six dam sets', () => {
    expect(world.operatory).toHaveLength(10)
    expect(world.member).toHaveLength(14)
    expect(world.appointment).toHaveLength(60)
    expect(new Set(world.appointment.map(({ day }) => day))).toEqual(new Set([DEMO_DAY]))
    expect(world.instrumentSet.filter(({ kind }) => kind === 'dam-set')).toHaveLength(6)
    expect(world.clinic[0]).toMatchObject({ invented: true, clock: { kind: 'demo' } })
  })

  test('all roles, all four states of knowing allergies, children with guardians, an interpreter, charts known and not', () => {
    expect(new Set(Object.values(PEOPLE).flatMap(({ roles }) => [...roles])).size).toBe(8)
    const states = new Set(world.allergyRecord.map(({ state }) => state))
    expect([...states].sort()).toEqual(['asked-unknown', 'listed', 'none-known'])
    // The fourth is known by its absence: nobody asked, so nothing is on record.
    expect(world.allergyRecord.length).toBeLessThan(world.patient.length)
    expect(world.patient.filter(({ guardian }) => guardian !== null).length).toBeGreaterThanOrEqual(10)
    expect(world.patient.some(({ interpreter }) => interpreter !== null)).toBe(true)
    expect(world.mouthChart.length).toBeLessThan(world.patient.length)
  })

  test('nobody treats in two chairs at one time by a mistake of the bookings', () => {
    const treats = ({ studentId, dentistId }: World['appointment'][number]) => studentId ?? dentistId
    for (const one of world.appointment) {
      for (const two of world.appointment) {
        if (one.id === two.id || treats(one) !== treats(two)) continue
        expect(overlapOf(one, two), `${one.startsAt} and ${two.startsAt}`).toBeNull()
      }
    }
  })

  test('a latex conflict holds one lane, an ambiguous tooth asks in another, and no other lane is coloured', () => {
    const board = boardAt(world, DEMO_MOMENT)
    const rules = board.lanes.flatMap(({ now, next }) =>
      [now, next[0]].flatMap((line) => (isColoured(line) ? [line?.missing?.rule] : [])),
    )
    expect(rules.sort()).toEqual(['latex/conflict', 'tooth/words-contradict'])
  })

  test('some are in the chair already, at different stages', () => {
    expect(new Set(world.visit.map(({ stage }) => stage)).size).toBeGreaterThanOrEqual(4)
  })

  test('told twice, it is the same to the last id', async () => {
    const again = (await seedInventedClinic(performInMemory(), INVENTED_FOUNDER)).world
    expect(again).toEqual(world)
  })
})

describe('the whole day, played', () => {
  let telling: Telling
  let looks: Awaited<ReturnType<typeof play>>
  beforeAll(async () => {
    const perform = performInMemory()
    telling = await seedInventedClinic(perform, INVENTED_FOUNDER)
    looks = await play(telling, dayScript, perform)
  })

  test('at most two of ten lanes are coloured at any minute of its hours', () => {
    const loud = looks.filter(({ lanes }) => lanes.length > 2)
    expect(loud.map(({ at, lanes }) => `${new Date(at).toISOString()}: ${lanes.join(', ')}`)).toEqual([])
    // It is no quiet that never speaks: each trouble is seen.
    expect(looks.filter(({ lanes }) => lanes.length > 0).length).toBeGreaterThan(60)
  })

  test('nobody works in two chairs at any minute', () => {
    for (const { at, inChair } of looks) {
      for (const [who, chairs] of inChair) {
        expect(chairs, `${who} at ${new Date(at).toISOString()}`).toHaveLength(1)
      }
    }
  })

  test('everyone who came went home, and every room is clear at the end', () => {
    const statuses = telling.world.appointment.map(({ status }) => status)
    expect(statuses.filter((status) => status === 'fulfilled')).toHaveLength(60)
    expect(statuses.filter((status) => status === 'noshow')).toHaveLength(1)
    expect(telling.world.occupancy.map(({ life }) => life.kind)).toEqual(Array(10).fill('clear'))
    const left = telling.world.tray.filter(({ life }) => life.kind !== 'cleared')
    expect(left).toEqual([])
  })

  test('every dam placed was counted out again', () => {
    expect(telling.world.asPlaced.length).toBeGreaterThan(15)
    for (const { appointmentId } of telling.world.asPlaced) {
      expect(
        telling.world.visit.find((visit) => visit.appointmentId === appointmentId)?.counts,
      ).not.toBeNull()
    }
  })
})
