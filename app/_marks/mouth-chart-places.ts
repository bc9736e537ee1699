import {
  type Arch,
  dentitionOf,
  formOf,
  LOWER_PERMANENT,
  LOWER_PRIMARY,
  type Tooth,
  type ToothForm,
  UPPER_PERMANENT,
  UPPER_PRIMARY,
} from '#shared/teeth/tooth.ts'

/** The chart's own measure: places, not sizes. Every tooth has the same room, so that a gloved finger finds it. */
export const CHART = { width: 720, height: 656 } as const

interface Ring {
  teeth: readonly Tooth[]
  arch: Arch
  /** Half axes of its ellipse. */
  across: number
  deep: number
}

const RINGS: readonly Ring[] = [
  { teeth: UPPER_PERMANENT, arch: 'upper', across: 320, deep: 262 },
  { teeth: UPPER_PRIMARY, arch: 'upper', across: 206, deep: 150 },
  { teeth: LOWER_PRIMARY, arch: 'lower', across: 206, deep: 150 },
  { teeth: LOWER_PERMANENT, arch: 'lower', across: 320, deep: 262 },
]

/** The rows from the upper jaw down, as the arrows up and down walk them. */
export const CHART_ROWS: readonly (readonly Tooth[])[] = RINGS.map(({ teeth }) => teeth)

export interface ChartPlace {
  x: number
  y: number
  /** Degrees by which a tooth is turned so that its lip or cheek side looks out of the arch. */
  turn: number
}

/** How far the ends of the two jaws stand from the middle line of the chart. */
const APART = 22
const STEPS = 4000

/** Places at equal steps along half an ellipse, the patient's right on the viewer's left. */
function placesOf({ teeth, arch, across, deep }: Ring): [Tooth, ChartPlace][] {
  const up = arch === 'upper' ? -1 : 1
  const middle = CHART.height / 2 + up * APART
  const at = (angle: number) => ({
    x: CHART.width / 2 - across * Math.cos(angle),
    y: middle + up * deep * Math.sin(angle),
  })
  const lengths: number[] = [0]
  for (let step = 1; step <= STEPS; step++) {
    const [from, to] = [at(((step - 1) / STEPS) * Math.PI), at((step / STEPS) * Math.PI)]
    lengths.push((lengths[step - 1] ?? 0) + Math.hypot(to.x - from.x, to.y - from.y))
  }
  const whole = lengths[STEPS] ?? 0
  return teeth.map((tooth, index) => {
    const wanted = (whole * (index + 0.5)) / teeth.length
    const angle = (lengths.findIndex((length) => length >= wanted) / STEPS) * Math.PI
    const out = { x: -Math.cos(angle) / across, y: (up * Math.sin(angle)) / deep }
    const turn = (Math.atan2(out.x, -out.y) * 180) / Math.PI
    return [tooth, { ...at(angle), turn }]
  })
}

/** Where each of the 52 teeth stands on the chart, in the chart's own units. */
export const CHART_PLACES: ReadonlyMap<Tooth, ChartPlace> = new Map(RINGS.flatMap(placesOf))

/** Outlines about their own middle, lip or cheek side up: permanent teeth round, primary teeth cornered. */
const PERMANENT: Record<ToothForm, string> = {
  incisor: 'M-19-9Q0-16 19-9Q20 7 9 11Q0 14-9 11Q-20 7-19-9Z',
  canine: 'M0-18Q17-9 19 2Q13 13 0 16Q-13 13-19 2Q-17-9 0-18Z',
  premolar: 'M0-21Q18-21 19-5Q20 19 0 20Q-20 19-19-5Q-18-21 0-21Z',
  molar:
    'M-11-23Q0-18 11-23Q24-23 23-10Q19 0 23 10Q24 23 11 23Q0 18-11 23Q-24 23-23 10Q-19 0-23-10Q-24-23-11-23Z',
}
const PRIMARY: Record<ToothForm, string> = {
  incisor: 'M-18-11H18L11 13H-11Z',
  canine: 'M0-19L19 0L0 17L-19 0Z',
  premolar: 'M-19-19H19V19H-19Z',
  molar: 'M-13-22H13L22-13V13L13 22H-13L-22 13V-13Z',
}
export const outlineOf = (tooth: Tooth): string =>
  (dentitionOf(tooth) === 'primary' ? PRIMARY : PERMANENT)[formOf(tooth)]

export type ChartKey = 'ArrowLeft' | 'ArrowRight' | 'ArrowUp' | 'ArrowDown' | 'Home' | 'End'
const KEYS: readonly string[] = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Home', 'End']
export const isChartKey = (key: string): key is ChartKey => KEYS.includes(key)

/**
 * The tooth a key leads to: left and right along the row, which is mesially or distally as the side has it, Home and
 * End to the ends of the row, up and down to the nearest tooth of the next row that is shown.
 */
export function stepTo(tooth: Tooth, key: ChartKey, rows: readonly (readonly Tooth[])[]): Tooth {
  const row = rows.find((each) => each.includes(tooth))
  if (!row) return tooth
  const at = row.indexOf(tooth)
  switch (key) {
    case 'ArrowLeft':
      return row[at - 1] ?? tooth
    case 'ArrowRight':
      return row[at + 1] ?? tooth
    case 'Home':
      return row[0] ?? tooth
    case 'End':
      return row.at(-1) ?? tooth
    case 'ArrowUp':
      return nearestIn(rows[rows.indexOf(row) - 1], tooth)
    case 'ArrowDown':
      return nearestIn(rows[rows.indexOf(row) + 1], tooth)
  }
}

function nearestIn(row: readonly Tooth[] | undefined, tooth: Tooth): Tooth {
  const x = (each: Tooth): number => CHART_PLACES.get(each)?.x ?? 0
  const off = (each: Tooth): number => Math.abs(x(each) - x(tooth))
  return [...(row ?? [])].sort((a, b) => off(a) - off(b))[0] ?? tooth
}
