'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { Counter } from '#app/appointments/[appointmentId]/_parts/counter.tsx'
import type { TrayLineId } from '#shared/ids.ts'
import type { TrayActsProps } from './tray-acts.tsx'

/** What went to the chair comes back from it: each line by its own number, none by a glance. */
export function CountBack({ seen, tray, performing }: TrayActsProps) {
  const [counts, setCounts] = useState<Record<TrayLineId, number>>({})
  if (tray.life.kind !== 'opened') return null
  const lines = seen.trayLines.filter((line) => line.countedBack && line.omitted === null)
  const counted = lines.flatMap(({ id }) => {
    const number = counts[id]
    return number === undefined ? [] : [{ lineId: id, counted: number }]
  })
  return (
    <Card title="Count back from the chair">
      {lines.map(({ id, name, count }) => (
        <Counter
          key={id}
          label={`${name}, ${count} went in`}
          count={counts[id] ?? null}
          onCount={(number) => setCounts({ ...counts, [id]: number })}
        />
      ))}
      <ActButton
        kind="tray.count-back"
        input={{ trayId: tray.id, counts: counted }}
        performing={performing}
        size="main"
        tone="ink"
        isDisabled={counted.length < lines.length}
        done="Counted back."
      >
        Counted back
        <small>
          {counted.length} of {lines.length} lines
        </small>
      </ActButton>
    </Card>
  )
}
