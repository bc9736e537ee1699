import type { InputOf } from '#app/_live/use-perform.ts'

/** What a clinic picks: the policy set without what has a page of its own. */
export type Picks = InputOf<'policy.set'>
export interface PicksProps {
  picks: Picks
  onPicks: (picks: Picks) => void
}
