import { isDue } from './eruption.ts'
import type { MouthChart, ToothCondition } from './mouth-chart.ts'
import { archPlace, byArchOrder } from './span.ts'
import {
  type Arch,
  archOf,
  dentitionOf,
  isThirdMolar,
  predecessorOf,
  sideOf,
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

const ABSENT: readonly ToothCondition[] = ['missing', 'unerupted', 'pontic']
const isAbsent = (conditions: readonly ToothCondition[]): boolean =>
  conditions.some((condition) => ABSENT.includes(condition))

/** What is known of one tooth without looking at the rest. */
type Stand = 'stands' | 'absent' | 'unknown'

function makeMouth(how: 'charted' | 'not-charted', recorded: Recorded, known: MouthKnown): Mouth {
  const worked = known.worked ?? []
  const conditionsOf = (tooth: Tooth): readonly ToothCondition[] => recorded[tooth] ?? []
  const standOf = (tooth: Tooth): Stand => {
    const conditions = conditionsOf(tooth)
    if (isAbsent(conditions)) return 'absent'
    return conditions.length > 0 || worked.includes(tooth) ? 'stands' : 'unknown'
  }
  const due = dueIn(standOf, known)
  const standing = new Set(
    TEETH.filter((tooth) => standOf(tooth) === 'stands' || (standOf(tooth) === 'unknown' && due(tooth))),
  )
  const rows: Record<Arch, readonly Tooth[]> = {
    upper: [...standing].filter((tooth) => archOf(tooth) === 'upper').sort(byArchOrder),
    lower: [...standing].filter((tooth) => archOf(tooth) === 'lower').sort(byArchOrder),
  }
  const assumed = [...standing].filter((tooth) => standOf(tooth) === 'unknown').sort(byArchOrder)
  return {
    charted: how === 'charted',
    ageYears: known.ageYears,
    conditionsOf,
    isStanding: (tooth) => standing.has(tooth),
    standingRow: (arch) => rows[arch],
    distalTo: (tooth) => distalIn(rows[archOf(tooth)], tooth),
    mesialTo: (tooth) => mesialIn(rows[archOf(tooth)], tooth),
    assumed: how === 'charted' ? [] : assumed,
  }
}

/** Whether a tooth of which nothing is known is expected to stand, given its age and its place-mate. */
function dueIn(standOf: (tooth: Tooth) => Stand, known: MouthKnown): (tooth: Tooth) => boolean {
  const hasPrimary = TEETH.some((tooth) => dentitionOf(tooth) === 'primary' && standOf(tooth) === 'stands')
  const byAge = (tooth: Tooth): boolean => {
    if (isThirdMolar(tooth)) return false
    // Without an age a mouth is taken as permanent, or as primary where a primary tooth stands or is worked on.
    if (known.ageYears === null) return (dentitionOf(tooth) === 'primary') === hasPrimary
    return isDue(tooth, known.ageYears)
  }
  return (tooth) => {
    const successor = successorOf(tooth)
    if (successor !== null)
      return byAge(tooth) && standOf(successor) !== 'stands' && !byAgeOf(successor, known)
    const predecessor = predecessorOf(tooth)
    return byAge(tooth) && (predecessor === null || standOf(predecessor) !== 'stands')
  }
}

const byAgeOf = (tooth: Tooth, { ageYears }: MouthKnown): boolean =>
  ageYears !== null && isDue(tooth, ageYears)

const distalIn = (row: readonly Tooth[], tooth: Tooth): Tooth[] =>
  row
    .filter((other) => sideOf(other) === sideOf(tooth) && reach(other) > reach(tooth))
    .sort((a, b) => reach(a) - reach(b))

const reach = (tooth: Tooth): number => Math.abs(archPlace(tooth))

function mesialIn(row: readonly Tooth[], tooth: Tooth): Tooth[] {
  const toLeft = sideOf(tooth) === 'right' ? 1 : -1
  const ahead = (other: Tooth): number => (archPlace(other) - archPlace(tooth)) * toLeft
  return row.filter((other) => ahead(other) > 0).sort((a, b) => ahead(a) - ahead(b))
}
