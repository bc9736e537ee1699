/** A key as it went down, and when, in milliseconds. */
export interface WedgeKey {
  key: string
  at: number
}

/** A scanner that plays keyboard sends its characters closer together than fingers do (COMMON). */
export const WEDGE_GAP_MS = 60
/** Shorter bursts are fingers that rolled over two keys. */
const SHORTEST = 6

/**
 * Tells a scanner from fingers: characters that follow one another within `WEDGE_GAP_MS`, ended by Enter or Tab in the
 * same pace. Gives back the text at its end, else null. A pause begins anew.
 */
export function openWedge(): (key: WedgeKey) => string | null {
  let text = ''
  let last = Number.NEGATIVE_INFINITY
  return ({ key, at }) => {
    if (at - last > WEDGE_GAP_MS) text = ''
    last = at
    if (key === 'Enter' || key === 'Tab') {
      const burst = text
      text = ''
      return burst.length >= SHORTEST ? burst : null
    }
    if (key.length === 1) text += key
    return null
  }
}
