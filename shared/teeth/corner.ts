import { makePalmer, parseCorner, parseIso, parseUniversal } from './notation.ts'
import type { Piece } from './pieces.ts'
import { rangeOf } from './span.ts'
import type { Tooth } from './tooth.ts'

const oneOf = (tooth: Tooth | null): Tooth[] | null => (tooth === null ? null : [tooth])
const quadrantText = (tooth: Tooth): string => makePalmer(tooth).slice(0, 2)

/** What each system makes of a quadrant with its positions; null where it is not legal there. */
interface CornerReadings {
  iso: Tooth[] | null
  universal: Tooth[] | null
  palmer: Tooth[] | null
}

/** `UL123`, `UL1-3`, `UR E`, `6UR`; two digits can be a number of their own quadrant as well. */
export function readCorner({ value }: Piece, to: Piece | null): CornerReadings {
  const teeth = parseCorner(value)
  const [one] = teeth ?? []
  if (to) {
    const end = parseCorner(to.value)?.[0] ?? parseCorner((one ? quadrantText(one) : '') + to.value)?.[0]
    return { iso: null, universal: null, palmer: rangeOf(one ?? null, end ?? null) }
  }
  const digits = /\d+/.exec(value)?.[0] ?? ''
  return {
    iso: digits.length === 2 ? oneOf(parseIso(digits)) : null,
    universal: readApart(value, teeth ?? []),
    palmer: teeth,
  }
}

/** `UR E`, `6UR`, `UL 12`: what Universal makes of it where it lies in the same quadrant. */
function readApart(value: string, own: readonly Tooth[]): Tooth[] | null {
  const said = value.replace(/[UL]\/?[RL]/i, '')
  if (!/^[1-8A-E]U|^[1-8A-E]L|[./:\s]/i.test(value) && !/^\d{2}$/.test(said)) return null
  const bare = said.replace(/[^\da-e]/gi, '')
  const names = /^\d{1,2}$/.test(bare) ? [bare] : /^[a-e]+$/i.test(bare) ? [...bare] : []
  const teeth = names.flatMap((name) => parseUniversal(name) ?? [])
  const corners = new Set(own.map((tooth) => quadrantText(tooth)))
  return teeth.length > 0 && teeth.every((tooth) => corners.has(quadrantText(tooth))) ? teeth : null
}
