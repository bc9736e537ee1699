import type { Seen } from '#app/_live/seen.ts'
import { Row, Rows } from '#app/_ui/card.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'

/** The dam as it was placed, beside what was planned; what was not recorded is said to be missing. */
export function PlacedRows({ seen }: { seen: Seen }) {
  const { plan, asPlaced, visit } = seen.facts
  const placed = asPlaced.at(-1) ?? null
  const said = (teeth: readonly Tooth[]) =>
    teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ') || 'none'
  const planned = plan?.agreed.sheets.flatMap(({ field }) => field) ?? []
  return (
    <Rows>
      <Row term="Planned">exposed {said(planned)}</Row>
      <Row term="Placed">
        {placed === null
          ? 'not recorded yet'
          : `exposed ${said(placed.field)}, clamped ${said(placed.clamps.map(({ tooth }) => tooth))}${isSame(planned, placed.field) ? '' : ': differs from the plan'}`}
      </Row>
      <Row term="Teeth counted">
        {visit?.recounted?.through ? 'through the dam' : 'not through the dam yet'}
      </Row>
      <Row term="Clamp tied">{visit?.clamp ? `by ${seen.nameOf(visit.clamp.tiedBy)}` : 'not recorded'}</Row>
    </Rows>
  )
}

const isSame = (some: readonly Tooth[], others: readonly Tooth[]): boolean =>
  some.length === others.length && some.every((tooth) => others.includes(tooth))
