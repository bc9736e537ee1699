import { z } from 'zod'
import { instant } from '../base/moment.ts'
import { refuse } from '../base/result.ts'
import { type Change, joinChanges, nothing, putting } from '../change.ts'
import { commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { IndicatorId, LoadId, SiteId, SteriliserId } from '../ids.ts'
import { asReleaser, type Bench, done, onSteriliser } from './decide.ts'
import { fail } from './load-commands.ts'
import { isImplantKind } from './pack.ts'
import { judgeRecall, planRecall, type Recall, recallChange } from './recall.ts'
import { afterRepair, afterSporeTest, mayReturn, type SporeStep } from './spore-test.ts'
import { type Indicator, STERILISER_TYPES, type Steriliser } from './sterility-facts.ts'

const steriliserId = z.uuid().transform((id) => id as SteriliserId)
const loadId = z.uuid().transform((id) => id as LoadId)
const indicatorId = z.uuid().transform((id) => id as IndicatorId)
const why = z.string().trim().min(1).max(200)
const ofSteriliser = z.object({ steriliserId })
const reach = (input: { steriliserId: SteriliserId }) => ({ sterilisers: [input.steriliserId] })

type Result = Extract<Indicator['life'], { kind: 'read' }>['result']

function readIndicator(bench: Bench, indicator: Indicator, result: Result): Decision {
  const about = `indicator:${indicator.id}`
  if (indicator.life.kind === 'read') return refuse({ rule: 'indicator/already-read', level: 'stop', about })
  const { world, context } = bench
  const read: Indicator = { ...indicator, life: { kind: 'read', at: context.now, by: context.by.id, result } }
  if (indicator.kind === 'spore') return readSpore(bench, read, result)
  const load = findFact(world, 'load', indicator.loadId)
  const failed = indicator.kind === 'chemical' && result !== 'pass' && load
  return done(
    joinChanges(putting('indicator', read), failed ? fail(bench, load, 'indicator not changed') : nothing),
  )
}

/** A spore test moves its steriliser, and its reach is held by the clinic's policy. */
function readSpore(bench: Bench, read: Indicator, result: Result): Decision {
  return onSteriliser(bench, read.steriliserId, (steriliser) => {
    const step = afterSporeTest(steriliser.life, result, bench.context.now)
    return done(
      joinChanges(
        putting('indicator', read),
        step.life === steriliser.life ? nothing : putting('steriliser', { ...steriliser, life: step.life }),
        reachOf(bench, read, step),
      ),
      tellSpore(steriliser, result, step),
    )
  })
}

/**
 * Doubtful: held under the cautious policy; under the other only what goes with implants, until the repeat is
 * read. Recalled: everything, under both.
 */
function reachOf({ world, context }: Bench, read: Indicator, { reach: far }: SporeStep): Change {
  if (far === 'none') return nothing
  const cautious = world.policySet[0]?.sterility.sporeFailure !== 'warn'
  const recall = planRecall(world, { kind: 'indicator', indicatorId: read.id }, context.now)
  const held = far === 'recall' || cautious ? recall : implantsOf(world, recall)
  const reason = far === 'recall' ? 'two positive spore tests' : 'positive spore test'
  return recallChange(world, held, { why: reason, now: context.now })
}

function implantsOf(world: World, recall: Recall): Recall {
  const implants = new Set(world.pack.filter(isImplantKind).map((pack) => pack.id))
  const kept = recall.packs.filter(({ packId }) => implants.has(packId))
  const onTrays = new Set(kept.flatMap(({ where }) => (where.kind === 'tray' ? [where.trayId] : [])))
  return { ...recall, packs: kept, trays: recall.trays.filter(({ trayId }) => onTrays.has(trayId)) }
}

function tellSpore({ id, name }: Steriliser, result: Result, step: SporeStep): Finding[] {
  const about = `steriliser:${id}`
  if (result === 'invalid') return [{ rule: 'spore/invalid', level: 'ask', about, name }]
  return result === 'fail'
    ? [{ rule: 'spore/failed', level: 'note', about, name, repeat: step.reach === 'doubtful' }]
    : []
}

function giveBack(steriliser: Steriliser): Decision {
  const { id, name, life } = steriliser
  const about = `steriliser:${id}`
  if (life.kind === 'in-service') return refuse({ rule: 'steriliser/not-out', level: 'stop', about, name })
  if (!mayReturn(life)) {
    return refuse({
      rule: 'steriliser/cycles-short',
      level: 'stop',
      about,
      name,
      passing: life.passingCycles,
    })
  }
  return done(putting('steriliser', { ...steriliser, life: { kind: 'in-service' } }))
}

export const STERILISER_COMMANDS = {
  'steriliser.add': commandRule({
    kind: 'steriliser.add',
    needs: 'sterility:run',
    input: z.object({
      siteId: z.uuid().transform((id) => id as SiteId),
      name: z.string().trim().min(1).max(40),
      type: z.enum(STERILISER_TYPES),
    }),
    reach: () => ({}),
    decide: (_, input, context) =>
      done(
        putting('steriliser', {
          clinicId: context.clinicId,
          id: context.newId<SteriliserId>(),
          ...input,
          life: { kind: 'in-service' },
        }),
      ),
  }),
  'indicator.place': commandRule({
    kind: 'indicator.place',
    needs: 'sterility:run',
    input: z.object({
      steriliserId,
      loadId: loadId.nullable(),
      kind: z.enum(['chemical', 'spore', 'air-removal']),
    }),
    reach: (input) => ({ ...reach(input), ...(input.loadId === null ? {} : { loads: [input.loadId] }) }),
    decide: (world, input, context) =>
      onSteriliser({ world, context }, input.steriliserId, (steriliser) =>
        done(
          putting('indicator', {
            clinicId: context.clinicId,
            id: context.newId<IndicatorId>(),
            steriliserId: steriliser.id,
            loadId: input.loadId,
            kind: input.kind,
            placed: context.now,
            life: { kind: 'pending' },
          }),
        ),
      ),
  }),
  /** `invalid`: the control did not grow, so the test says nothing and is repeated. */
  'indicator.read': commandRule({
    kind: 'indicator.read',
    needs: 'sterility:run',
    input: z.object({ steriliserId, indicatorId, result: z.enum(['pass', 'fail', 'invalid']) }),
    reach: (input) => ({ ...reach(input), allPacks: true as const }),
    decide: (world, input, context) => {
      const indicator = findFact(world, 'indicator', input.indicatorId)
      return indicator
        ? readIndicator({ world, context }, indicator, input.result)
        : refuse({
            rule: 'indicator/not-found',
            level: 'stop',
            about: `indicator:${input.indicatorId}`,
            id: input.indicatorId,
          })
    },
  }),
  'steriliser.take-out': commandRule({
    kind: 'steriliser.take-out',
    needs: 'sterility:run',
    input: ofSteriliser.extend({ why }),
    reach,
    decide: (world, input, context) =>
      onSteriliser({ world, context }, input.steriliserId, (steriliser) =>
        done(
          putting('steriliser', {
            ...steriliser,
            life: {
              kind: 'out-of-service',
              since: context.now,
              why: input.why,
              passingCycles: 0,
              until: 'repaired',
            },
          }),
        ),
      ),
  }),
  'steriliser.repaired': commandRule({
    kind: 'steriliser.repaired',
    needs: 'sterility:run',
    input: ofSteriliser,
    reach,
    decide: (world, input, context) =>
      onSteriliser({ world, context }, input.steriliserId, (steriliser) =>
        steriliser.life.kind === 'out-of-service'
          ? done(putting('steriliser', { ...steriliser, life: afterRepair(steriliser.life) }))
          : refuse({
              rule: 'steriliser/not-out',
              level: 'stop',
              about: `steriliser:${steriliser.id}`,
              name: steriliser.name,
            }),
      ),
  }),
  'steriliser.return': commandRule({
    kind: 'steriliser.return',
    needs: 'sterility:run',
    input: ofSteriliser,
    reach,
    decide: (world, input, context) => {
      const at = { world, context }
      return asReleaser(at, () => onSteriliser(at, input.steriliserId, giveBack))
    },
  }),
  /** By hand: everything from one steriliser in a span of time. */
  'steriliser.recall': commandRule({
    kind: 'steriliser.recall',
    needs: 'sterility:run',
    input: ofSteriliser.extend({
      since: z.number().int().nullable(),
      until: z.number().int().nullable(),
      why,
    }),
    reach: (input) => ({ ...reach(input), allPacks: true as const }),
    decide: (world, input, context) =>
      onSteriliser({ world, context }, input.steriliserId, (steriliser) =>
        recallBy({ world, context }, steriliser, input),
      ),
  }),
}

function recallBy(
  { world, context }: Bench,
  { id }: Steriliser,
  { since, until, why: reason }: { since: number | null; until: number | null; why: string },
): Decision {
  const span = {
    since: since === null ? null : instant(since),
    until: until === null ? null : instant(until),
  }
  const recall = planRecall(world, { kind: 'steriliser', steriliserId: id, ...span }, context.now)
  return done(recallChange(world, recall, { why: reason, now: context.now }), judgeRecall(recall))
}
