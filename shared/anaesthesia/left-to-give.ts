import type { Dose, PlannedDose } from './anaesthetic.ts'
import { solutionKey } from './cartridge.ts'

/** One solution at one place: where two of them are planned, each is given and read for itself. */
export const placeKey = (dose: PlannedDose): string =>
  [solutionKey(dose), dose.technique, dose.tooth, dose.side].join('/')

/**
 * What is planned beyond what was given, in the order of the plan. What counts as the same is the key's to say: the
 * place, or the solution wherever it went.
 */
export function leftToGive(
  planned: readonly PlannedDose[],
  given: readonly Pick<Dose, keyof PlannedDose>[],
  keyOf: (dose: PlannedDose) => string = placeKey,
): PlannedDose[] {
  const used = new Map<string, number>()
  for (const dose of given) used.set(keyOf(dose), (used.get(keyOf(dose)) ?? 0) + dose.tenthsOfCartridge)
  return planned.flatMap((dose) => {
    const gone = Math.min(used.get(keyOf(dose)) ?? 0, dose.tenthsOfCartridge)
    used.set(keyOf(dose), (used.get(keyOf(dose)) ?? 0) - gone)
    const left = dose.tenthsOfCartridge - gone
    return left === 0 ? [] : [{ ...dose, tenthsOfCartridge: left }]
  })
}
