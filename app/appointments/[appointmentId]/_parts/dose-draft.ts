import type { Seen } from '#app/_live/seen.ts'
import {
  isOnlyTopical,
  type Label,
  type PlannedDose,
  TECHNIQUES,
  type Technique,
} from '#shared/anaesthesia/anaesthetic.ts'
import { labelOf, solutionKey } from '#shared/anaesthesia/cartridge.ts'
import { leftToGive, placeKey } from '#shared/anaesthesia/left-to-give.ts'
import { type Microlitres, microlitres } from '#shared/base/amount.ts'
import { clampedTeeth, workedTeeth } from '#shared/readiness/judges.ts'
import { sideOf, type Tooth } from '#shared/teeth/tooth.ts'
import { CARTRIDGES, SOLUTIONS } from './solutions.ts'

/** One injection as it is being chosen; the empty text where nothing is chosen yet. */
export interface Draft {
  solution: string
  cartridge: string
  technique: Technique | ''
  tooth: Tooth | ''
  tenths: string
}

const TENTHS = [5, 10, 15, 20, 25, 30] as const
/** Of a gel less is laid on than a cartridge holds. */
const TENTHS_LAID_ON = [1, 2, 3, 5] as const
const plannedOf = ({ facts }: Seen): readonly PlannedDose[] => facts.anaesthetic?.planned ?? []

/** What is planned and not given yet, in the order of the plan. */
export const leftOf = (seen: Seen): PlannedDose[] => leftToGive(plannedOf(seen), seen.facts.doses)

/** What there is to choose from: the drawer, and whatever the plan names beyond it. */
export function choicesOf(seen: Seen, technique: Draft['technique'] = '') {
  const planned = plannedOf(seen)
  const labels = new Map<string, Label>(
    [...SOLUTIONS, ...planned].map((each) => [solutionKey(each), labelOf(each)]),
  )
  const inOrder = (amounts: readonly number[]) => [...new Set(amounts)].sort((a, b) => a - b)
  return {
    labels,
    techniques: TECHNIQUES,
    teeth: sitesOf(seen),
    cartridges: inOrder([...CARTRIDGES, ...planned.map(({ cartridge }) => cartridge)]),
    tenths: inOrder([
      ...(technique === 'topical' ? TENTHS_LAID_ON : TENTHS),
      ...leftOf(seen).map(({ tenthsOfCartridge }) => tenthsOfCartridge),
    ]),
  }
}

/** Teeth that the work and the plan name: worked on, planned to be injected, or under a clamp. */
function sitesOf(seen: Seen): Tooth[] {
  const injected = plannedOf(seen).flatMap(({ tooth }) => tooth ?? [])
  const clamped = seen.isPutAway ? [] : clampedTeeth(seen.facts)
  return [...new Set([...workedTeeth(seen.facts), ...injected, ...clamped])]
}

/** What is planned as a choice; of anything else only what does not hang on the plan. */
export function draftOf(seen: Seen, planned: PlannedDose | undefined = leftOf(seen)[0]): Draft {
  const [site] = sitesOf(seen)
  return {
    solution: planned ? solutionKey(planned) : '',
    cartridge: `${planned?.cartridge ?? CARTRIDGES[0]}`,
    technique: planned?.technique ?? '',
    tooth: planned?.tooth ?? site ?? '',
    tenths: `${planned?.tenthsOfCartridge ?? 10}`,
  }
}

/** The injection, once everything of it is chosen. */
export function doseOf(draft: Draft, seen: Seen): PlannedDose | null {
  const label = choicesOf(seen).labels.get(draft.solution)
  if (!label || draft.technique === '' || draft.tooth === '') return null
  if (isOnlyTopical(label.agent) && draft.technique !== 'topical') return null
  const cartridge: Microlitres = microlitres(Number(draft.cartridge))
  return {
    ...label,
    cartridge,
    technique: draft.technique,
    tooth: draft.tooth,
    side: sideOf(draft.tooth),
    tenthsOfCartridge: Number(draft.tenths),
  }
}

/** The very injection, its amount and cartridge with it. */
export const isSameDose = (one: PlannedDose, other: PlannedDose): boolean =>
  placeKey(one) === placeKey(other) &&
  one.cartridge === other.cartridge &&
  one.tenthsOfCartridge === other.tenthsOfCartridge
