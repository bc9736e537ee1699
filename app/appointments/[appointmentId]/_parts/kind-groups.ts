import { CATALOGUE } from '#shared/procedures/catalogue.ts'
import type { ProcedureKind } from '#shared/procedures/work.ts'

/** Kinds of work as a dentist looks for them: what is done to the tooth, the commoner first. */
export const KIND_GROUPS: readonly { title: string; kinds: readonly ProcedureKind[] }[] = [
  {
    title: 'Root canals and pulp',
    kinds: [
      'root-canal',
      'retreatment',
      'root-canal-dressing',
      'pulp-extirpation',
      'pulp-cap',
      'pulpotomy',
      'pulpectomy',
      'regenerative',
      'apical-surgery',
    ],
  },
  {
    title: 'Fillings',
    kinds: [
      'direct-composite',
      'cervical-composite',
      'glass-ionomer',
      'amalgam-placement',
      'amalgam-removal',
      'deep-caries',
      'temporary-filling',
      'post-and-core',
      'direct-gold',
    ],
  },
  {
    title: 'Crowns and bonded work',
    kinds: [
      'bonded-indirect',
      'veneer',
      'crown-preparation',
      'conventional-cementation',
      'recementation',
      'crown-removal',
      'steel-crown',
      'steel-crown-no-preparation',
    ],
  },
  {
    title: 'Prevention and colour',
    kinds: [
      'resin-sealant',
      'glass-ionomer-sealant',
      'fluoride-varnish',
      'silver-fluoride',
      'resin-infiltration',
      'microabrasion',
      'in-office-bleaching',
      'internal-bleaching',
    ],
  },
  {
    title: 'All else',
    kinds: [
      'exam',
      'cleaning',
      'scaling',
      'impression',
      'extraction',
      'implant',
      'denture',
      'bracket-bonding',
      'band-or-space-maintainer',
      'other',
    ],
  },
]

/** The groups with the kinds whose name holds each of the typed words; all of them for no words. */
export function kindsNamed(text: string): typeof KIND_GROUPS {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean)
  return KIND_GROUPS.map(({ title, kinds }) => ({
    title,
    kinds: kinds.filter((kind) => words.every((word) => CATALOGUE[kind].name.toLowerCase().includes(word))),
  })).filter(({ kinds }) => kinds.length > 0)
}

/** Fillings are told by their surfaces; the rest takes the whole tooth. */
export const hasSurfaces = (kind: ProcedureKind | null): boolean =>
  kind !== null && (KIND_GROUPS[1]?.kinds.includes(kind) ?? false)
