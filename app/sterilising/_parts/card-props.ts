import type { Performing } from '#app/_live/use-perform.ts'
import type { Bench, StandingLoad, StandingSteriliser } from './bench.ts'

export interface LoadCardProps extends StandingLoad {
  bench: Bench
  performing: Performing
}

export interface SteriliserCardProps extends StandingSteriliser {
  bench: Bench
  performing: Performing
}
