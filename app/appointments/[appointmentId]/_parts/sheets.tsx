import type { Seen } from '#app/_live/seen.ts'
import { SheetDrawing } from '#app/_marks/sheet-drawing.tsx'
import { Card } from '#app/_ui/card.tsx'
import type { PlannedSheet } from '#shared/isolation/plan-types.ts'
import styles from './plan.module.css'

/** Each sheet as it is held facing the patient. */
export function Sheets({ seen }: { seen: Seen }) {
  const sheets = seen.isolation?.sheets ?? []
  if (sheets.length === 0) return <NoSheet seen={seen} />
  return (
    <div className={styles.sheets}>
      {sheets.map((sheet) => (
        <Card key={sheet.field.join()} title={captionOf(sheet, seen)} tone="plain">
          <SheetDrawing sheet={sheet} view="facing" notation={seen.notation} />
        </Card>
      ))}
    </div>
  )
}

const captionOf = (sheet: PlannedSheet, { isolation }: Seen): string =>
  [
    `Sheet, ${sheet.widthMm} × ${sheet.heightMm} mm`,
    sheet.grade,
    isolation?.sheetMaterial ?? 'material not settled',
    'as seen facing the patient',
  ].join(', ')

function NoSheet({ seen }: { seen: Seen }) {
  const state = seen.facts.plan?.agreed.state
  return (
    <Card title="Sheet" tone="plain">
      <p>{state === 'not-needed' ? 'No sheet: no isolation needed.' : 'No sheet can be drawn yet.'}</p>
    </Card>
  )
}
