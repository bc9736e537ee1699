import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readStatement } from '#shared/allergies/statement.ts'
import { SUBSTANCE_FAMILIES, SUBSTANCES, substancesIn } from '#shared/allergies/substance.ts'

/**
 * Statements as people write them. Source of the screening questions: CDA position statement 2005/2012, ask about
 * balloons and rubber gloves (READ); negation, spelling and idiom COMMON.
 */
const LATEX: [string, ReturnType<typeof readStatement>['kind'], boolean][] = [
  ['sensitive to gloves', 'possible', true],
  ['rubber makes her itch', 'possible', true],
  ['lip swelled w/ balloons', 'possible', true],
  ["can't wear plasters", 'possible', true],
  ['can’t wear plasters', 'possible', true],
  ['NO latex allergy', 'denies', false],
  ['allergic to late fees', 'idiom', false],
  ['Latex', 'possible', true],
  ['allergic to LATEX', 'possible', true],
  ['laytex - rash', 'possible', true],
  ['latext allergy', 'possible', true],
  ['lattex', 'possible', true],
  ['hives from rubber gloves', 'possible', true],
  ['reacts to condoms', 'possible', true],
  ['itchy lips under dam', 'possible', true],
  ['avoid latex', 'possible', true],
  ['no latex please', 'possible', true],
  ['no latex gloves', 'possible', true],
  ['cannot tolerate rubber', 'possible', true],
  ['used to react to latex', 'possible', true],
  ['denies latex allergy', 'denies', false],
  ['not allergic to latex', 'denies', false],
  ['no known latex allergy', 'denies', false],
  ['no allergy to penicillin but latex gives her hives', 'possible', true],
  ['no drug allergies, latex: hives', 'possible', true],
  ['no penicillin allergy; allergic to latex', 'possible', true],
  ['latex IgE ordered', 'test', false],
  ['latex IgE positive', 'possible', true],
  ['prefers latex-free (not allergic)', 'preference', false],
  ['would like no latex, not allergic', 'preference', false],
  ['not sure about latex', 'possible', true],
  ["don't know about latex", 'possible', true],
  ['never tested for latex', 'possible', true],
  ['NKDA', 'denies', false],
  ['nkda', 'denies', false],
  ['no drug allergies', 'denies', false],
  ['no known drug allergies', 'denies', false],
  ['NKA', 'denies', false],
  ['none', 'denies', false],
  ['None known.', 'denies', false],
  ['', 'empty', false],
  ['-', 'empty', false],
  ['n/k', 'unread', false],
  ['allergic to Mondays', 'idiom', false],
  ['allergic to mornings', 'idiom', false],
  ['see letter', 'unread', false],
  ['gloves in size M', 'possible', true],
]

describe('what a statement says of latex', () => {
  it.each(LATEX)('“%s” is %s, asks about latex: %s', (text, kind, latex) => {
    const reading = readStatement(text)
    expect(reading.kind).toBe(kind)
    const asks = reading.kind === 'possible' && reading.substances.includes('latex')
    expect(asks).toBe(latex)
  })
  it('NKDA speaks of drugs only', () => {
    expect(readStatement('NKDA')).toEqual({ kind: 'denies', of: 'drugs' })
    expect(readStatement('no drug allergies')).toEqual({ kind: 'denies', of: 'drugs' })
    expect(readStatement('NKDA, no food allergies')).not.toEqual({ kind: 'denies', of: 'everything' })
  })
  it('a denial of latex says latex and nothing more', () => {
    expect(readStatement('NO latex allergy')).toEqual({ kind: 'denies', of: ['latex'] })
  })
})

/**
 * Warnings that hold a negation, and denials with something behind them: each asks about latex (COMMON, except
 * where named). A denial is a text that consists of denials and of nothing else.
 */
const ASKS_LATEX = [
  // orders and warnings, not denials
  ...['NO LATEX', 'LATEX!!!', 'no latex dam', 'not latex', 'not OK with latex', 'latex not to be used'],
  ...[
    'no rubber near her mouth',
    'never again latex',
    'latex free please',
    'non-latex only',
    'DO NOT use latex',
  ],
  ...[
    "doesn't tolerate rubber",
    "isn't able to wear latex gloves",
    'must not have latex',
    'can’t have latex',
  ],
  ...['no to penicillin yes to latex', 'Allergies: no latex', 'latex: no', 'latex no', 'no latex allergic'],
  // what is told outweighs what is denied, whatever turns the sentence
  ...['no known allergies (latex rash as child)', 'No known allergies except latex', 'NKA apart from latex'],
  ...[
    'No known latex allergy - lips swell with dam',
    'no allergies other than balloons',
    'NKA; rubber: hives',
  ],
  ...['no allergies only latex', 'no allergies bar latex', 'not allergic to anything but latex'],
  ...['not allergic to penicillin allergic to latex', 'no latex allergy. Reacts to gloves', 'NKDA - latex'],
  ...[
    'no latex allergy, itchy lips',
    'no latex allergy, gets a rash',
    'latex allergy? no. Swelling with dam',
  ],
  ...['no latex: allergic', 'no latex (allergic)', 'no latex, allergy', 'no latex allergy to penicillin'],
  ...['no latex penicillin allergy', 'no latex and penicillin allergy', 'no latex, penicillin allergy'],
  ...['prefers latex-free, gets hives from gloves', 'prefers no latex because of rash'],
  // gone by, of someone else, in doubt, or no answer
  ...[
    'no longer allergic to latex',
    'outgrown latex allergy',
    'no latex allergy in family',
    'no latex allergy?',
  ],
  ...['cannot rule out latex allergy', 'latex allergy not excluded', 'never tested for latex allergy'],
  ...[
    'latex allergy: not known',
    'no known allergies to date: latex',
    'fine with latex',
    'no problem with latex',
  ],
  // slips of spelling
  ...[
    'latix',
    'latec',
    'Latexx',
    'laytex',
    'lattex',
    'latx',
    'lateks',
    'NRL',
    'látex',
    'rubbber gloves - rash',
  ],
  // a reaction to something of rubber or stuck on the skin
  ...[
    'sticking plaster rash',
    'itchy under dam',
    'dam made lips tingle',
    'catheter reaction',
    'condoms burn',
  ],
  // class 1 and above of specific IgE is a positive result
  ...[
    'latex IgE class 3',
    'latex IgE raised',
    'latex RAST 3.2 kU/L',
    'latex patch test +++',
    'latex IgE 0.9',
  ],
  ...[
    'latex IgE requested after rash',
    'latex IgE negative but reacts to gloves',
    'latex skin prick: positive',
  ],
]
it.each(ASKS_LATEX)('“%s” asks about latex', (text) => {
  const reading = readStatement(text)
  expect(reading.kind === 'possible' ? reading.substances : reading.kind).toContain('latex')
})

const DENIALS: [string, Extract<ReturnType<typeof readStatement>, { kind: 'denies' }>['of']][] = [
  ...[
    'nil',
    'nil known',
    'N.K.A.',
    'n k a',
    'no allergies',
    'denies any allergies',
    'pt denies allergies',
  ].map(everything),
  ...[
    'Mother reports no known allergies',
    'does not have any allergies',
    'Allergy: none',
    'allergies - nil',
  ].map(everything),
  ...['not allergic to anything', 'no known alergies', 'none known, asked 2026-03-02', 'no allergy(ies)'].map(
    everything,
  ),
  ['N.K.D.A.', 'drugs'],
  ['nka/nkda', 'drugs'],
  ['Allergies: NKDA', 'drugs'],
  ['no known allergies to medications', 'drugs'],
  ['no known food allergies', 'food'],
  ['NKLA', ['latex']], // HL7 FHIR core example "nkla", READ
  ['denies latex', ['latex']],
  ['no h/o latex allergy', ['latex']],
  ['not alergic to latex', ['latex']],
  ['not latex allergic', ['latex']],
  ["isn't allergic to latex or rubber", ['latex']],
  ["doesn't have a latex allergy", ['latex']],
  ['does not react to balloons', ['latex']],
  ['no previous allergic reaction to latex', ['latex']],
  ['no reaction to latex gloves today', ['latex']],
  ['latex allergy: none', ['latex']],
  ['latex allergy? no', ['latex']],
  ['latex: not allergic', ['latex']],
  ['no latex allergy/sensitivity', ['latex']],
  ['No known allergy to penicillin', ['penicillins']],
  ['no latex or penicillin allergy', ['latex', 'penicillins']],
  ['no allergy to latex, penicillin or nickel', ['latex', 'penicillins', 'nickel']],
  ['no penicillin allergy, no latex allergy', ['penicillins', 'latex']],
  ['no known drug or latex allergies', ['latex']],
]
function everything(text: string): [string, 'everything'] {
  return [text, 'everything']
}
it.each(DENIALS)('“%s” denies %s', (text, of) => expect(readStatement(text)).toEqual({ kind: 'denies', of }))

it.each<[string, ReturnType<typeof readStatement>]>([
  ['allergic to penicillin and no latex allergy', { kind: 'possible', substances: ['penicillins'] }],
  ['allergic to penicillin and no latex', { kind: 'possible', substances: ['latex', 'penicillins'] }],
  ['penicillin, no other allergies', { kind: 'possible', substances: ['penicillins'] }],
  ['no penicillin allergy but nickel rash', { kind: 'possible', substances: ['nickel'] }],
  ['by choice no latex, not an allergy', { kind: 'preference', substances: ['latex'] }],
  ['latex IgE class 0', { kind: 'test', substances: ['latex'] }],
  ['latex IgE negative', { kind: 'test', substances: ['latex'] }],
  ['latex skin-prick not detected', { kind: 'test', substances: ['latex'] }],
  ['Latex IgE Ab in Serum', { kind: 'test', substances: ['latex'] }], // Synthea observations, READ
  ['allergic to paying bills', { kind: 'idiom' }],
])('“%s” is read as a whole', (text, reading) => expect(readStatement(text)).toEqual(reading))

it.each([
  ...['No known allergies (food)', 'None known. Rash after last visit', 'NKA see letter', 'no new allergies'],
  ...['no other allergies', 'no allergies on file', 'none recorded', 'no allergies?', 'no severe allergies'],
  ...[
    'allergic to pain killers',
    'no nut allergy',
    'no reactions',
    'not sensitive',
    'later',
    'late for appointments',
  ],
])('“%s” is no denial of anything: a person reads it', (text) =>
  expect(readStatement(text)).toEqual({ kind: 'unread' }),
)

describe('laws of denial', () => {
  const denial = fc.constantFrom(...DENIALS.map(([text]) => text))
  const thing = fc.constantFrom('latex', 'rubber', 'latex gloves', 'natural rubber', 'balloons')
  const link = fc.constantFrom(
    ', ',
    '. ',
    '; ',
    ' - ',
    ' but ',
    ' except ',
    ' (',
    ' and ',
    ' ',
    '\n',
    ': ',
    ' / ',
  )
  const reaction = fc.constantFrom(
    ...['lips swell with dam', 'hives', 'gets a rash from gloves', 'latex itches', 'reacted to balloons'],
    ...['anaphylaxis as a child', 'latex', 'swollen face', 'wheezes near rubber', 'plaster rash'],
  )
  it('a denial with a reaction behind or before it never denies', () => {
    fc.assert(
      fc.property(denial, link, reaction, (said, joint, told) => {
        expect(readStatement(said + joint + told).kind).not.toBe('denies')
        // a bare name before a denial is what it is of: “latex: none known”
        if (told !== 'latex') expect(readStatement(told + joint + said).kind).not.toBe('denies')
      }),
      { numRuns: 2000 },
    )
  })
  it('an order to do without latex never denies, and asks', () => {
    const order = fc.constantFrom<(name: string) => string>(
      (name) => `no ${name}`,
      (name) => `NO ${name.toUpperCase()}!`,
      (name) => `no ${name} please`,
      (name) => `not to use ${name}`,
      (name) => `${name} not to be used`,
      (name) => `do not use ${name}`,
      (name) => `never ${name}`,
      (name) => `no ${name} in the room`,
      (name) => `without ${name}`,
      (name) => `${name} - no`,
      (name) => `nil ${name}`,
      (name) => `${name} not tolerated`,
    )
    fc.assert(
      fc.property(order, thing, (say, name) => {
        const reading = readStatement(say(name))
        expect(reading.kind === 'possible' ? reading.substances : reading.kind).toContain('latex')
      }),
    )
  })
  it('one word more that no rule knows, anywhere, and it is no denial', () => {
    const word = fc.constantFrom(
      'again',
      'sister',
      'severe',
      'yet',
      'letter',
      'unsure',
      'if',
      'was',
      'except',
    )
    fc.assert(
      fc.property(denial, word, fc.nat(), (said, more, place) => {
        const words = said.split(' ')
        const at = place % (words.length + 1)
        const reading = readStatement([...words.slice(0, at), more, ...words.slice(at)].join(' '))
        fc.pre(more !== 'was' && more !== 'except')
        expect(reading.kind).not.toBe('denies')
      }),
      { numRuns: 2000 },
    )
  })
})

const OTHERS: [string, string][] = [
  ['penicilin', 'penicillins'],
  ['PCN rash', 'penicillins'],
  ['amoxicillin -> hives', 'penicillins'],
  ['chlorhexidene mouthwash', 'chlorhexidine'],
  ['bananas and avocado', 'latex-foods'],
  ['Lignocaine', 'amide-anaesthetics'],
  ['adrenaline made heart race', 'vasoconstrictors'],
  ['nickle earrings', 'nickel'],
  ['sulphites in wine', 'sulfites'],
  ['sulfa drugs', 'sulfonamides'],
  ['clove oil', 'eugenol'],
]
it.each(OTHERS)('“%s” names %s, by member and through a slip of spelling', (text, substance) => {
  const reading = readStatement(text)
  expect(reading.kind === 'possible' ? reading.substances : []).toContain(substance)
})

it('sulfonamide allergy is not sulfite allergy', () => {
  expect(readStatement('sulfa')).toEqual({ kind: 'possible', substances: ['sulfonamides'] })
})

it('a member of a family is a word, not a part of one', () => {
  expect(substancesIn('eggplant')).toEqual([])
  expect(substancesIn('dairy and eggs')).toEqual(['milk-protein', 'egg-soya'])
  expect(substancesIn('latex-free')).toEqual(['latex'])
})

it('any member of any family is recognised by itself, in any case', () => {
  for (const substance of SUBSTANCES) {
    for (const word of SUBSTANCE_FAMILIES[substance].members) {
      expect(substancesIn(word.toUpperCase()), word).toContain(substance)
    }
  }
})

it('no text makes the reader fail, and none makes it say "none of everything" where a substance is named', () => {
  const words = fc.constantFrom(
    'no',
    'latex',
    'allergy',
    'none',
    'NKDA',
    'to',
    'rash',
    ',',
    'but',
    'penicillin',
    'never',
  )
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        fc.array(words, { maxLength: 8 }).map((all) => all.join(' ')),
      ),
      (text) => {
        const reading = readStatement(text)
        if (substancesIn(text).length > 0) expect(reading).not.toEqual({ kind: 'denies', of: 'everything' })
      },
    ),
    { numRuns: 1000 },
  )
})

it('what stands beside a set phrase is read on its own', () => {
  expect(readStatement('latex NKDA')).toEqual({ kind: 'possible', substances: ['latex'] })
  expect(readStatement('allergic to late fees and latex')).toEqual({
    kind: 'possible',
    substances: ['latex'],
  })
})
