import { COMMON, memory, read, type Source } from '../base/source.ts'

/** Substance families that a tray can bring near a patient. Our own keys; codes are optional. */
export const SUBSTANCES = [
  'latex',
  'rubber-chemicals',
  'sulfites',
  'ester-anaesthetics',
  'amide-anaesthetics',
  'vasoconstrictors',
  'parabens',
  'methacrylates',
  'eugenol',
  'nickel',
  'chlorhexidine',
  'iodine',
  'penicillins',
  'other-antibiotics',
  'anti-inflammatories',
  'colophony',
  'formaldehyde',
  'milk-protein',
  'egg-soya',
  'collagen',
  'flavours',
  'starch-powder',
  'hypochlorite',
  'mercury',
  'silver',
  'lip-care',
  'adhesive-tape',
  'sulfonamides',
  'latex-foods',
  'other',
] as const
export type Substance = (typeof SUBSTANCES)[number]

/**
 * `grave`: anaphylaxis plausible, blocks until the dentist resolves it · `listed`: blocks the listed items,
 * substitute · `caution`: warned of · `told`: no tray item, only information.
 */
export type Gravity = 'grave' | 'listed' | 'caution' | 'told'

export interface SubstanceFamily {
  name: string
  gravity: Gravity
  /** Words by which a member of the family is known: matched by member, never by the family's name alone. */
  members: readonly string[]
  /** What usually takes its place; the dentist decides. Empty where there is none. */
  substitute: string
  source: Source
}

const ASCIA = read('ASCIA, dental environment guide')
const SPECA = read('Speca, Boynes, Cuddy, Dent Clin N Am 2010')
const SYED = read('Syed, JCDR 2015;9(10):ZE04')
const RAMA = read('Rama & Cernadas, Porto Biomed J 2020;5:e090')
const LABEL = read('US label, lidocaine HCl 2 % with epinephrine: composition')
const FDA_2017 = read('FDA Drug Safety Communication, 2 Feb 2017: 52 anaphylaxis cases, 2 deaths')
const ISAKSSON = read('Isaksson 2020, Contact Dermatitis')
const TRADE = memory('dental materials, common teaching')

export const SUBSTANCE_FAMILIES: Record<Substance, SubstanceFamily> = {
  latex: {
    name: 'natural rubber latex',
    gravity: 'grave',
    members: [
      'latex',
      'nrl',
      'natural rubber',
      'hevea',
      'rubber',
      'balloon',
      'balloons',
      'rubber gloves',
      'gloves',
    ],
    substitute: 'an item labelled as made without natural rubber latex',
    source: ASCIA,
  },
  'rubber-chemicals': {
    name: 'rubber chemicals',
    gravity: 'caution',
    members: [
      'thiuram',
      'thiurams',
      'carbamate',
      'carbamates',
      'mercaptobenzothiazole',
      'rubber accelerator',
    ],
    substitute: '',
    source: ISAKSSON,
  },
  sulfites: {
    name: 'sulfites',
    gravity: 'grave',
    members: ['sulfite', 'sulfites', 'sulphite', 'sulphites', 'metabisulfite', 'metabisulphite', 'bisulfite'],
    substitute: 'a solution without vasoconstrictor',
    source: LABEL,
  },
  'ester-anaesthetics': {
    name: 'ester anaesthetics',
    gravity: 'listed',
    members: ['benzocaine', 'tetracaine', 'amethocaine', 'procaine', 'novocaine', 'novocain', 'paba'],
    substitute: 'an amide topical',
    source: SPECA,
  },
  'amide-anaesthetics': {
    name: 'amide anaesthetics',
    gravity: 'grave',
    members: [
      'lidocaine',
      'lignocaine',
      'xylocaine',
      'mepivacaine',
      'articaine',
      'prilocaine',
      'bupivacaine',
      'local anaesthetic',
      'local anaesthetics',
      'local anesthetic',
      'local anesthetics',
    ],
    substitute: '',
    source: SPECA,
  },
  vasoconstrictors: {
    name: 'epinephrine',
    gravity: 'grave',
    members: ['epinephrine', 'adrenaline', 'adrenalin', 'levonordefrin'],
    substitute: 'a solution without vasoconstrictor',
    source: TRADE,
  },
  parabens: {
    name: 'methylparaben',
    gravity: 'listed',
    members: ['paraben', 'parabens', 'methylparaben'],
    substitute: 'a single-dose cartridge',
    source: read('Cleveland Clinic, Pharmacotherapy Update 2001'),
  },
  methacrylates: {
    name: 'methacrylates',
    gravity: 'listed',
    members: [
      'methacrylate',
      'methacrylates',
      'hema',
      'tegdma',
      'bis-gma',
      'acrylate',
      'acrylates',
      'acrylic',
    ],
    substitute: 'glass ionomer without resin, or a cured indirect piece; no touching',
    source: SYED,
  },
  eugenol: {
    name: 'eugenol',
    gravity: 'listed',
    members: ['eugenol', 'clove', 'clove oil'],
    substitute: 'a zinc oxide cement without eugenol',
    source: SYED,
  },
  nickel: {
    name: 'nickel, chromium, cobalt',
    gravity: 'caution',
    members: ['nickel', 'chromium', 'chrome', 'cobalt'],
    substitute: 'a clamp and frame that are not metal, or floss and wedges',
    source: RAMA,
  },
  chlorhexidine: {
    name: 'chlorhexidine',
    gravity: 'grave',
    members: ['chlorhexidine', 'chlorhexidin'],
    substitute: 'another antiseptic that the dentist names',
    source: FDA_2017,
  },
  iodine: {
    name: 'iodine',
    gravity: 'listed',
    members: ['iodine', 'povidone', 'povidone-iodine'],
    substitute: 'another antiseptic that the dentist names',
    source: TRADE,
  },
  penicillins: {
    name: 'penicillins',
    gravity: 'grave',
    members: ['penicillin', 'penicillins', 'amoxicillin', 'amoxycillin', 'ampicillin', 'flucloxacillin'],
    substitute: '',
    source: RAMA,
  },
  'other-antibiotics': {
    name: 'other antibiotics',
    gravity: 'listed',
    members: [
      'clindamycin',
      'erythromycin',
      'azithromycin',
      'clarithromycin',
      'tetracycline',
      'doxycycline',
      'minocycline',
      'metronidazole',
      'ciprofloxacin',
      'cephalosporin',
      'cefalexin',
      'cephalexin',
    ],
    substitute: '',
    source: TRADE,
  },
  'anti-inflammatories': {
    name: 'aspirin and its kind',
    gravity: 'grave',
    members: ['aspirin', 'ibuprofen', 'naproxen', 'diclofenac', 'nsaid', 'nsaids'],
    substitute: '',
    source: RAMA,
  },
  colophony: {
    name: 'colophony (rosin)',
    gravity: 'listed',
    members: ['colophony', 'rosin', 'pine resin'],
    substitute: 'a fluoride gel, foam or varnish without rosin',
    source: TRADE,
  },
  formaldehyde: {
    name: 'formaldehyde',
    gravity: 'listed',
    members: ['formaldehyde', 'formalin', 'formocresol', 'paraformaldehyde'],
    substitute: 'a calcium silicate or ferric sulfate dressing',
    source: SYED,
  },
  'milk-protein': {
    name: "cow's milk protein",
    gravity: 'grave',
    members: ['milk', 'casein', "cow's milk", 'dairy'],
    substitute: 'a fluoride paste without casein',
    source: TRADE,
  },
  'egg-soya': {
    name: 'egg and soya',
    gravity: 'told',
    members: ['egg', 'eggs', 'soya', 'soy'],
    substitute: '',
    source: TRADE,
  },
  collagen: {
    name: 'gelatine and animal collagen',
    gravity: 'listed',
    members: ['gelatin', 'gelatine', 'collagen', 'porcine', 'bovine'],
    substitute: 'oxidised cellulose',
    source: TRADE,
  },
  flavours: {
    name: 'nuts, mint, cinnamon and flavours',
    gravity: 'caution',
    members: [
      'mint',
      'peppermint',
      'menthol',
      'cinnamon',
      'hazelnut',
      'walnut',
      'tree nut',
      'tree nuts',
      'nuts',
    ],
    substitute: 'an unflavoured item',
    source: RAMA,
  },
  'starch-powder': {
    name: 'glove and dam powder',
    gravity: 'caution',
    members: ['cornstarch', 'corn starch', 'glove powder', 'dam powder'],
    substitute: 'a powder-free item',
    source: read('CDC dental FAQ, Contact Dermatitis and Latex Allergy'),
  },
  hypochlorite: {
    name: 'sodium hypochlorite',
    gravity: 'listed',
    members: ['hypochlorite', 'bleach'],
    substitute: 'another irrigant that the dentist names',
    source: SYED,
  },
  mercury: {
    name: 'amalgam and mercury',
    gravity: 'listed',
    members: ['mercury', 'amalgam'],
    substitute: 'resin or glass ionomer',
    source: SYED,
  },
  silver: {
    name: 'silver',
    gravity: 'listed',
    members: ['silver'],
    substitute: 'another way to arrest the lesion, dentist to decide',
    source: TRADE,
  },
  'lip-care': {
    name: 'lanolin, alcohol and dyes',
    gravity: 'caution',
    members: ['lanolin', 'wool fat', 'alcohol wipe', 'dye', 'dyes'],
    substitute: 'another lip cream or swab',
    source: COMMON,
  },
  'adhesive-tape': {
    name: 'plasters and adhesive tape',
    gravity: 'caution',
    members: ['plaster', 'plasters', 'adhesive', 'adhesive tape', 'sticking plaster'],
    substitute: 'paper or silk tape',
    source: ASCIA,
  },
  sulfonamides: {
    name: 'sulfonamide antibiotics',
    gravity: 'told',
    members: ['sulfa', 'sulpha', 'sulfonamide', 'sulphonamide', 'sulfamethoxazole', 'co-trimoxazole'],
    substitute: '',
    source: TRADE,
  },
  'latex-foods': {
    name: 'foods that go with latex',
    gravity: 'told',
    members: [
      'banana',
      'bananas',
      'avocado',
      'avocados',
      'kiwi',
      'kiwis',
      'chestnut',
      'chestnuts',
      'papaya',
      'passion fruit',
    ],
    substitute: '',
    source: read('Perkin 2000, J Am Diet Assoc: banana, avocado, kiwi, chestnut'),
  },
  other: { name: 'something else', gravity: 'told', members: [], substitute: '', source: COMMON },
}

const quoted = (word: string): string => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')
const PATTERNS = SUBSTANCES.filter((key) => SUBSTANCE_FAMILIES[key].members.length > 0).map((substance) => ({
  substance,
  pattern: new RegExp(
    `(?<![\\p{L}-])(?:${SUBSTANCE_FAMILIES[substance].members.map(quoted).join('|')})(?![\\p{L}])`,
    'iu',
  ),
}))

/** Families with a member named in a text, in the order of the table. */
export const substancesIn = (text: string): Substance[] =>
  PATTERNS.filter(({ pattern }) => pattern.test(text)).map(({ substance }) => substance)

const KNOWN: ReadonlySet<string> = new Set(SUBSTANCES)
export const isSubstance = (text: string): text is Substance => KNOWN.has(text)
/** A family by its key; what we do not know is `other`. */
export const substanceOf = (key: string): Substance => (isSubstance(key) ? key : 'other')
