import { type Cited, COMMON, read } from '../base/source.ts'
import type { ToothCondition } from '../teeth/mouth-chart.ts'
import { archOf, formOf, positionOf, type Tooth } from '../teeth/tooth.ts'
import type { IsolationFinding } from './findings.ts'
import type { AnchorHole, HoleScheme } from './isolation-facts.ts'

/** Classes by which holes are sized. */
type HoleClass = 'lower-incisor' | 'upper-lateral' | 'upper-central' | 'canine' | 'premolar' | 'molar'

export interface Scheme {
  name: string
  sizes: Record<HoleClass, number>
  largest: number
  /** The clamped tooth: always the largest, or the largest for a molar clamped first only, or no hole of its own. */
  clamped: 'largest' | 'largest-for-clamp-first-molar' | 'as-class'
}

/** Relative sizes, 1 the smallest. The order anchor > molar > premolar ≥ canine ≥ upper incisor > lower incisor is common to all. */
export const SCHEMES: Record<HoleScheme, Cited<Scheme>> = {
  S5: {
    value: {
      name: 'five sizes',
      sizes: {
        'lower-incisor': 1,
        'upper-lateral': 2,
        'upper-central': 2,
        canine: 3,
        premolar: 3,
        molar: 4,
      },
      largest: 5,
      clamped: 'largest',
    },
    source: read('assisting exam items; open teaching notes'),
  },
  S6: {
    value: {
      name: 'six-hole wheel',
      sizes: {
        'lower-incisor': 1,
        'upper-lateral': 2,
        'upper-central': 3,
        canine: 3,
        premolar: 4,
        molar: 5,
      },
      largest: 6,
      clamped: 'largest',
    },
    source: read(
      'US Navy Dental Technician vol 2, NAVEDTRA 14275: largest for the clamp tooth; row by row COMMON',
    ),
  },
  S3: {
    value: {
      name: 'three sizes',
      sizes: {
        'lower-incisor': 1,
        'upper-lateral': 1,
        'upper-central': 1,
        canine: 1,
        premolar: 2,
        molar: 3,
      },
      largest: 3,
      clamped: 'largest',
    },
    source: read('Principles and practice of operative dentistry, c. 1920, p 212, fig 308'),
  },
  S1: {
    value: {
      name: 'one size',
      sizes: {
        'lower-incisor': 1,
        'upper-lateral': 1,
        'upper-central': 1,
        canine: 1,
        premolar: 1,
        molar: 1,
      },
      largest: 1,
      clamped: 'as-class',
    },
    source: read('Carrotte, Br Dent J 2004;197:527–534'),
  },
  SCOL5: {
    value: {
      name: 'five settings, the largest for a molar clamped first',
      sizes: {
        'lower-incisor': 1,
        'upper-lateral': 1,
        'upper-central': 1,
        canine: 2,
        premolar: 3,
        molar: 4,
      },
      largest: 5,
      clamped: 'largest-for-clamp-first-molar',
    },
    source: read('Scolavino & Paolone, Posterior Direct Restorations, ch 4'),
  },
}

export const ANCHOR_HOLE_SOURCES: Record<AnchorHole, Cited<string>> = {
  'fixed-5': { value: 'always the largest', source: read('assisting exam items') },
  'plus-one': { value: 'one size above its class', source: COMMON },
  'class-plus-one': { value: 'one size above its class, the largest for molars', source: COMMON },
}

function holeClassOf(tooth: Tooth): HoleClass {
  const form = formOf(tooth)
  if (form !== 'incisor') return form
  if (archOf(tooth) === 'lower') return 'lower-incisor'
  return positionOf(tooth) === 1 ? 'upper-central' : 'upper-lateral'
}

export interface HoleRequest {
  tooth: Tooth
  scheme: HoleScheme
  anchorHole: AnchorHole
  isClamped: boolean
  /** The clamp goes on first and the sheet over it. */
  isClampFirst: boolean
  hasRetractor: boolean
  conditions: readonly ToothCondition[]
}

/** The size of one hole. An end hole without a clamp is never enlarged. */
export function chooseHole(request: HoleRequest): number {
  const { largest } = SCHEMES[request.scheme].value
  const plain = plainSize(request)
  const clamped = request.isClamped ? Math.max(plain, clampedSize(request, plain)) : plain
  return Math.min(largest, request.hasRetractor ? clamped + 1 : clamped)
}

/** A bridge abutment in a back tooth passes like a molar (MEMORY, low). */
function plainSize({ tooth, scheme, conditions }: HoleRequest): number {
  const { sizes } = SCHEMES[scheme].value
  const own = sizes[holeClassOf(tooth)]
  return conditions.includes('abutment') && formOf(tooth) === 'premolar' ? sizes.molar : own
}

function clampedSize({ tooth, scheme, anchorHole, isClampFirst }: HoleRequest, plain: number): number {
  const { largest, clamped } = SCHEMES[scheme].value
  if (clamped === 'as-class') return plain
  const isMolar = formOf(tooth) === 'molar'
  if (clamped === 'largest-for-clamp-first-molar') return isMolar && isClampFirst ? largest : plain
  if (anchorHole === 'fixed-5') return largest
  if (anchorHole === 'plus-one') return plain + 1
  return isMolar ? largest : plain + 1
}

/** The range of holes of ISO 16635-1:2013, in mm, and of the punch's length. */
export const ISO_PUNCH = {
  leastMm: 0.5,
  mostMm: 2.6,
  lengthMm: 165,
  lengthToleranceMm: 5,
  source: read('ISO 16635-1:2013, overview'),
}

export const isInsideIsoHole = (diameterMm: number): boolean =>
  diameterMm >= ISO_PUNCH.leastMm && diameterMm <= ISO_PUNCH.mostMm
export const isInsideIsoLength = (lengthMm: number): boolean =>
  Math.abs(lengthMm - ISO_PUNCH.lengthMm) <= ISO_PUNCH.lengthToleranceMm

type OutsideIso = Extract<IsolationFinding, { rule: 'punch/outside-iso' }>
const outside = (what: OutsideIso['what'], mm: number): OutsideIso => ({
  rule: 'punch/outside-iso',
  level: 'note',
  about: 'punch',
  mm,
  what,
})

/** The clinic's own punch against the standard; a length nobody has measured is not judged. */
export const judgePunch = (punch: {
  lengthMm: number | null
  plateMicrometres: readonly number[]
}): OutsideIso[] => [
  ...punch.plateMicrometres
    .map((micrometres) => micrometres / 1000)
    .filter((mm) => !isInsideIsoHole(mm))
    .map((mm) => outside('hole', mm)),
  ...(punch.lengthMm === null || isInsideIsoLength(punch.lengthMm)
    ? []
    : [outside('length', punch.lengthMm)]),
]

/**
 * A size as the clinic's own plate cuts it, in mm. Schemes count from the largest hole down, so a scheme of five
 * on a plate of six leaves the smallest unused.
 */
export function diameterOf(size: number, scheme: HoleScheme, plateMicrometres: readonly number[]): number {
  const below = SCHEMES[scheme].value.largest - size
  const micrometres = plateMicrometres[Math.max(0, plateMicrometres.length - 1 - below)] ?? 2000
  return micrometres / 1000
}
