import { rowOf, type Tooth } from '#shared/teeth/tooth.ts'

/** The tooth of the same name on the other side of the same jaw. */
export function otherSideOf(tooth: Tooth): Tooth {
  const row = rowOf(tooth)
  return row[row.length - 1 - row.indexOf(tooth)] ?? tooth
}

/** Its neighbours by number, in arch order. */
export function nextTo(tooth: Tooth): Tooth[] {
  const row = rowOf(tooth)
  const at = row.indexOf(tooth)
  return [row[at - 1], row[at + 1]].filter((found) => found !== undefined)
}

/** Teeth a person could take for these: the neighbours first, then the other side; never one of the teeth themselves. */
export const lookAlikesOf = (teeth: readonly Tooth[]): Tooth[] =>
  [...new Set([...teeth.flatMap(nextTo), ...teeth.map(otherSideOf)])].filter(
    (tooth) => !teeth.includes(tooth),
  )

/** The teeth and their look-alikes in arch order, for a touch that must find the right one. */
export const choicesAmong = (teeth: readonly Tooth[]): Tooth[] =>
  [...teeth, ...lookAlikesOf(teeth)].sort((a, b) => placeOf(a) - placeOf(b))

const placeOf = (tooth: Tooth): number => Number(tooth[0]) * 100 + rowOf(tooth).indexOf(tooth)
