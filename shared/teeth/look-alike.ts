import type { Mouth } from './mouth.ts'
import { archOf, dentitionOf, formOf, mirrorOf, positionOf, type Tooth } from './tooth.ts'

/**
 * The teeth that this one is easily taken for, the likeliest first: its standing neighbours of the same form,
 * across the midline too, then the same tooth of the other side.
 */
export function findLookAlikes(tooth: Tooth, mouth: Mouth): Tooth[] {
  const alike = mouth.beside(tooth).filter((other) => isLike(tooth, other))
  const mirror = mirrorOf(tooth)
  return [...new Set(mouth.isStanding(mirror) ? [...alike, mirror] : alike)]
}

/** Same form; a central and a lateral incisor are told apart, two lower incisors hardly. */
const isLike = (a: Tooth, b: Tooth): boolean =>
  formOf(a) === formOf(b) &&
  dentitionOf(a) === dentitionOf(b) &&
  (formOf(a) !== 'incisor' || positionOf(a) === positionOf(b) || archOf(a) === 'lower')
