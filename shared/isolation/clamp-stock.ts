import type { Cited } from '../base/source.ts'
import { COMMON } from '../base/source.ts'
import { archOf, dentitionOf, formOf, type Tooth } from '../teeth/tooth.ts'
import { CLAMPS } from './clamps.ts'
import type { IsolationNote } from './findings.ts'
import type { AgreedClamp, ClampFamily, StockClamp, StockTooth } from './isolation-facts.ts'

/** Forms that may stand in where the planned one is not in stock, the nearest first; the dentist records it as placed. */
export const STANDS_IN: Cited<Partial<Record<ClampFamily, readonly ClampFamily[]>>> = {
  value: {
    MOLAR_W_PASSIVE: ['MOLAR_W_ACTIVE', 'MOLAR_SERR', 'GUARD'],
    MOLAR_W_ACTIVE: ['MOLAR_SERR', 'MOLAR_W_PASSIVE'],
    MOLAR_SERR: ['MOLAR_W_ACTIVE'],
    MOLAR_WL: ['MOLAR_EXT'],
    MOLAR_EXT: ['MOLAR_WL'],
    ANT_DBL: ['CERV_RETR'],
    CERV_RETR: ['ANT_DBL'],
    PRIM_MOLAR: ['MOLAR_W_ACTIVE'],
  },
  source: COMMON,
}

export interface RankedClamp {
  clamp: StockClamp
  /** The planned form, or one that stands in for it. */
  why: 'same-form' | 'stands-in'
}

/** The kind of tooth a clamp is made for. */
export function stockToothOf(tooth: Tooth): StockTooth {
  const form = formOf(tooth)
  const isFront = form === 'incisor' || form === 'canine'
  if (dentitionOf(tooth) === 'primary') return isFront ? 'primary-front' : 'primary-molar'
  return isFront ? 'front' : form
}

/**
 * The clinic's own clamps that can sit on this tooth, the best first: the planned form before one that stands in,
 * made for this jaw before made for either, then by their marks. Where no metal may touch the tooth, none does.
 */
export function rankClamps(
  { tooth, family }: Pick<AgreedClamp, 'tooth' | 'family'>,
  stock: readonly StockClamp[],
): RankedClamp[] {
  const forms = [family, ...(STANDS_IN.value[family] ?? [])]
  const noMetal = !CLAMPS[family].value.metal
  const fits = (clamp: StockClamp): boolean =>
    clamp.count > 0 &&
    forms.includes(clamp.family) &&
    clamp.teeth.includes(stockToothOf(tooth)) &&
    (clamp.jaw === 'either' || clamp.jaw === archOf(tooth)) &&
    !(noMetal && clamp.metal)
  const rank = ({ family: form, jaw }: StockClamp): number =>
    forms.indexOf(form) * 2 + (jaw === 'either' ? 1 : 0)
  return stock
    .filter(fits)
    .sort((a, b) => rank(a) - rank(b) || (a.mark < b.mark ? -1 : 1))
    .map((clamp) => ({ clamp, why: clamp.family === family ? 'same-form' : 'stands-in' }))
}

/** Clamps of a plan for which nothing in the clinic's own stock will do; nothing is said where no stock is listed. */
export function judgeStock(
  clamps: readonly AgreedClamp[],
  stock: readonly StockClamp[] | null,
): IsolationNote[] {
  if (stock === null) return []
  return clamps
    .filter((clamp) => rankClamps(clamp, stock).length === 0)
    .map(({ tooth, family }) => ({
      rule: 'clamp/none-in-stock',
      level: 'note',
      about: `tooth:${tooth}`,
      tooth,
      family,
    }))
}
