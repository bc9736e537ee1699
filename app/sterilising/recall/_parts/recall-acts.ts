import type { Outcome, Performing } from '#app/_live/use-perform.ts'
import type { RecallAsked } from '#server/trpc/recall-asked.ts'
import type { RecallPreview } from '#server/trpc/sterility-router.ts'
import { findFact, type World } from '#shared/facts.ts'
import type { SteriliserId } from '#shared/ids.ts'
import { UNUSED } from '#shared/sterility/recall.ts'

/** A command that holds part of what a recall shows. */
export interface RecallAct {
  words: string
  /** How many packs it would hold. */
  packs: number
  hold: (performing: Performing, why: string) => Promise<Outcome | null>
}

const HELD = 'They are held.'

interface Shown {
  told: RecallPreview['told']
  world: World
}

/**
 * What holds the packs that are shown: a load that is not failed yet is failed; loads of a day or of a steriliser are
 * recalled by their steriliser, from the first of them to the last.
 */
export function recallActs(asked: RecallAsked, shown: Shown): RecallAct[] {
  return asked.kind === 'load' || asked.kind === 'pack' || asked.kind === 'indicator'
    ? shown.told.loads.flatMap((load) => failing(load, shown))
    : sterilisersIn(shown).flatMap((id) => recalling(id, shown))
}

type ShownLoad = Shown['told']['loads'][number]

const unused = ({ told }: Shown, numbers: ReadonlySet<string>): number =>
  told.packs.filter(({ load, where }) => numbers.has(load) && UNUSED.includes(where)).length

function failing({ id, number, state }: ShownLoad, shown: Shown): RecallAct[] {
  if (state === 'failed') return []
  return [
    {
      words: `Load ${number} failed, hold its packs`,
      packs: unused(shown, new Set([number])),
      hold: (performing, why) => performing.perform('load.fail', { loadId: id, why }, HELD),
    },
  ]
}

const sterilisersIn = ({ told }: Shown): SteriliserId[] => [
  ...new Set(told.loads.map(({ steriliserId }) => steriliserId)),
]

function recalling(steriliserId: SteriliserId, shown: Shown): RecallAct[] {
  const own = shown.told.loads.filter((load) => load.steriliserId === steriliserId)
  const packs = unused(shown, new Set(own.map(({ number }) => number)))
  if (packs === 0) return []
  const starts = own.map(({ started }) => started)
  const name = findFact(shown.world, 'steriliser', steriliserId)?.name ?? 'the steriliser'
  const span = { since: Math.min(...starts), until: Math.max(...starts) }
  return [
    {
      words: `Hold what is left of ${name}`,
      packs,
      hold: (performing, why) =>
        performing.perform('steriliser.recall', { steriliserId, ...span, why }, HELD),
    },
  ]
}
