import type { Seen } from '#app/_live/seen.ts'
import { Card, Row, Rows } from '#app/_ui/card.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import { compareDrawing, isSameDrawing, type TeethDifference } from '#shared/isolation/own-drawing.ts'
import { findDrawing } from '#shared/readiness/teaching.ts'

/** What the student drew of their own, held against the plan: teaching, never a verdict. */
export function DrawnFirst({ seen }: { seen: Seen }) {
  const drawing = findDrawing(seen.facts)
  const { plan } = seen.facts
  if (drawing === null || plan === null) return null
  const difference = compareDrawing(drawing, plan.agreed)
  const said = (teeth: TeethDifference['left']) =>
    teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ')
  const parts = ({ left, more }: TeethDifference, planned: string, drawn: string) =>
    [left.length > 0 ? `${said(left)} ${planned}` : '', more.length > 0 ? `${said(more)} ${drawn}` : '']
      .filter((each) => each !== '')
      .join(' · ') || 'as planned'
  return (
    <Card title={`Drawn first by ${seen.nameOf(drawing.by)}, ${timeOf(drawing.at, seen.zone)}`} tone="plain">
      {isSameDrawing(difference) ? (
        <p>The same as the plan: teeth, clamps and holes.</p>
      ) : (
        <Rows>
          <Row term="Exposed">
            {parts(difference.field, 'in the plan, not drawn', 'drawn, not in the plan')}
          </Row>
          <Row term="Clamped">
            {parts(difference.clamped, 'in the plan, not drawn', 'drawn, not in the plan')}
          </Row>
          <Row term="Holes">
            {difference.holes
              .map(
                ({ tooth, drawn, planned }) =>
                  `${toothIn(tooth, seen.notation)} size ${planned} in the plan, drawn ${drawn}`,
              )
              .join(' · ') || 'as planned'}
          </Row>
        </Rows>
      )}
    </Card>
  )
}
