import type { FieldClass } from '../people/policy-set.ts'
import { dentitionOf, isAnterior, type Surface, type Tooth } from '../teeth/tooth.ts'
import type { ProcedureKind } from './work.ts'

type Surfaces = Partial<Record<Tooth, readonly Surface[]>>

/** Work whose field hangs on the tooth and its surfaces. */
const RESTORATIVE: ReadonlySet<string> = new Set([
  'deep-caries',
  'direct-composite',
  'glass-ionomer',
  'amalgam-placement',
  'amalgam-removal',
  'direct-gold',
  'temporary-filling',
  'microabrasion',
  'resin-infiltration',
])
const OF_KIND: Partial<Record<ProcedureKind, FieldClass>> = {
  'root-canal': 'root-canal',
  retreatment: 'root-canal',
  regenerative: 'root-canal',
  'pulp-cap': 'root-canal',
  'pulp-extirpation': 'root-canal',
  'root-canal-dressing': 'root-canal',
  pulpotomy: 'root-canal',
  pulpectomy: 'root-canal',
  'post-and-core': 'root-canal',
  'internal-bleaching': 'root-canal',
  'cervical-composite': 'cervical',
  'resin-sealant': 'sealant',
  'glass-ionomer-sealant': 'sealant',
  veneer: 'veneer',
  'conventional-cementation': 'crown-preparation',
  'crown-preparation': 'crown-preparation',
  recementation: 'crown-preparation',
  'crown-removal': 'crown-preparation',
  'in-office-bleaching': 'bleaching',
  'steel-crown': 'primary-minimal',
}
/** Not primary-minimal even where the tooth is a primary one. */
const WHATEVER_TOOTH: ReadonlySet<FieldClass> = new Set(['sealant', 'bleaching', 'veneer'])

/**
 * The class of field for which the clinic picks a policy; null for work without a dam, or not yet named.
 * Surfaces not known count as a filling between two teeth, which asks for the wider field.
 */
export function fieldClassOf(
  kind: ProcedureKind | 'undetermined',
  teeth: readonly Tooth[],
  surfaces: Surfaces,
): FieldClass | null {
  const bare = bareClassOf(kind, teeth, surfaces)
  if (bare === null || WHATEVER_TOOTH.has(bare)) return bare
  return teeth.some((tooth) => dentitionOf(tooth) === 'primary') ? 'primary-minimal' : bare
}

function bareClassOf(
  kind: ProcedureKind | 'undetermined',
  teeth: readonly Tooth[],
  surfaces: Surfaces,
): FieldClass | null {
  if (kind === 'undetermined') return null
  if (kind === 'bonded-indirect') return teeth.every(isAnterior) ? 'anterior' : 'bonded-posterior'
  return RESTORATIVE.has(kind) ? restorativeClassOf(teeth, surfaces) : (OF_KIND[kind] ?? null)
}

/** The widest class that any of the teeth asks for. */
function restorativeClassOf(teeth: readonly Tooth[], surfaces: Surfaces): FieldClass {
  const classes = teeth.map((tooth) => classOfFilling(tooth, surfaces[tooth] ?? []))
  const wide: readonly FieldClass[] = ['posterior', 'posterior-small', 'cervical']
  return wide.find((each) => classes.includes(each)) ?? 'anterior'
}

function classOfFilling(tooth: Tooth, surfaces: readonly Surface[]): FieldClass {
  if (surfaces.includes('V') && !surfaces.some((surface) => isBetweenTeeth(surface) || surface === 'O'))
    return 'cervical'
  if (isAnterior(tooth)) return 'anterior'
  return surfaces.length === 0 || surfaces.some(isBetweenTeeth) ? 'posterior' : 'posterior-small'
}

const isBetweenTeeth = (surface: Surface): boolean => surface === 'M' || surface === 'D'
