import { type Cited, COMMON, memory, read } from '../base/source.ts'
import { dentitionOf, type Tooth } from '../teeth/tooth.ts'
import type { KitKey } from '../trays/tray.ts'
import type { NeedOfIsolation, ProcedureKind } from './work.ts'

export const ANAESTHESIA_DEFAULTS = ['usual', 'seldom', 'none'] as const
/** What is expected until the dentist says: an injection usually, seldom or not. */
export type AnaesthesiaDefault = (typeof ANAESTHESIA_DEFAULTS)[number]

/** One kind of work as a day list may book it. */
export interface Procedure {
  name: string
  /** How strongly isolation is called for, in the cited work. See `needOf` for primary teeth. */
  need: Cited<NeedOfIsolation>
  /** The source accepts another way to keep the field dry; elsewhere that takes the dentist's reason. */
  alternativeAllowed: boolean
  /** Chair time booked by default; common practice, the clinic's to change. */
  minutes: number
  anaesthesia: AnaesthesiaDefault
  /** Its own kits. The dam's and the anaesthetic's kits follow from the plan and the intent. */
  kits: readonly KitKey[]
  /** The pulp may feel it: the tooth itself is tested before the start, not the gum alone. */
  pulpal: boolean
}

const AAE = read('AAE position on dental dams, as reported in ADA News, 11 May 2015')
const VITAL = read('Patel & Hamer, Br Dent J 2021;230:644–650')
const SALTZMAN = read('Saltzman, teaching article on the paediatric rubber dam')
const STURDEVANT = read(
  "Sturdevant's Art & Science of Operative Dentistry, preliminary considerations (restated)",
)
const AAPD_PULP = memory('AAPD best practices, pulp therapy for primary teeth, 2020')
const ADHESIVE = read(
  'Romero et al, Decisions in Dentistry, November 2019; teaching article on isolation, 2020',
)
const SLIT = read('JADA, a simplified rubber-dam technique for indirect restorations')

const need = (value: NeedOfIsolation, source = COMMON): Cited<NeedOfIsolation> => ({ value, source })

type Rest = Partial<Omit<Procedure, 'name' | 'need' | 'minutes'>>
const procedure = (
  name: string,
  needed: Cited<NeedOfIsolation>,
  minutes: number,
  rest: Rest = {},
): Procedure => ({
  name,
  need: needed,
  minutes,
  alternativeAllowed: needed.value === 'optional' || needed.value === 'barrier',
  anaesthesia: 'usual',
  kits: ['examination'],
  pulpal: false,
  ...rest,
})

const endodontic: Rest = { kits: ['examination', 'root-canal'], pulpal: true }
const filling: Rest = { kits: ['examination', 'direct-composite'], pulpal: true }
const cementing: Rest = { kits: ['examination', 'bonded-indirect'], pulpal: true }
const quiet: Rest = { anaesthesia: 'none' }

/** Every kind of work we know by name. */
export const CATALOGUE: Record<ProcedureKind, Procedure> = {
  'root-canal': procedure('root canal', need('required', AAE), 90, endodontic),
  retreatment: procedure('root canal retreatment', need('required', AAE), 90, endodontic),
  regenerative: procedure(
    'regenerative endodontics',
    need('required', memory('AAE clinical considerations for regenerative procedures')),
    90,
    endodontic,
  ),
  'apical-surgery': procedure(
    'apical surgery',
    need('not-needed', memory('endodontic texts: drape and flap')),
    90,
  ),
  'pulp-cap': procedure('pulp cap', need('required', VITAL), 60, {
    ...filling,
    kits: ['examination', 'pulpotomy', 'direct-composite'],
  }),
  'pulp-extirpation': procedure('pulp extirpation', need('required', AAE), 45, endodontic),
  'root-canal-dressing': procedure('root canal dressing', need('required', AAE), 45, endodontic),
  pulpotomy: procedure('pulpotomy', need('required', VITAL), 45, {
    kits: ['examination', 'pulpotomy'],
    pulpal: true,
  }),
  pulpectomy: procedure('pulpectomy', need('required', AAE), 60, {
    kits: ['examination', 'root-canal'],
    pulpal: true,
  }),
  'post-and-core': procedure(
    'post and core',
    need('strongly-advised', read('Goldfein et al, J Endod 2013;39:1481–1484')),
    60,
    { kits: ['examination', 'root-canal', 'direct-composite'] },
  ),
  'deep-caries': procedure('deep caries removal', need('strongly-advised', STURDEVANT), 60, {
    ...filling,
    kits: ['examination', 'pulpotomy', 'direct-composite'],
  }),
  'direct-composite': procedure('composite filling', need('strongly-advised', VITAL), 45, filling),
  'cervical-composite': procedure(
    'cervical filling',
    need('preferred', read('Oper Dent 2015;40(6):581: dam equal to cotton rolls and cord')),
    30,
    { ...filling, alternativeAllowed: true },
  ),
  'glass-ionomer': procedure(
    'glass-ionomer filling',
    need('optional', read('Braz Oral Res, dam trial on resin-modified ionomer in primary molars')),
    30,
    filling,
  ),
  'resin-sealant': procedure(
    'fissure sealant',
    need('preferred', read('Evid Based Dent 2024, s41432-024-01092-6')),
    30,
    { anaesthesia: 'seldom', kits: ['examination', 'sealant'], alternativeAllowed: true },
  ),
  'glass-ionomer-sealant': procedure(
    'glass-ionomer sealant',
    need('optional', memory('ADA sealant panel, JADA 2008;139:257–268')),
    20,
    { anaesthesia: 'none', kits: ['examination', 'sealant'] },
  ),
  'bonded-indirect': procedure(
    'bonded inlay, onlay or crown',
    need('strongly-advised', ADHESIVE),
    60,
    cementing,
  ),
  veneer: procedure('bonding veneers', need('strongly-advised', ADHESIVE), 90, cementing),
  'conventional-cementation': procedure('cementing with a water-based cement', need('optional'), 30, {
    ...cementing,
    anaesthesia: 'seldom',
  }),
  'crown-preparation': procedure('crown preparation', need('optional', SLIT), 75, { pulpal: true }),
  'amalgam-placement': procedure(
    'amalgam filling',
    need('preferred', read('teaching article on absolute isolation, 2020')),
    45,
    { pulpal: true },
  ),
  'amalgam-removal': procedure(
    'amalgam removal',
    need('strongly-advised', read('Nimmo et al, J Prosthet Dent 1990;63:228–233')),
    45,
    { kits: ['examination', 'amalgam-removal', 'direct-composite'], pulpal: true },
  ),
  'direct-gold': procedure(
    'direct gold filling',
    need('required', read('instruction sheet of an academy of gold-foil operators')),
    120,
    { pulpal: true },
  ),
  'in-office-bleaching': procedure(
    'bleaching in the chair',
    need('barrier', read('bleaching quick reference 2018, s41894-018-0021-9')),
    75,
    { anaesthesia: 'none', kits: ['examination', 'bleaching'] },
  ),
  'internal-bleaching': procedure(
    'internal bleaching',
    need('strongly-advised', memory('endodontic texts: dam on the treated tooth')),
    45,
    { anaesthesia: 'seldom', kits: ['examination', 'root-canal', 'bleaching'] },
  ),
  microabrasion: procedure(
    'microabrasion',
    need('strongly-advised', memory('acid is kept off the gum')),
    45,
    { anaesthesia: 'seldom', kits: ['examination', 'sealant'] },
  ),
  'resin-infiltration': procedure(
    'resin infiltration',
    need('strongly-advised', memory('acid is kept off the gum')),
    45,
    { anaesthesia: 'seldom', kits: ['examination', 'sealant'] },
  ),
  'steel-crown': procedure('preformed metal crown', need('preferred', SALTZMAN), 45, { pulpal: true }),
  'steel-crown-no-preparation': procedure(
    'preformed metal crown without preparation',
    need('not-needed', read('Trials 2016;17:169, table 2')),
    30,
    quiet,
  ),
  'silver-fluoride': procedure(
    'silver fluoride',
    need('not-needed', memory('AAPD, silver diamine fluoride')),
    15,
    quiet,
  ),
  'fluoride-varnish': procedure('fluoride varnish', need('not-needed'), 15, quiet),
  'bracket-bonding': procedure('bonding brackets', need('not-needed'), 60, quiet),
  'temporary-filling': procedure('temporary filling', need('optional'), 20, { anaesthesia: 'seldom' }),
  recementation: procedure('recementing a crown', need('optional'), 30, {
    ...cementing,
    anaesthesia: 'seldom',
    pulpal: false,
  }),
  'crown-removal': procedure('removing a crown', need('optional'), 30),
  'band-or-space-maintainer': procedure('band or space maintainer', need('not-needed'), 30, quiet),
  impression: procedure('impression', need('not-needed'), 30, quiet),
  exam: procedure('check-up', need('not-needed'), 20, quiet),
  cleaning: procedure('cleaning', need('not-needed'), 30, quiet),
  scaling: procedure('scaling', need('not-needed'), 45, { anaesthesia: 'seldom' }),
  extraction: procedure('extraction', need('not-needed'), 45),
  implant: procedure('implant surgery', need('not-needed'), 90),
  denture: procedure('denture', need('not-needed'), 30, quiet),
  other: procedure('other work', need('undetermined'), 30, { anaesthesia: 'seldom' }),
}

const PULP_OF_PRIMARY: readonly string[] = ['pulpotomy', 'pulpectomy', 'pulp-cap', 'deep-caries']

/** The need of isolation of this work on these teeth: for pulp treatment of primary teeth by the AAPD's rule. */
export function needOf(
  kind: ProcedureKind | 'undetermined',
  teeth: readonly Tooth[],
): Cited<NeedOfIsolation> {
  if (kind === 'undetermined') return need('undetermined')
  return isPulpOfPrimary(kind, teeth) ? need('strongly-advised', AAPD_PULP) : CATALOGUE[kind].need
}

/** Whether another way to keep the field dry is accepted by the source for this work on these teeth. */
export const isAlternativeAllowed = (
  kind: ProcedureKind | 'undetermined',
  teeth: readonly Tooth[],
): boolean => kind !== 'undetermined' && (CATALOGUE[kind].alternativeAllowed || isPulpOfPrimary(kind, teeth))

const isPulpOfPrimary = (kind: ProcedureKind, teeth: readonly Tooth[]): boolean =>
  PULP_OF_PRIMARY.includes(kind) &&
  teeth.length > 0 &&
  teeth.every((tooth) => dentitionOf(tooth) === 'primary')

/** The name of a kind of work in words. */
export const nameWork = (kind: ProcedureKind | 'undetermined'): string =>
  kind === 'undetermined' ? 'work not yet named' : CATALOGUE[kind].name
