'use client'
import Link from 'next/link'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { SheetDrawing } from '#app/_marks/sheet-drawing.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { PrintLinks } from '#app/_ui/print-links.tsx'
import type { PlannedSheet } from '#shared/isolation/plan-types.ts'
import styles from './plan.module.css'

/** Each sheet as it is held, facing the patient or turned to where the dentist sits. */
export function Sheets({ seen }: { seen: Seen }) {
  const [view, setView] = useState<'facing' | 'behind'>('facing')
  const sheets = seen.isolation?.sheets ?? []
  if (sheets.length === 0) return <NoSheet seen={seen} />
  return (
    <div className={styles.sheets}>
      {sheets.map((sheet) => (
        <Card key={sheet.field.join()} title={captionOf(sheet, seen, view)} tone="plain">
          <SheetDrawing sheet={sheet} view={view} notation={seen.notation} />
        </Card>
      ))}
      <Button onPress={() => setView(view === 'facing' ? 'behind' : 'facing')}>
        {view === 'facing' ? 'Turn it: as seen from behind the patient' : 'Turn it back: facing the patient'}
      </Button>
      <PrintLinks what="punch-template" appointmentId={seen.facts.appointment.id} />
      {seen.facts.tray ? <PrintLinks what="tray-card" appointmentId={seen.facts.appointment.id} /> : null}
      <Link
        href={`/appointments/${seen.facts.appointment.id}/guide`}
        className={styles.more}
        prefetch={false}
      >
        Open the guide at the chair
      </Link>
    </div>
  )
}

const captionOf = (sheet: PlannedSheet, { isolation }: Seen, view: 'facing' | 'behind'): string =>
  [
    `Sheet, ${sheet.widthMm} × ${sheet.heightMm} mm`,
    sheet.grade,
    isolation?.sheetMaterial ?? 'material not settled',
    view === 'facing' ? 'as seen facing the patient' : 'as seen from behind the patient',
  ].join(', ')

function NoSheet({ seen }: { seen: Seen }) {
  const state = seen.facts.plan?.agreed.state
  return (
    <Card title="Sheet" tone="plain">
      <p>{state === 'not-needed' ? 'No sheet: no isolation needed.' : 'No sheet can be drawn yet.'}</p>
    </Card>
  )
}
