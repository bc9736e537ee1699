import type { Rule } from '../base/rule.ts'
import { COMMON, memory, read } from '../base/source.ts'
import type { TeethFinding } from './findings.ts'

const NAMING = ['work.name'] as const
const NOTATION = read(
  'HL7 v3-Dentition and ex-tooth: 18 numbers are legal in ISO 3950 and in Universal, never for one tooth',
)
const ERUPTION = read('ADA tooth eruption charts; the margins are common practice')
const WRONG_TOOTH = read('Cullingham, Saksena, Pemberton, BDJ 2017: checklist, site mark, cross-checking')
const UNIVERSAL_PROTOCOL = read('Joint Commission Universal Protocol: differences settled before the start')

const ask = (answeredBy: readonly string[], source: Rule['source'], more: Partial<Rule> = {}) =>
  ({
    next: 'dentist',
    answeredBy,
    check: 'plan',
    gate: 'inject',
    policy: null,
    source,
    never: 'tooth',
    ...more,
    level: 'ask',
  }) satisfies Rule
const note = (source: Rule['source']) =>
  ({
    level: 'note',
    next: 'dentist',
    answeredBy: [],
    check: 'plan',
    gate: null,
    policy: null,
    source,
  }) satisfies Rule
const refusal = (answeredBy: readonly string[]) =>
  ({
    level: 'stop',
    next: 'dentist',
    answeredBy,
    check: null,
    gate: null,
    policy: null,
    source: COMMON,
  }) satisfies Rule

export const TEETH_RULES = {
  'tooth/ambiguous': ask(NAMING, NOTATION, { policy: 'clinic.notation' }),
  'tooth/words-contradict': ask(NAMING, NOTATION),
  'tooth/unread': ask(NAMING, COMMON),
  'tooth/sources-disagree': ask(NAMING, UNIVERSAL_PROTOCOL),
  'tooth/referral-missing': ask(['work.mention', 'work.name'], WRONG_TOOTH, { next: 'front-desk' }),
  'tooth/image-mirrored': ask(['visit.read-back'], WRONG_TOOTH),
  'tooth/missing-from-plan': note(COMMON),
  'tooth/implausible-at-age': ask(['mouth.chart', 'work.name'], ERUPTION),
  'tooth/predecessor-present': ask(['mouth.chart', 'work.name'], ERUPTION),
  'tooth/not-standing': ask(['mouth.chart', 'work.name'], COMMON),
  'tooth/which-molar': ask(
    ['mouth.chart'],
    read('letters on molar naming: say which molar is the first standing one'),
  ),
  'tooth/first-standing-molar': note(
    read('letters on molar naming: say which molar is the first standing one'),
  ),
  'tooth/look-alike': note(memory('teeth are marked or counted before the dam and again through it')),
  'mouth/contradicts-itself': refusal(['mouth.chart']),
  'mouth/width-unlikely': refusal(['mouth.measure']),
  'mouth/span-not-there': refusal(['mouth.measure']),
  'mouth/no-patient': refusal(['appointment.change']),
} satisfies Record<TeethFinding['rule'], Rule>
