import { eruptionOf } from './eruption.ts'
import type { MouthChart, ToothCondition } from './mouth-chart.ts'
import { archPlace, byArchOrder } from './span.ts'
import {
  type Arch,
  archOf,
  dentitionOf,
  isThirdMolar,
  predecessorOf,
  successorOf,
  TEETH,
  type Tooth,
} from './tooth.ts'

/** A mouth as a plan may count on it. */
export interface Mouth {
  /** False where nobody has looked: what stands is then assumed, and listed. */
  charted: boolean
  ageYears: number | null
  /** What is recorded of a tooth; empty where nothing is. */
  conditionsOf: (tooth: Tooth) => readonly ToothCondition[]
  /** Whether the tooth is there to be seen through a sheet: not missing, unerupted or a pontic. */
  isStanding: (tooth: Tooth) => boolean
  /** Standing teeth of an arch from the patient's right to the left, primary and permanent as they stand. */
  standingRow: (arch: Arch) => readonly Tooth[]
  /** Standing teeth behind this one on its own side, nearest first. */
  distalTo: (tooth: Tooth) => readonly Tooth[]
  /** Standing teeth in front of this one and on across the midline, nearest first. */
  mesialTo: (tooth: Tooth) => readonly Tooth[]
  /** The nearest standing teeth on either side of this one in its arch. */
  beside: (tooth: Tooth) => readonly Tooth[]
  /** Teeth taken as standing although nobody has recorded them. */
  assumed: readonly Tooth[]
  /** Teeth of bridges, hanging between what carries them. */
  pontics: readonly Tooth[]
}

export interface MouthKnown {
  ageYears: number | null
  /** Teeth that the work names: they stand unless they are recorded as missing or unerupted. */
  worked?: readonly Tooth[]
}

type Recorded = Partial<Record<Tooth, readonly ToothCondition[]>>
type ConditionsOf = Mouth['conditionsOf']

/** The mouth of a patient's chart; null, or nobody has looked: not charted. */
export const mouthOf = (chart: MouthChart | null, known: MouthKnown): Mouth =>
  makeMouth(Boolean(chart?.charted), (tooth) => chart?.teeth[tooth]?.conditions ?? NOTHING, known)

/** The mouth of a bare record; null: not charted, `{}`: charted and all standing but third molars. */
export const mouthFrom = (recorded: Recorded | null, known: MouthKnown): Mouth =>
  makeMouth(recorded !== null, (tooth) => recorded?.[tooth] ?? NOTHING, known)

const NOTHING: readonly ToothCondition[] = []
const isAbsence = (condition: ToothCondition): boolean =>
  condition === 'missing' || condition === 'unerupted' || condition === 'pontic'

/** What is known of one tooth without looking at the rest. */
type Stand = 'stands' | 'absent' | 'unknown'

/** The unchanging part of each tooth, worked out once: a board makes a mouth for each line of work. */
interface Fixed {
  tooth: Tooth
  arch: Arch
  /** Where it stands in its arch, from the patient's right. */
  place: number
  successor: Tooth | null
  predecessor: Tooth | null
  isPrimary: boolean
  isThird: boolean
  /** Age in whole years from which it is expected. */
  dueAt: number
}
const fixedOf = (tooth: Tooth, place: number): Fixed => ({
  tooth,
  arch: archOf(tooth),
  place,
  successor: successorOf(tooth),
  predecessor: predecessorOf(tooth),
  isPrimary: dentitionOf(tooth) === 'primary',
  isThird: isThirdMolar(tooth),
  dueAt: Math.ceil(eruptionOf(tooth).latest / 12),
})
const rowOf = (arch: Arch): readonly Fixed[] =>
  TEETH.filter((tooth) => archOf(tooth) === arch)
    .sort(byArchOrder)
    .map(fixedOf)
const ROWS: Readonly<Record<Arch, readonly Fixed[]>> = { upper: rowOf('upper'), lower: rowOf('lower') }
const IN_ORDER: readonly Fixed[] = [...ROWS.upper, ...ROWS.lower]
const FIXED = Object.fromEntries(IN_ORDER.map((fixed) => [fixed.tooth, fixed])) as Record<Tooth, Fixed>

/** Nothing is worked out before it is asked for: of most mouths only a tooth and its neighbours are. */
function makeMouth(charted: boolean, conditionsOf: ConditionsOf, known: MouthKnown): Mouth {
  const standOf = (tooth: Tooth): Stand => {
    const conditions = conditionsOf(tooth)
    if (conditions.some(isAbsence)) return 'absent'
    return conditions.length > 0 || known.worked?.includes(tooth) ? 'stands' : 'unknown'
  }
  const due = dueIn(standOf, known)
  const stands = (fixed: Fixed): boolean => {
    const stand = standOf(fixed.tooth)
    return stand === 'stands' || (stand === 'unknown' && due(fixed))
  }
  const rows: Partial<Record<Arch, Tooth[]>> = {}
  const standingRow = (arch: Arch): readonly Tooth[] => {
    rows[arch] ??= ROWS[arch].filter(stands).map(({ tooth }) => tooth)
    return rows[arch]
  }
  const towards = (tooth: Tooth, side: 'right' | 'left'): readonly Tooth[] =>
    lyingTowards(standingRow(archOf(tooth)), tooth, side)
  const findNext = ({ arch, place }: Fixed, step: 1 | -1): Fixed | null => {
    const next = ROWS[arch][place + step]
    if (!next) return null
    return stands(next) ? next : findNext(next, step)
  }
  return {
    charted,
    ageYears: known.ageYears,
    conditionsOf,
    isStanding: (tooth) => stands(FIXED[tooth]),
    standingRow,
    distalTo: (tooth) => towards(tooth, isOnRight(tooth) ? 'right' : 'left'),
    mesialTo: (tooth) => towards(tooth, isOnRight(tooth) ? 'left' : 'right'),
    beside: (tooth) => {
      const outwards = isOnRight(tooth) ? -1 : 1
      const fixed = FIXED[tooth]
      const distal = findNext(fixed, outwards)
      const mesial = findNext(fixed, outwards === 1 ? -1 : 1)
      return [...(distal ? [distal.tooth] : []), ...(mesial ? [mesial.tooth] : [])]
    },
    get assumed() {
      if (charted) return []
      return IN_ORDER.filter((fixed) => standOf(fixed.tooth) === 'unknown' && due(fixed)).map(
        ({ tooth }) => tooth,
      )
    },
    get pontics() {
      return IN_ORDER.filter(({ tooth }) => conditionsOf(tooth).includes('pontic')).map(({ tooth }) => tooth)
    },
  }
}

/** Whether a tooth of which nothing is known is expected to stand, given its age and its place-mate. */
function dueIn(standOf: (tooth: Tooth) => Stand, { ageYears }: MouthKnown): (fixed: Fixed) => boolean {
  const hasPrimary =
    ageYears === null && IN_ORDER.some(({ tooth, isPrimary }) => isPrimary && standOf(tooth) === 'stands')
  // Without an age a mouth is taken as permanent, or as primary where a primary tooth stands or is worked on.
  const byAge = ({ isPrimary, isThird, dueAt }: Fixed): boolean =>
    !isThird && (ageYears === null ? isPrimary === hasPrimary : ageYears >= dueAt)
  return (fixed) => {
    const { successor, predecessor } = fixed
    if (!byAge(fixed)) return false
    if (successor === null) return predecessor === null || standOf(predecessor) !== 'stands'
    return standOf(successor) !== 'stands' && (ageYears === null || ageYears < FIXED[successor].dueAt)
  }
}

const isOnRight = (tooth: Tooth): boolean => archPlace(tooth) < 0

/** A row runs from the patient's right to the left; what lies beside a tooth is told from the nearest on. */
function lyingTowards(row: readonly Tooth[], tooth: Tooth, side: 'right' | 'left'): Tooth[] {
  const place = archPlace(tooth)
  return side === 'left'
    ? row.filter((other) => archPlace(other) > place)
    : row.filter((other) => archPlace(other) < place).reverse()
}
