import { addMinutes, type Instant, instant, type Minutes } from '../base/moment.ts'
import { quadrantOf, sideOf, type Tooth } from '../teeth/tooth.ts'
import type { Dose, Numbness } from './anaesthetic.ts'
import { worksUntil } from './timing.ts'

/** The shortest printed time of one tooth, by what was given for it; null: of all, where no tooth is named. */
export interface Window {
  tooth: Tooth | null
  ends: Instant
}

export interface WindowSight {
  doses: readonly Dose[]
  /** Teeth whose pulp the work may touch. */
  pulpal: readonly Tooth[]
  recheckMinutes: Minutes
}

/** A window for each worked tooth, or where none is, for each tooth that was injected at; what is laid on opens none. */
export function windowsOf(sight: WindowSight): Window[] {
  const { pulpal } = sight
  const doses = sight.doses.filter(({ technique }) => technique !== 'topical')
  if (doses.length === 0) return []
  const given = doses.flatMap(({ tooth }) => tooth ?? [])
  const teeth: (Tooth | null)[] = pulpal.length > 0 ? [...pulpal] : [...new Set(given)]
  return (teeth.length > 0 ? teeth : [null]).map((tooth) => ({
    tooth,
    ends: endOf(tooth, { ...sight, doses }),
  }))
}

/** When the first of the windows ends; null where nothing was given. */
export const earliestEnd = (sight: WindowSight): Instant | null => {
  const windows = windowsOf(sight)
  return windows.length === 0 ? null : instant(Math.min(...windows.map(({ ends }) => ends)))
}

/** A further dose for the same tooth prolongs its window; one that serves another tooth does not. */
function endOf(tooth: Tooth | null, { doses, recheckMinutes }: WindowSight): Instant {
  const serving = tooth === null ? [] : doses.filter((dose) => serves(dose, tooth))
  const ends = (serving.length > 0 ? serving : doses).map((dose) => worksUntil(dose, recheckMinutes))
  // Nothing is entered for this very tooth: the first that passes counts.
  return instant(serving.length > 0 ? Math.max(...ends) : Math.min(...ends))
}

/** A dose serves the tooth it was given at, a block its whole quadrant, one without a tooth its side. */
function serves({ tooth: at, technique, side }: Dose, tooth: Tooth): boolean {
  if (at === null) return side === sideOf(tooth)
  return at === tooth || (technique === 'block' && isSameQuadrant(at, tooth))
}

/** Quadrants of milk teeth are four above those that follow them. */
const isSameQuadrant = (one: Tooth, other: Tooth): boolean => (quadrantOf(one) - quadrantOf(other)) % 4 === 0

/** The windows that are over and that nobody has looked at since: a look counts for its own tooth, and for so long. */
export const overdue = (sight: WindowSight & { numbness: readonly Numbness[]; now: Instant }): Window[] =>
  windowsOf(sight).flatMap((window) => {
    const due = dueFor(window, sight)
    return due <= sight.now ? [{ ...window, ends: due }] : []
  })

function dueFor(
  { tooth, ends }: Window,
  { numbness, pulpal, recheckMinutes }: WindowSight & { numbness: readonly Numbness[] },
): Instant {
  const looks = numbness.filter(
    ({ place, answer, at }) =>
      at >= ends &&
      (tooth === null || place.tooth === tooth) &&
      (pulpal.length === 0 || place.kind === 'tooth') &&
      answer !== 'felt',
  )
  const last = Math.max(...looks.map(({ at }) => at))
  if (looks.length === 0) return ends
  // Without the clinic's own minutes a look is good until the next dose.
  return recheckMinutes > 0 ? addMinutes(instant(last), recheckMinutes) : instant(Number.MAX_SAFE_INTEGER)
}
