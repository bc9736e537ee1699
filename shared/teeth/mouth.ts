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

/** The mouth of a patient's chart; null, or nobody has looked: not charted. */
export const mouthOf = (chart: MouthChart | null, known: MouthKnown): Mouth =>
  makeMouth(chart?.charted ? 'charted' : 'not-charted', recordedIn(chart), known)

/** The mouth of a bare record; null: not charted, `{}`: charted and all standing but third molars. */
export const mouthFrom = (recorded: Recorded | null, known: MouthKnown): Mouth =>
  makeMouth(recorded === null ? 'not-charted' : 'charted', recorded ?? {}, known)

function recordedIn(chart: MouthChart | null): Recorded {
  const recorded: Recorded = {}
  for (const tooth of TEETH) {
    const entry = chart?.teeth[tooth]
    if (entry) recorded[tooth] = entry.conditions
  }
  return recorded
}

const NOTHING: readonly ToothCondition[] = []
const ABSENT: readonly ToothCondition[] = ['missing', 'unerupted', 'pontic']
const isAbsent = (conditions: readonly ToothCondition[]): boolean =>
  conditions.some((condition) => ABSENT.includes(condition))

/** What is known of one tooth without looking at the rest. */
type Stand = 'stands' | 'absent' | 'unknown'

/** The unchanging part of each tooth, worked out once: a board makes a mouth for each appointment. */
interface Fixed {
  tooth: Tooth
  successor: Tooth | null
  predecessor: Tooth | null
  isPrimary: boolean
  isThird: boolean
  /** Age in whole years from which it is expected. */
  dueAt: number
}
const fixedOf = (tooth: Tooth): Fixed => ({
  tooth,
  successor: successorOf(tooth),
  predecessor: predecessorOf(tooth),
  isPrimary: dentitionOf(tooth) === 'primary',
  isThird: isThirdMolar(tooth),
  dueAt: Math.ceil(eruptionOf(tooth).latest / 12),
})
const IN_ORDER: readonly Fixed[] = [...TEETH].sort(byArchOrder).map(fixedOf)
const DUE_AT = new Map(IN_ORDER.map(({ tooth, dueAt }) => [tooth, dueAt]))

function makeMouth(how: 'charted' | 'not-charted', recorded: Recorded, known: MouthKnown): Mouth {
  const standOf = (tooth: Tooth): Stand => {
    const conditions = recorded[tooth]
    if (conditions && isAbsent(conditions)) return 'absent'
    return conditions?.length || known.worked?.includes(tooth) ? 'stands' : 'unknown'
  }
  const due = dueIn(standOf, known)
  const standing = new Set<Tooth>()
  const assumed: Tooth[] = []
  const pontics: Tooth[] = []
  const rows: Record<Arch, Tooth[]> = { upper: [], lower: [] }
  for (const fixed of IN_ORDER) {
    const stand = standOf(fixed.tooth)
    if (stand === 'absent' && recorded[fixed.tooth]?.includes('pontic')) pontics.push(fixed.tooth)
    if (stand === 'absent' || (stand === 'unknown' && !due(fixed))) continue
    standing.add(fixed.tooth)
    rows[archOf(fixed.tooth)].push(fixed.tooth)
    if (stand === 'unknown' && how === 'not-charted') assumed.push(fixed.tooth)
  }
  return {
    charted: how === 'charted',
    ageYears: known.ageYears,
    conditionsOf: (tooth) => recorded[tooth] ?? NOTHING,
    isStanding: (tooth) => standing.has(tooth),
    standingRow: (arch) => rows[arch],
    distalTo: (tooth) => beside(rows[archOf(tooth)], tooth, isOnRight(tooth) ? 'before' : 'after'),
    mesialTo: (tooth) => beside(rows[archOf(tooth)], tooth, isOnRight(tooth) ? 'after' : 'before'),
    assumed,
    pontics,
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
    return standOf(successor) !== 'stands' && (ageYears === null || ageYears < (DUE_AT.get(successor) ?? 0))
  }
}

const isOnRight = (tooth: Tooth): boolean => archPlace(tooth) < 0

/** A row runs from the patient's right to the left; what lies beside a tooth is told from the nearest on. */
function beside(row: readonly Tooth[], tooth: Tooth, where: 'before' | 'after'): Tooth[] {
  const place = archPlace(tooth)
  return where === 'after'
    ? row.filter((other) => archPlace(other) > place)
    : row.filter((other) => archPlace(other) < place).reverse()
}
