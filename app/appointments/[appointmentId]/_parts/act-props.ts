import type { Seen } from '#app/_live/seen.ts'
import type { Performing } from '#app/_live/use-perform.ts'

/** What every act at the chair is shown from and done by. */
export interface ActProps {
  seen: Seen
  performing: Performing
}
