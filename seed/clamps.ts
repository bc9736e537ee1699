import type { StockClamp } from '#shared/isolation/isolation-facts.ts'
import type { Ask } from './telling.ts'

/** The invented clinic's own clamps, engraved with the names of waterside plants: no maker's mark. */
const OWN: StockClamp[] = [
  {
    mark: 'Reed',
    family: 'MOLAR_W_PASSIVE',
    teeth: ['molar'],
    jaw: 'lower',
    metal: true,
    count: 6,
  },
  {
    mark: 'Sedge',
    family: 'MOLAR_W_PASSIVE',
    teeth: ['molar'],
    jaw: 'upper',
    metal: true,
    count: 6,
  },
  { mark: 'Rush', family: 'MOLAR_W_ACTIVE', teeth: ['molar'], jaw: 'either', metal: true, count: 4 },
  { mark: 'Alder', family: 'MOLAR_WL', teeth: ['molar'], jaw: 'either', metal: true, count: 4 },
  { mark: 'Osier', family: 'MOLAR_EXT', teeth: ['molar'], jaw: 'either', metal: true, count: 2 },
  { mark: 'Willow', family: 'PM_W', teeth: ['premolar'], jaw: 'either', metal: true, count: 4 },
  { mark: 'Withy', family: 'PM_WL', teeth: ['premolar'], jaw: 'either', metal: true, count: 3 },
  { mark: 'Iris', family: 'ANT_DBL', teeth: ['front', 'premolar'], jaw: 'either', metal: true, count: 4 },
  { mark: 'Mallow', family: 'CERV_RETR', teeth: ['front', 'premolar'], jaw: 'either', metal: true, count: 2 },
  {
    mark: 'Cress',
    family: 'PRIM_MOLAR',
    teeth: ['primary-molar'],
    jaw: 'either',
    metal: true,
    count: 4,
  },
  {
    mark: 'Clear',
    family: 'NONMETAL',
    teeth: ['molar', 'premolar'],
    jaw: 'either',
    metal: false,
    count: 2,
  },
]

/** All are listed, and those used most were looked at the day before. */
export const ownClamps = (): Ask[] => [
  { kind: 'clamps.list', input: { clamps: OWN } },
  {
    kind: 'punch.set',
    input: { plateMicrometres: [500, 920, 1340, 1760, 2180, 2600], lengthMm: 166, measured: false },
  },
]

export const lookAtClamps = (): Ask[] =>
  ['Reed', 'Sedge', 'Alder', 'Iris'].map((mark) => ({ kind: 'clamp.looked-at', input: { mark } }))
