import { z } from 'zod'
import { must } from '../base/assert.ts'
import { refuse } from '../base/result.ts'
import { type Change, joinChanges, putting } from '../change.ts'
import { commandRule, type Decision } from '../command.ts'
import { findFact } from '../facts.ts'
import type { LoadId, SteriliserId } from '../ids.ts'
import { asReleaser, type Bench, dayAt, done, loadNotNow, onLoad, onSteriliser, zoneOf } from './decide.ts'
import { isTestLoad, judgeLoad, TEST_PROGRAMMES } from './load.ts'
import { LOAD_CONTENTS } from './parameters.ts'
import { planRecall, recallChange } from './recall.ts'
import type { InstrumentSet, Load, Pack, Steriliser } from './sterility-facts.ts'

const loadId = z.uuid().transform((id) => id as LoadId)
const steriliserId = z.uuid().transform((id) => id as SteriliserId)

function start(
  bench: Bench,
  steriliser: Steriliser,
  { number, programme }: Pick<Load, 'number' | 'programme'>,
): Decision {
  const { context } = bench
  if (steriliser.life.kind === 'out-of-service' && !isTestLoad({ programme })) {
    return refuse({
      rule: 'steriliser/out-of-service',
      level: 'stop',
      about: `steriliser:${steriliser.id}`,
      name: steriliser.name,
      why: steriliser.life.why,
    })
  }
  return done(
    putting('load', {
      clinicId: context.clinicId,
      id: context.newId<LoadId>(),
      steriliserId: steriliser.id,
      number,
      programme,
      reading: null,
      started: context.now,
      life: { kind: 'running' },
    }),
  )
}

/** Nothing open: readings, indicator, air-removal test. Packs are sterile from this day, their sets on the shelf. */
function release(bench: Bench, load: Load): Decision {
  const { world, context } = bench
  if (load.life.kind !== 'ended' || isTestLoad(load)) return loadNotNow(load)
  return onSteriliser(bench, load.steriliserId, (steriliser) => {
    const indicators = world.indicator.filter((each) => each.steriliserId === steriliser.id)
    const zone = must(zoneOf(bench, steriliser), 'a steriliser stands at a site that is always read')
    const findings = judgeLoad(load, { steriliser, indicators, zone })
    const out = steriliser.life.kind === 'out-of-service' ? start(bench, steriliser, load) : null
    if (out && !out.ok) return out
    if (findings.length > 0) return { ok: false, reasons: findings }
    const released: Load = { ...load, life: { kind: 'released', at: context.now, by: context.by.id } }
    return done(joinChanges(putting('load', released), shelve(bench, released, steriliser)))
  })
}

function shelve(bench: Bench, load: Load, steriliser: Steriliser): Change {
  const { world } = bench
  const packs = world.pack.filter((pack) => pack.loadId === load.id && pack.life.kind === 'shelf')
  const sets = packs.flatMap((pack) => findFact(world, 'instrumentSet', pack.setId) ?? [])
  const sterilised = dayAt(bench, steriliser)
  return joinChanges(
    putting('pack', ...packs.map((pack): Pack => ({ ...pack, sterilised }))),
    putting(
      'instrumentSet',
      ...sets.map((set): InstrumentSet => ({ ...set, place: { kind: 'shelf', siteId: steriliser.siteId } })),
    ),
  )
}

/** A failed load holds what came out of it, wherever it is by now. */
export function fail(bench: Bench, load: Load, why: string): Change {
  const { world, context } = bench
  const failed: Load = { ...load, life: { kind: 'failed', at: context.now, by: context.by.id, why } }
  const recall = planRecall(world, { kind: 'load', loadId: load.id }, context.now)
  return joinChanges(
    putting('load', failed),
    recallChange(world, recall, { why: `load ${load.number}: ${why}`, now: context.now }),
  )
}

export const LOAD_COMMANDS = {
  'load.start': commandRule({
    kind: 'load.start',
    needs: 'sterility:run',
    input: z.object({
      steriliserId,
      number: z.string().trim().min(1).max(40),
      programme: z.enum([...LOAD_CONTENTS, ...TEST_PROGRAMMES]),
    }),
    reach: (input) => ({ sterilisers: [input.steriliserId] }),
    decide: (world, input, context) =>
      onSteriliser({ world, context }, input.steriliserId, (steriliser) =>
        start({ world, context }, steriliser, input),
      ),
  }),
  /** Readings as they stand on the printer or display: tenths of a degree Celsius, seconds of exposure. */
  'load.end': commandRule({
    kind: 'load.end',
    needs: 'sterility:run',
    input: z.object({
      loadId,
      deciCelsius: z.number().int().min(0).max(3000),
      seconds: z.number().int().min(0).max(36_000),
    }),
    reach: (input) => ({ loads: [input.loadId] }),
    decide: (world, { loadId: id, deciCelsius, seconds }, context) =>
      onLoad({ world, context }, id, (load) =>
        load.life.kind === 'running'
          ? done(
              putting('load', {
                ...load,
                reading: { deciCelsius, seconds, by: context.by.id, at: context.now },
                life: { kind: 'ended', at: context.now },
              }),
            )
          : loadNotNow(load),
      ),
  }),
  'load.release': commandRule({
    kind: 'load.release',
    needs: 'sterility:run',
    input: z.object({ steriliserId, loadId }),
    reach: (input) => ({ sterilisers: [input.steriliserId], loads: [input.loadId] }),
    decide: (world, input, context) => {
      const bench = { world, context }
      return asReleaser(bench, () => onLoad(bench, input.loadId, (load) => release(bench, load)))
    },
  }),
  'load.fail': commandRule({
    kind: 'load.fail',
    needs: 'sterility:run',
    input: z.object({ loadId, why: z.string().trim().min(1).max(200) }),
    // All packs, so that others can be named in place of those held.
    reach: (input) => ({ loads: [input.loadId], allPacks: true as const }),
    decide: (world, input, context) =>
      onLoad({ world, context }, input.loadId, (load) =>
        load.life.kind === 'failed' ? loadNotNow(load) : done(fail({ world, context }, load, input.why)),
      ),
  }),
}
