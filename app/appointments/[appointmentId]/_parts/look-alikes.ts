import type { Seen } from '#app/_live/seen.ts'
import { ageInYears } from '#shared/base/moment.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { type Mouth, mouthOf } from '#shared/teeth/mouth.ts'
import { byArchOrder } from '#shared/teeth/span.ts'
import { rowOf, type Tooth } from '#shared/teeth/tooth.ts'

/** The mouth as it is charted, or as it is for that age where nobody charted it. */
export const mouthSeen = ({ facts }: Pick<Seen, 'facts'>): Mouth =>
  mouthOf(facts.chart, {
    ageYears: ageInYears(facts.patient?.born ?? null, facts.appointment.day),
    worked: workedTeeth(facts),
  })

/** The tooth of the same name on the other side of the same jaw. */
export function otherSideOf(tooth: Tooth): Tooth {
  const row = rowOf(tooth)
  return row[row.length - 1 - row.indexOf(tooth)] ?? tooth
}

/**
 * Teeth a person could take for these: those that stand beside them first, of whichever set, then the other side;
 * never one of the teeth themselves.
 */
export const lookAlikesOf = (teeth: readonly Tooth[], mouth: Pick<Mouth, 'beside'>): Tooth[] =>
  [...new Set([...teeth.flatMap(mouth.beside), ...teeth.map(otherSideOf)])].filter(
    (tooth) => !teeth.includes(tooth),
  )

/** The teeth and their look-alikes in arch order, for a touch that must find the right one. */
export const choicesAmong = (teeth: readonly Tooth[], mouth: Pick<Mouth, 'beside'>): Tooth[] =>
  [...teeth, ...lookAlikesOf(teeth, mouth)].sort(byArchOrder)
