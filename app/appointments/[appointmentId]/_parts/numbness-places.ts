import type { Numbness, NumbnessPlace } from '#shared/anaesthesia/anaesthetic.ts'
import type { AppointmentFacts } from '#shared/readiness/day-index.ts'

/** A place as one line of text. */
export const makePlace = (place: NumbnessPlace): string =>
  place.kind === 'gum' ? `gum ${place.tooth} ${place.side}` : `tooth ${place.tooth}`

/** The latest answer for a place since the last injection; an earlier one no longer says anything. */
export function latestAt(
  place: NumbnessPlace,
  { numbness, doses }: Pick<AppointmentFacts, 'numbness' | 'doses'>,
): Numbness | null {
  const since = Math.max(Number.NEGATIVE_INFINITY, ...doses.map(({ at }) => at))
  return numbness
    .filter((each) => makePlace(each.place) === makePlace(place) && each.at >= since)
    .reduce<Numbness | null>((latest, each) => (latest && latest.at > each.at ? latest : each), null)
}
