import { describe, expect, it, test } from 'vitest'
import { readStatement } from '#shared/allergies/statement.ts'
import { SUBSTANCE_FAMILIES, SUBSTANCES } from '#shared/allergies/substance.ts'

/** Every family by its first member, in every phrasing; `S` stands for it. What each says was judged before (COMMON). */
const FAMILIES = SUBSTANCES.flatMap((substance) => {
  const [member] = SUBSTANCE_FAMILIES[substance].members
  return member === undefined ? [] : [{ substance, member }]
})
const TOLD: readonly string[] = [
  ...[
    'S',
    'allergic to S',
    'S allergy',
    'S - yes',
    'S: yes',
    'S: rash',
    'S ?',
    '? S allergy',
    '?allergic to S',
  ],
  ...[
    'possible S allergy',
    'query S',
    'S intolerance',
    'anaphylaxis to S',
    'S anaphylaxis 2010',
    'reacts to S',
  ],
  ...['S sensitivity', 'avoid S', 'no S please', 'S - avoid', 'confirmed S allergy, carries epipen'],
  ...['no known allergies except S', 'NKDA except S', 'NKA apart from S', 'NKDA. S: hives', 'NKDA, S'],
  ...['allergies: S', 'Allergies - S, others nil', 'not S free', 'cannot have S', "can't tolerate S"],
  ...['S makes me itch', 'S (childhood)', 'told allergic to S as child', 'mum says allergic to S'],
  ...['patient unsure re S', 'S allergy not confirmed', 'S allergy unconfirmed', 'S IgE positive'],
  ...['S patch test positive', 'no S allergy? check', 'nil else, S rash'],
]
const DENIED: readonly string[] = [
  ...['not allergic to S', 'no S allergy', 'denies S allergy', 'denies allergy to S', 'S allergy: no'],
  ...['S allergy - no', 'S allergy – none', 'no known S allergy', 'no allergy to S', 'NOT ALLERGIC TO S'],
  ...['never had S allergy', 'S allergy denied'],
]
/** An order, someone else's, gone by, a test: never an answer that there is none. */
const NO_ANSWER: readonly string[] = [
  ...[
    'S: no',
    'S no',
    'no S',
    'S free',
    'S-free',
    'S ok',
    'S gloves ok',
    'tolerates S',
    'had S before, no problem',
  ],
  ...['mother allergic to S', 'sister has S allergy', 'family history of S allergy', 'outgrown S allergy'],
  ...[
    'S allergy resolved',
    'S allergy as a child, now ok',
    'S allergy ruled out by testing',
    'S IgE negative',
  ],
  ...['S skin prick negative', 'S patch test booked', 'tested for S, negative', 'S taken off allergy list'],
  ...['no S allergy in family', 'S allergy - no record', 'S allergy - no longer'],
]
const say = (phrase: string, member: string): string => phrase.replace('S', () => member)

describe('an allergy as it is typed, of every family of substances', () => {
  it.each(TOLD)('“%s” asks about it', (phrase) => {
    for (const { substance, member } of FAMILIES) {
      const reading = readStatement(say(phrase, member))
      expect(reading.kind === 'possible' ? reading.substances : reading.kind, member).toContain(substance)
    }
  })
  it.each(DENIED)('“%s” denies it, and nothing more', (phrase) => {
    for (const { substance, member } of FAMILIES) {
      const reading = readStatement(say(phrase, member))
      expect(reading.kind, member).toBe('denies')
      const of = reading.kind === 'denies' && typeof reading.of !== 'string' ? reading.of : []
      expect(of, member).toContain(substance)
    }
  })
  it.each(NO_ANSWER)('“%s” never answers that there is none', (phrase) => {
    for (const { member } of FAMILIES)
      expect(['possible', 'unread', 'test', 'preference'], member).toContain(
        readStatement(say(phrase, member)).kind,
      )
  })
})

describe('lists and other words', () => {
  test.each([
    ['allergic to penicillin not latex', 'penicillins'],
    ['allergic to latex not penicillin', 'latex'],
    ['latex: no, penicillin: yes', 'penicillins'],
    ['latex - yes', 'latex'],
    ['latex yes penicillin no', 'latex'],
    ['NKDA but reacts to latex gloves', 'latex'],
    ['no allergies to drugs; gloves make hands red', 'latex'],
    ['no meds allergies. plaster rash', 'adhesive-tape'],
    ['NKDA, eggs', 'egg-soya'],
    ['cephalosporins', 'other-antibiotics'],
    ['local anaesthetics', 'amide-anaesthetics'],
    ['adrenaline sensitive', 'vasoconstrictors'],
    ['condom rash', 'latex'],
    ['rubber bands', 'latex'],
    ['washing up gloves', 'latex'],
    ['kiwi + banana', 'latex-foods'],
  ])('“%s” asks about %s', (text, substance) => {
    const reading = readStatement(text)
    expect(reading.kind === 'possible' ? reading.substances : reading.kind).toContain(substance)
  })
  test.each([
    ...[
      'not known',
      'unknown',
      'not asked',
      'n/a',
      'NAD',
      'hayfever',
      'no allergies except hayfever',
      'NKDA, hayfever',
    ],
    ...[
      'no allergies, hayfever',
      'no allergies but asthma',
      'none (hay fever)',
      'no new allergies',
      'YES - see notes',
    ],
    ...[
      'denies allergies, takes antihistamines',
      'no change to allergies',
      'no allergies recorded',
      'codeine',
    ],
    ...['allergies not recorded', 'no allergy info', 'dental injection allergy', 'multiple', 'sulphur'],
  ])('“%s” is no denial', (text) => expect(readStatement(text).kind).not.toBe('denies'))
})
