import { COMMON, memory, read, type Source } from '../base/source.ts'
import { DEFAULT_POLICY_SET } from '../people/default-policy.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { FieldPolicyId } from './isolation-facts.ts'

export const TOOTH_CLASSES = [
  'central',
  'lateral',
  'canine',
  'premolar',
  'first-molar',
  'second-molar',
  'third-molar',
  'primary-incisor',
  'primary-canine',
  'primary-molar',
] as const
/** What a policy tells apart. */
export type ToothClass = (typeof TOOTH_CLASSES)[number]

const INCISORS = ['central', 'lateral', 'primary-incisor'] as const
const CANINES = ['canine', 'primary-canine'] as const
const FRONT = [...INCISORS, ...CANINES] as const
const MOLARS = ['first-molar', 'second-molar', 'third-molar', 'primary-molar'] as const
const BACK = ['premolar', ...MOLARS] as const
const ALL = TOOTH_CLASSES

/**
 * How far a field reaches to one end. `teeth`: so many standing teeth, gaps passed over. `as far as`: every
 * standing tooth up to a place on the same or the opposite side; `next` goes on to the next standing tooth
 * where none stands at that place. `last`: the last standing tooth.
 */
export type Limit =
  | { kind: 'teeth'; count: number }
  | { kind: 'as-far-as'; place: number; side: 'same' | 'opposite'; next: boolean }
  | { kind: 'last' }

export type AnchorMode = 'working' | 'most-distal' | 'none' | 'ends'

/** What the work does to the tooth, as far as a policy asks. */
export type RowCondition =
  | 'any'
  | 'small'
  | 'mesial-only'
  | 'preparation'
  /** A distal surface, or surfaces nobody has named. */
  | 'maybe-distal'

/** One line of a policy: for these teeth and this work, so far back and so far forward, held so. */
export interface PolicyRow {
  teeth: readonly ToothClass[]
  when: RowCondition
  distal: Limit
  mesial: Limit
  /** Where the source gives a range: its wider end. */
  wide?: { distal: Limit; mesial: Limit }
  anchor: AnchorMode
  source: Source
}

export interface FieldPolicy {
  /** The first row that fits counts. None: the policy says nothing of such a tooth. */
  rows: readonly PolicyRow[]
  slit?: true
  /** The policy's own distal teeth may be third molars, whatever the clinic does otherwise. */
  takesThirdMolars?: true
  wholeArch?: true
}

const teeth = (count: number): Limit => ({ kind: 'teeth', count })
const upTo = (place: number, side: 'same' | 'opposite' = 'same'): Limit => ({
  kind: 'as-far-as',
  place,
  side,
  next: false,
})
const atLeast = (place: number, side: 'same' | 'opposite' = 'same'): Limit => ({
  kind: 'as-far-as',
  place,
  side,
  next: true,
})
const last: Limit = { kind: 'last' }

type Ends = Pick<PolicyRow, 'distal' | 'mesial'>
const alone: Ends = { distal: teeth(0), mesial: teeth(0) }
/** From one place to the same place on the other side. */
const between = (place: number): Ends => ({
  distal: atLeast(place),
  mesial: atLeast(place, 'opposite'),
})

const ENDO = read('AAE via ADA News 11 May 2015; assisting exam review')
const STURDEVANT = memory("Sturdevant's Art & Science of Operative Dentistry, preliminary considerations")
const STURDEVANT_FRONT = read('restatements of Sturdevant; open teaching notes')
const EXAM = read('assisting licensing question sets')
const BLACK = read('G. V. Black, Operative Dentistry 1908, vol 2, pp 70, 89')
const DAVIS = read('Davis, Essentials of Operative Dentistry 1917, p 191')
const MCGEHEE = read('McGehee, operative technic, p 107')
const KIRK = read('Kirk, American Text-Book of Operative Dentistry, p 673')
const SMITHSON = read('Smithson 2024, part 4')
const ISOLATION_CHAPTER = read('Posterior Direct Restorations, chapter "Isolation"')
const SLIT = read('JADA, a simplified rubber-dam technique for indirect restorations')
const PAEDIATRIC = memory('paediatric texts (McDonald and Avery; Pinkham)')

/** The field policies by name. Where authorities differ each stands alone; they are never merged. */
export const FIELD_POLICIES: Record<FieldPolicyId, FieldPolicy> = {
  ENDO_SINGLE: {
    rows: [{ teeth: ALL, when: 'any', ...alone, anchor: 'working', source: ENDO }],
  },
  STURDEVANT_WIDE: {
    rows: [
      { teeth: INCISORS, when: 'any', ...between(4), anchor: 'none', source: STURDEVANT_FRONT },
      { teeth: CANINES, when: 'mesial-only', ...between(4), anchor: 'none', source: STURDEVANT },
      {
        teeth: CANINES,
        when: 'any',
        distal: atLeast(6),
        mesial: upTo(2, 'opposite'),
        anchor: 'most-distal',
        source: STURDEVANT,
      },
      {
        teeth: ['premolar'],
        when: 'any',
        distal: teeth(2),
        mesial: upTo(2, 'opposite'),
        anchor: 'most-distal',
        source: STURDEVANT,
      },
      {
        teeth: MOLARS,
        when: 'any',
        distal: last,
        mesial: upTo(2, 'opposite'),
        anchor: 'most-distal',
        source: STURDEVANT,
      },
    ],
  },
  LIMITED_1D2M: {
    rows: [
      { teeth: BACK, when: 'any', distal: teeth(1), mesial: teeth(2), anchor: 'most-distal', source: EXAM },
    ],
  },
  ASSIST_RANGE: {
    rows: [
      {
        teeth: BACK,
        when: 'any',
        distal: teeth(1),
        mesial: teeth(3),
        wide: { distal: teeth(2), mesial: teeth(4) },
        anchor: 'most-distal',
        source: EXAM,
      },
    ],
  },
  ASSIST_ANT: {
    rows: [{ teeth: FRONT, when: 'any', ...between(3), anchor: 'none', source: EXAM }],
  },
  CARDS_ANT: {
    rows: [
      {
        teeth: FRONT,
        when: 'any',
        ...between(3),
        anchor: 'none',
        source: read('study decks, Operative Dentistry II'),
      },
    ],
  },
  BLACK_1908: {
    rows: [
      { teeth: ['central', 'primary-incisor'], when: 'any', ...between(3), anchor: 'none', source: BLACK },
      { teeth: FRONT, when: 'any', distal: teeth(2), mesial: teeth(2), anchor: 'none', source: BLACK },
      {
        teeth: BACK,
        when: 'any',
        distal: teeth(1),
        mesial: teeth(2),
        wide: { distal: teeth(1), mesial: teeth(3) },
        anchor: 'most-distal',
        source: BLACK,
      },
    ],
  },
  DAVIS_1917: {
    rows: [
      { teeth: FRONT, when: 'any', ...between(4), anchor: 'none', source: DAVIS },
      {
        teeth: ['second-molar'],
        when: 'mesial-only',
        distal: teeth(0),
        mesial: upTo(1),
        anchor: 'most-distal',
        source: DAVIS,
      },
      { teeth: BACK, when: 'any', distal: teeth(1), mesial: upTo(1), anchor: 'most-distal', source: DAVIS },
    ],
  },
  MCGEHEE: {
    takesThirdMolars: true,
    rows: [
      { teeth: FRONT, when: 'any', distal: teeth(2), mesial: teeth(2), anchor: 'none', source: MCGEHEE },
      {
        teeth: ['premolar'],
        when: 'any',
        distal: atLeast(6),
        mesial: upTo(2),
        anchor: 'most-distal',
        source: MCGEHEE,
      },
      {
        teeth: MOLARS,
        when: 'any',
        distal: teeth(2),
        mesial: upTo(4),
        anchor: 'most-distal',
        source: MCGEHEE,
      },
    ],
  },
  HEMIARCH_OPP_CANINE: {
    rows: [
      {
        teeth: BACK,
        when: 'any',
        distal: upTo(7),
        mesial: upTo(3, 'opposite'),
        anchor: 'most-distal',
        source: read('posterior absolute-isolation teaching article 2020'),
      },
    ],
  },
  QUADRANT_POST: {
    rows: [
      { teeth: BACK, when: 'any', distal: last, mesial: upTo(1), anchor: 'most-distal', source: SMITHSON },
    ],
  },
  ANT_P2_P2: {
    rows: [{ teeth: FRONT, when: 'any', ...between(5), anchor: 'none', source: SMITHSON }],
  },
  SECTOR_EXCEPT_SMALL: {
    rows: [
      { teeth: ALL, when: 'small', ...alone, anchor: 'working', source: ISOLATION_CHAPTER },
      { teeth: FRONT, when: 'any', ...between(3), anchor: 'none', source: ISOLATION_CHAPTER },
      {
        teeth: BACK,
        when: 'any',
        distal: last,
        mesial: upTo(3),
        anchor: 'most-distal',
        source: ISOLATION_CHAPTER,
      },
    ],
  },
  VENEER_P2_P2: {
    rows: [
      {
        teeth: [...FRONT, 'premolar'],
        when: 'any',
        ...between(5),
        anchor: 'ends',
        source: read('case report PMC8792124'),
      },
    ],
  },
  PAED_MIN: {
    rows: [
      {
        teeth: ['primary-molar', 'primary-canine', 'primary-incisor'],
        when: 'small',
        ...alone,
        anchor: 'working',
        source: KIRK,
      },
      {
        teeth: ['primary-molar'],
        when: 'maybe-distal',
        distal: teeth(1),
        mesial: teeth(1),
        anchor: 'most-distal',
        source: KIRK,
      },
      {
        teeth: ['primary-molar'],
        when: 'any',
        distal: upTo(5),
        mesial: teeth(1),
        anchor: 'most-distal',
        source: KIRK,
      },
      {
        teeth: ['primary-canine', 'primary-incisor'],
        when: 'any',
        distal: teeth(1),
        mesial: teeth(1),
        anchor: 'none',
        source: KIRK,
      },
    ],
  },
  PAED_QUAD: {
    rows: [
      {
        teeth: ['primary-molar', 'first-molar'],
        when: 'any',
        distal: upTo(6),
        mesial: upTo(3),
        anchor: 'most-distal',
        source: PAEDIATRIC,
      },
    ],
  },
  PAED_ANT: {
    rows: [
      {
        teeth: ['primary-incisor', 'primary-canine'],
        when: 'any',
        ...between(3),
        anchor: 'none',
        source: PAEDIATRIC,
      },
    ],
  },
  SLIT: {
    slit: true,
    rows: [
      {
        teeth: ALL,
        when: 'preparation',
        distal: teeth(1),
        mesial: teeth(1),
        anchor: 'most-distal',
        source: SLIT,
      },
      { teeth: ALL, when: 'any', distal: teeth(1), mesial: teeth(2), anchor: 'most-distal', source: SLIT },
    ],
  },
  SEAL_QUAD: {
    rows: [
      {
        teeth: ['primary-molar'],
        when: 'any',
        distal: teeth(0),
        mesial: upTo(3),
        anchor: 'most-distal',
        source: COMMON,
      },
      {
        teeth: BACK,
        when: 'any',
        distal: teeth(0),
        mesial: atLeast(4),
        anchor: 'most-distal',
        source: COMMON,
      },
    ],
  },
  BLEACH_ARCH: {
    rows: [{ teeth: ALL, when: 'any', distal: teeth(1), mesial: teeth(1), anchor: 'none', source: COMMON }],
  },
  FULL_ARCH: {
    wholeArch: true,
    rows: [
      {
        teeth: ALL,
        when: 'any',
        distal: last,
        mesial: last,
        anchor: 'ends',
        source: read('Dental Update, Splendid isolation, part 2'),
      },
    ],
  },
}

/** Used, with a question, where a named policy says nothing of the tooth. */
export const SILENT_POLICY: Record<'front' | 'back', FieldPolicyId> = {
  front: 'STURDEVANT_WIDE',
  back: 'LIMITED_1D2M',
}

/** The picks of a new clinic, each to be changed by it. */
export const DEFAULT_ISOLATION_POLICY: PolicySet['isolation'] = DEFAULT_POLICY_SET.isolation
