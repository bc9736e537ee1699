import type { Instant } from '../base/moment.ts'
import { read, type Source } from '../base/source.ts'
import type { SterilityFinding } from './findings.ts'
import type { Indicator, Load, Steriliser } from './sterility-facts.ts'

/** MMWR 2003;52(RR-17), sterilisation monitoring: at least weekly, and what follows a positive. */
export const SPORE_SOURCE: Source = read('CDC MMWR 2003;52(RR-17), sterilisation monitoring')
const WEEK_MS = 7 * 86_400_000
/** Passing empty-chamber cycles in a row before a steriliser comes back after a second failure. */
export const CYCLES_BEFORE_RETURN = 3

export type SporeResult = 'pass' | 'fail' | 'invalid'
export interface SporeStep {
  life: Steriliser['life']
  /** The reach of a failure: everything since the last negative test is doubtful, or is recalled. */
  reach: 'none' | 'doubtful' | 'recall'
}

/**
 * The steriliser after a spore test was read. A first positive takes it out of service and asks for a repeat in
 * the same cycle; a passing repeat brings it back; a second positive recalls everything since the last negative
 * and keeps it out until repaired and three empty cycles pass in a row. A test whose control did not grow is
 * invalid: neither a pass nor a failure.
 */
export function afterSporeTest(life: Steriliser['life'], result: SporeResult, now: Instant): SporeStep {
  if (result === 'invalid') return { life, reach: 'none' }
  if (life.kind === 'in-service') {
    return result === 'pass'
      ? { life, reach: 'none' }
      : { life: outSince(now, 'positive spore test', 'repeat-passes'), reach: 'doubtful' }
  }
  return result === 'pass' ? passWhileOut(life) : failWhileOut(life, now)
}

type Out = Extract<Steriliser['life'], { kind: 'out-of-service' }>

const outSince = (since: Instant, why: string, until: Out['until']): Out => ({
  kind: 'out-of-service',
  since,
  why,
  passingCycles: 0,
  until,
})

function passWhileOut(life: Out): SporeStep {
  switch (life.until) {
    case 'repeat-passes':
      return { life: { kind: 'in-service' }, reach: 'none' }
    case 'repaired':
      return { life, reach: 'none' }
    case 'three-cycles-pass':
      return { life: { ...life, passingCycles: life.passingCycles + 1 }, reach: 'none' }
  }
}

function failWhileOut(life: Out, now: Instant): SporeStep {
  if (life.until === 'repeat-passes') {
    return { life: outSince(now, 'two positive spore tests', 'repaired'), reach: 'recall' }
  }
  return { life: { ...life, passingCycles: 0, until: 'repaired' }, reach: 'none' }
}

/** Repaired and inspected: from now on empty cycles count. */
export const afterRepair = (life: Out): Out =>
  life.until === 'repaired' ? { ...life, until: 'three-cycles-pass', passingCycles: 0 } : life

export const mayReturn = (life: Out): boolean =>
  life.until === 'three-cycles-pass' && life.passingCycles >= CYCLES_BEFORE_RETURN

/** When the last spore test of a steriliser passed, by its placing; null where none ever did. */
export const lastNegative = (
  indicators: readonly Indicator[],
  before: Instant | null = null,
): Instant | null =>
  indicators
    .filter(
      ({ kind, life, placed }) =>
        kind === 'spore' &&
        life.kind === 'read' &&
        life.result === 'pass' &&
        (before === null || placed < before),
    )
    .reduce<Instant | null>(
      (latest, { placed }) => (latest !== null && latest > placed ? latest : placed),
      null,
    )

/** How a load stands by the spore tests of its steriliser that were placed after it began. */
export type SporeStanding = 'untested' | 'proven' | 'doubtful' | 'recalled'

/**
 * The first test after a load that says anything decides: passed, it is proven; positive, the repeat decides. An
 * invalid test says nothing.
 */
export function sporeStanding(
  load: Pick<Load, 'started' | 'steriliserId'>,
  indicators: readonly Indicator[],
): SporeStanding {
  const results = indicators
    .filter(
      ({ kind, steriliserId, placed }) =>
        kind === 'spore' && steriliserId === load.steriliserId && placed >= load.started,
    )
    .sort((a, b) => a.placed - b.placed)
    .flatMap(({ life }) => (life.kind === 'read' && life.result !== 'invalid' ? [life.result] : []))
  const [first, repeat] = results
  if (first === undefined) return 'untested'
  if (first === 'pass' || repeat === 'pass') return 'proven'
  return repeat === 'fail' ? 'recalled' : 'doubtful'
}

/** What stands open on a steriliser's tests: weekly at least, and an invalid one is repeated. */
export function judgeSteriliser(
  steriliser: Steriliser,
  indicators: readonly Indicator[],
  now: Instant,
): SterilityFinding[] {
  const about = `steriliser:${steriliser.id}`
  const { name, life } = steriliser
  const spores = indicators
    .filter(({ kind, steriliserId }) => kind === 'spore' && steriliserId === steriliser.id)
    .sort((a, b) => a.placed - b.placed)
  if (life.kind === 'out-of-service') {
    return [{ rule: 'steriliser/out-of-service', level: 'stop', about, name, why: life.why }]
  }
  const last = spores.at(-1)
  if (last?.life.kind === 'read' && last.life.result === 'invalid') {
    return [{ rule: 'spore/invalid', level: 'ask', about, name }]
  }
  const since = lastNegative(spores)
  const placed = last?.life.kind === 'pending' ? last.placed : since
  return placed !== null && now - placed <= WEEK_MS
    ? []
    : [{ rule: 'spore/due', level: 'ask', about, name, since }]
}
