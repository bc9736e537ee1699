import type { Tooth } from '../teeth/tooth.ts'
import type { Agreed, OwnDrawing } from './isolation-facts.ts'

/** Teeth of the plan that the student left out, and teeth of the student's that the plan leaves alone. */
export interface TeethDifference {
  left: Tooth[]
  more: Tooth[]
}

/** Where a student's own drawing and the plan part; all empty where they are one. */
export interface DrawingDifference {
  field: TeethDifference
  clamped: TeethDifference
  /** Teeth that both expose, by holes of another size. */
  holes: { tooth: Tooth; drawn: number; planned: number }[]
}

/** Over all sheets of the plan: a student says which teeth, not how many sheets. Order and side do not count. */
export function compareDrawing(
  drawing: Pick<OwnDrawing, 'field' | 'clamped' | 'holes'>,
  { sheets }: Pick<Agreed, 'sheets'>,
): DrawingDifference {
  const planned = new Map(sheets.flatMap(({ holes }) => holes.map(({ tooth, size }) => [tooth, size])))
  return {
    field: differ(
      drawing.field,
      sheets.flatMap(({ field }) => field),
    ),
    clamped: differ(
      drawing.clamped,
      sheets.flatMap(({ clamps }) => clamps.map(({ tooth }) => tooth)),
    ),
    holes: drawing.holes.flatMap(({ tooth, size }) => {
      const other = planned.get(tooth)
      return other === undefined || other === size ? [] : [{ tooth, drawn: size, planned: other }]
    }),
  }
}

const differ = (drawn: readonly Tooth[], planned: readonly Tooth[]): TeethDifference => ({
  left: [...new Set(planned)].filter((tooth) => !drawn.includes(tooth)),
  more: [...new Set(drawn)].filter((tooth) => !planned.includes(tooth)),
})

export const isSameDrawing = ({ field, clamped, holes }: DrawingDifference): boolean =>
  [field.left, field.more, clamped.left, clamped.more, holes].every((each) => each.length === 0)
