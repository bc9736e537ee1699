'use client'
import { type KeyboardEvent, useRef } from 'react'
import { toothIn } from '#app/_ui/teeth-words.ts'
import type { Mouth } from '#shared/teeth/mouth.ts'
import type { ToothCondition } from '#shared/teeth/mouth-chart.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import styles from './mouth-chart.module.css'
import { CONDITION_MARKS } from './mouth-chart-marks.ts'
import { CHART, CHART_PLACES, isChartKey, outlineOf, stepTo } from './mouth-chart-places.ts'

export interface MouthChartProps {
  mouth: Mouth
  /** The rows that are shown, from the upper jaw down. */
  rows: readonly (readonly Tooth[])[]
  /** Teeth that a plan counts on. */
  relied: readonly Tooth[]
  notation: Notation
  chosen: Tooth
  onChoose: (tooth: Tooth) => void
}

/** Both jaws as seen facing the patient: one tooth is chosen at a time, by touch or by the arrows. */
export function MouthChart(props: MouthChartProps) {
  const { rows, chosen, onChoose } = props
  const box = useRef<HTMLDivElement>(null)
  const walk = (event: KeyboardEvent) => {
    if (!isChartKey(event.key)) return
    event.preventDefault()
    const next = stepTo(chosen, event.key, rows)
    onChoose(next)
    box.current?.querySelector<HTMLElement>(`[data-tooth="${next}"]`)?.focus()
  }
  return (
    <div
      ref={box}
      className={styles.mouth}
      role="radiogroup"
      aria-label="Teeth, as seen facing the patient"
      onKeyDown={walk}
    >
      <span className={styles.side} data-side="right">
        Patient’s right
      </span>
      <span className={styles.side} data-side="left">
        Patient’s left
      </span>
      {rows.flat().map((tooth) => (
        <ToothMark key={tooth} tooth={tooth} {...props} />
      ))}
    </div>
  )
}

function ToothMark({ tooth, mouth, relied, notation, chosen, onChoose }: MouthChartProps & { tooth: Tooth }) {
  const place = CHART_PLACES.get(tooth)
  if (!place) return null
  const conditions = mouth.conditionsOf(tooth)
  const isRelied = relied.includes(tooth)
  return (
    // biome-ignore lint/a11y/useSemanticElements: a radio button of the platform cannot hold a drawing
    <button
      type="button"
      role="radio"
      aria-checked={tooth === chosen}
      aria-label={spokenOf(tooth, { mouth, isRelied, notation })}
      tabIndex={tooth === chosen ? 0 : -1}
      data-tooth={tooth}
      data-stand={standOf(tooth, mouth)}
      data-relied={isRelied || undefined}
      className={styles.tooth}
      style={{ left: `${(place.x / CHART.width) * 100}%`, top: `${(place.y / CHART.height) * 100}%` }}
      onClick={() => onChoose(tooth)}
    >
      <svg viewBox="-29 -29 58 58" aria-hidden="true">
        <path
          d={outlineOf(tooth)}
          transform={`rotate(${place.turn.toFixed(1)})`}
          className={styles.outline}
        />
        <text y={conditions.length > 0 ? -3 : 5} textAnchor="middle" className={styles.number}>
          {toothIn(tooth, notation)}
        </text>
        <Marks conditions={conditions} />
      </svg>
    </button>
  )
}

/** Up to three marks fit under the number; the rest stand in words beside the chart. */
function Marks({ conditions }: { conditions: readonly ToothCondition[] }) {
  const shown = conditions.slice(0, 3)
  return shown.map((condition, index) => {
    const { path, isSolid } = CONDITION_MARKS[condition]
    const x = (index - (shown.length - 1) / 2) * 13 - 5.5
    return (
      <path
        key={condition}
        d={path}
        transform={`translate(${x} 4) scale(0.92)`}
        className={styles.mark}
        data-solid={isSolid}
      />
    )
  })
}

type Stand = 'charted' | 'assumed' | 'absent'
const standOf = (tooth: Tooth, mouth: Mouth): Stand => {
  if (!mouth.isStanding(tooth)) return 'absent'
  // A tooth that only the booking names has not been seen by anybody either.
  const isSeen = mouth.charted || mouth.conditionsOf(tooth).length > 0
  return isSeen ? 'charted' : 'assumed'
}

interface Spoken {
  mouth: Mouth
  isRelied: boolean
  notation: Notation
}

function spokenOf(tooth: Tooth, { mouth, isRelied, notation }: Spoken): string {
  const conditions = mouth.conditionsOf(tooth).map((each) => CONDITION_MARKS[each].words)
  const unsaid = { charted: 'standing', assumed: 'taken as standing, not charted', absent: 'not standing' }
  const said = conditions.length > 0 ? conditions.join(', ') : unsaid[standOf(tooth, mouth)]
  return `${toothIn(tooth, notation)}, ${nameTooth(tooth)}: ${said}${isRelied ? '; the plan counts on it' : ''}`
}
