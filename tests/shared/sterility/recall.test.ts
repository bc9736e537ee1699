import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { instant, parseDay, type Zone } from '#shared/base/moment.ts'
import { applyChange } from '#shared/change.ts'
import type { Facts, World } from '#shared/facts.ts'
import { judgeRecall, planRecall, type RecallFrom, recallChange } from '#shared/sterility/recall.ts'
import { at, bareClinic, CLINIC, nextId, PEOPLE, SITE } from '../../support/tray-clinic.ts'

const HOUR = 3_600_000
/** Two sterilisers, loads by hour, packs spread over them and over no load at all. */
const history = fc
  .record({
    loads: fc.array(fc.record({ steriliser: fc.nat(1), hour: fc.nat(40) }), { minLength: 1, maxLength: 8 }),
    packs: fc.array(
      fc.record({ load: fc.option(fc.nat(7)), state: fc.constantFrom('shelf', 'used', 'gone', 'held') }),
      {
        maxLength: 20,
      },
    ),
    tests: fc.array(
      fc.record({
        steriliser: fc.nat(1),
        hour: fc.nat(40),
        result: fc.constantFrom('pass', 'fail', 'invalid', 'pending'),
      }),
      { minLength: 1, maxLength: 6 },
    ),
  })
  .map(({ loads, packs, tests }): World => {
    const sterilisers = [0, 1].map((index): Facts['steriliser'] => ({
      clinicId: CLINIC,
      id: nextId(),
      siteId: SITE,
      name: `S${index}`,
      type: 'gravity',
      life: { kind: 'in-service' },
    }))
    const idOf = (index: number) => (sterilisers[index] ?? sterilisers[0])?.id as Facts['steriliser']['id']
    const load = loads.map(({ steriliser, hour }, index): Facts['load'] => ({
      clinicId: CLINIC,
      id: nextId(),
      steriliserId: idOf(steriliser),
      number: `L${index}`,
      programme: 'wrapped-instruments',
      reading: null,
      started: instant(hour * HOUR),
      life: { kind: 'released', at: instant(hour * HOUR), by: PEOPLE.lead.id },
    }))
    const lives: Record<string, Facts['pack']['life']> = {
      shelf: { kind: 'shelf', place: 'bay' },
      used: { kind: 'opened', appointmentId: nextId(), at: at('09:00') },
      gone: { kind: 'returned', at: at('09:00') },
      held: { kind: 'held', why: 'w', at: at('09:00') },
    }
    return {
      ...bareClinic(),
      steriliser: sterilisers,
      load,
      pack: packs.map(({ load: of, state }, index): Facts['pack'] => ({
        clinicId: CLINIC,
        id: nextId(),
        siteId: SITE,
        code: `P${index}`,
        kind: 'dam-set',
        setId: null,
        loadId: of === null ? null : (load[of % load.length]?.id ?? null),
        sterilised: null,
        seen: null,
        life: lives[state] ?? { kind: 'shelf', place: 'bay' },
      })),
      indicator: tests.map(({ steriliser, hour, result }): Facts['indicator'] => ({
        clinicId: CLINIC,
        id: nextId(),
        steriliserId: idOf(steriliser),
        loadId: null,
        kind: 'spore',
        placed: instant(hour * HOUR + 1),
        life:
          result === 'pending'
            ? { kind: 'pending' }
            : {
                kind: 'read',
                at: at('09:00'),
                by: PEOPLE.lead.id,
                result: result === 'pass' ? 'pass' : result === 'fail' ? 'fail' : 'invalid',
              },
      })),
    }
  })

/** The loads by the words of the rule, walked one by one. */
function suspectByHand(world: World, indicator: Facts['indicator']): Set<string> {
  let lastPass = Number.NEGATIVE_INFINITY
  for (const other of world.indicator) {
    const passed = other.life.kind === 'read' && other.life.result === 'pass'
    if (other.steriliserId !== indicator.steriliserId || !passed || other.placed >= indicator.placed) continue
    lastPass = Math.max(lastPass, other.placed)
  }
  return new Set(
    world.load
      .filter((load) => load.steriliserId === indicator.steriliserId && load.started > lastPass)
      .map(({ id }) => id as string),
  )
}

const expectExact = (world: World, from: RecallFrom, suspect: ReadonlySet<string>): void => {
  const recall = planRecall(world, from, at('10:00'))
  const named = new Set(recall.packs.map(({ packId }) => packId))
  for (const pack of world.pack) {
    const belongs = pack.loadId !== null && suspect.has(pack.loadId)
    expect(named.has(pack.id)).toBe(belongs)
    expect(recall.cannotNarrow.includes(pack.id)).toBe(pack.loadId === null)
  }
}

describe('a recall is exact', () => {
  it('from a load: its packs, all of them and no other', () => {
    fc.assert(
      fc.property(history, fc.nat(7), (world, which) => {
        const load = world.load[which % world.load.length]
        if (load) expectExact(world, { kind: 'load', loadId: load.id }, new Set([load.id as string]))
      }),
      { numRuns: 500 },
    )
  })
  it('from a spore test: everything of that steriliser since the last negative one', () => {
    fc.assert(
      fc.property(history, fc.nat(5), (world, which) => {
        const indicator = world.indicator[which % world.indicator.length]
        if (!indicator) return
        expectExact(world, { kind: 'indicator', indicatorId: indicator.id }, suspectByHand(world, indicator))
      }),
      { numRuns: 500 },
    )
  })
  it('from a steriliser and a span of time', () => {
    fc.assert(
      fc.property(history, fc.nat(40), fc.nat(40), (world, a, b) => {
        const [steriliser] = world.steriliser
        if (!steriliser) return
        const since = instant(Math.min(a, b) * HOUR)
        const until = instant(Math.max(a, b) * HOUR)
        const suspect = world.load.filter(
          (load) => load.steriliserId === steriliser.id && load.started >= since && load.started <= until,
        )
        expectExact(
          world,
          { kind: 'steriliser', steriliserId: steriliser.id, since, until },
          new Set(suspect.map(({ id }) => id as string)),
        )
      }),
      { numRuns: 500 },
    )
  })
  it('from a day of the site’s own clock, in one steriliser or in all', () => {
    const zone = 'America/New_York' as Zone
    // 40 hours from 00:00 UTC of 1 January 1970: New York stands five hours behind (IANA: COMMON).
    const dayByHand = (started: number): string => new Date(started - 5 * HOUR).toISOString().slice(0, 10)
    fc.assert(
      fc.property(history, fc.nat(7), fc.boolean(), (told, which, one) => {
        const world = { ...told, site: told.site.map((site) => ({ ...site, zone })) }
        const load = world.load[which % world.load.length]
        if (!load) return
        const steriliserId = one ? load.steriliserId : null
        const day = must(parseDay(dayByHand(load.started)), 'a day')
        const suspect = world.load.filter(
          (each) => dayByHand(each.started) === day && (!one || each.steriliserId === steriliserId),
        )
        expectExact(world, { kind: 'day', day, steriliserId }, new Set(suspect.map(({ id }) => id as string)))
      }),
      { numRuns: 500 },
    )
  })
  it('held once, it holds nothing more, and no pack it names can be used', () => {
    fc.assert(
      fc.property(history, (world) => {
        const [load] = world.load
        if (!load) return
        const recall = planRecall(world, { kind: 'load', loadId: load.id }, at('10:00'))
        const after = applyChange(world, recallChange(world, recall, { why: 'w', now: at('10:00') }))
        const again = planRecall(after, { kind: 'load', loadId: load.id }, at('10:00'))
        expect(recallChange(after, again, { why: 'w', now: at('11:00') }).put.pack ?? []).toEqual([])
        for (const { packId } of recall.packs) {
          expect(['held', 'opened', 'returned']).toContain(
            after.pack.find(({ id }) => id === packId)?.life.kind,
          )
        }
      }),
      { numRuns: 300 },
    )
  })
  it('[recall/patients] [recall/cannot-narrow] it says how far it reaches and what nobody can narrow', () => {
    const recall = {
      loads: [],
      packs: [],
      trays: [],
      patients: [],
      cannotNarrow: [nextId<Facts['pack']['id']>()],
    }
    expect(judgeRecall(recall).map(({ rule }) => rule)).toEqual(['recall/patients', 'recall/cannot-narrow'])
    expect(judgeRecall({ ...recall, cannotNarrow: [] }).map(({ rule }) => rule)).toEqual(['recall/patients'])
  })
})
