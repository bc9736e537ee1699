import {
  type DrawnHole,
  drawSheet,
  type Picture,
  type SheetPicture,
  type SheetView,
} from '#shared/isolation/drawing.ts'
import type { Label, Point } from '#shared/isolation/labels.ts'
import type { PlannedSheet } from '#shared/isolation/plan-types.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import styles from './sheet-drawing.module.css'

interface SheetDrawingProps {
  sheet: PlannedSheet
  view: SheetView
  notation: Notation
}

/** A sheet in true proportion as it is held before the patient, and its field magnified beside it. */
export function SheetDrawing({ sheet, view, notation }: SheetDrawingProps) {
  const { whole, field } = drawSheet(sheet, { view, notation })
  return (
    <div className={styles.pair}>
      <WholeSheet whole={whole} spoken={spokenOf(sheet, view)} />
      <svg
        viewBox={`0 0 ${field.widthMm} ${field.heightMm}`}
        className={styles.field}
        role="img"
        aria-label="The field, magnified, with distances from centre to centre in millimetres"
      >
        <rect width={field.widthMm} height={field.heightMm} className={styles.rubber} />
        <Inside picture={field} />
      </svg>
    </div>
  )
}

function WholeSheet({ whole, spoken }: { whole: SheetPicture['whole']; spoken: string }) {
  const { widthMm, heightMm } = whole
  return (
    <svg viewBox={`0 0 ${widthMm} ${heightMm}`} className={styles.sheet} role="img" aria-label={spoken}>
      <rect width={widthMm} height={heightMm} rx="1.5" className={styles.rubber} />
      <path
        d={`M${widthMm / 2} 12V${heightMm - 12}M8 ${heightMm / 2}H${widthMm - 8}`}
        className={styles.middle}
      />
      <path d={whole.frame} className={styles.frame} />
      <polygon points={pointsOf(whole.corner)} className={styles.corner} />
      <Inside picture={whole} />
    </svg>
  )
}

function Inside({ picture }: { picture: Picture }) {
  return (
    <>
      <polyline points={pointsOf(picture.arch)} className={styles.arch} />
      {picture.outside.map(({ tooth, dentition, x, y }) => (
        <g key={tooth} data-dentition={dentition} className={styles.outside}>
          <Shape dentition={dentition} x={x} y={y} r={0.9 * picture.scale} />
        </g>
      ))}
      {picture.slit.length > 1 && <polyline points={pointsOf(picture.slit)} className={styles.slit} />}
      {picture.clamps.map(({ tooth, path }) => (
        <path key={tooth} d={path} className={styles.clamp} />
      ))}
      {picture.holes.map((hole) => (
        <HoleMark key={hole.tooth} hole={hole} />
      ))}
      {picture.labels.map((label) => (
        <LabelText key={`${label.kind} ${label.text} ${label.x}`} label={label} />
      ))}
    </>
  )
}

/** A hole is round; a primary tooth's has a square about it. */
function HoleMark({ hole }: { hole: DrawnHole }) {
  const { x, y, r, dentition } = hole
  return (
    <g data-working={hole.isWorking} data-clamped={hole.isClamped} className={styles.hole}>
      {dentition === 'primary' && (
        <rect x={x - r * 1.5} y={y - r * 1.5} width={r * 3} height={r * 3} className={styles.primary} />
      )}
      <circle cx={x} cy={y} r={r} />
    </g>
  )
}

function Shape({
  dentition,
  x,
  y,
  r,
}: {
  dentition: DrawnHole['dentition']
  x: number
  y: number
  r: number
}) {
  return dentition === 'primary' ? (
    <rect x={x - r} y={y - r} width={2 * r} height={2 * r} />
  ) : (
    <circle cx={x} cy={y} r={r} />
  )
}

function LabelText({ label }: { label: Label }) {
  return (
    <text
      x={label.x}
      y={label.y}
      fontSize={label.h}
      data-kind={label.kind}
      className={styles.label}
      textAnchor="middle"
      dominantBaseline="central"
    >
      {label.text}
    </text>
  )
}

const pointsOf = (points: readonly Point[]): string =>
  points.map(({ x, y }) => `${x.toFixed(2)},${y.toFixed(2)}`).join(' ')

const spokenOf = (sheet: PlannedSheet, view: SheetView): string =>
  [
    `Sheet of ${sheet.widthMm} by ${sheet.heightMm} mm`,
    view === 'facing' ? 'as seen facing the patient' : 'as seen from behind the head',
    `holes ${sheet.holes.map(({ tooth, size }) => `${tooth} size ${size}`).join(', ')}`,
    sheet.anchor ? `clamp on ${sheet.anchor}, bow to the back` : 'no clamp',
    ...(sheet.slit.length > 0 ? [`slit over ${sheet.slit.join(' ')}`] : []),
  ].join('; ')
