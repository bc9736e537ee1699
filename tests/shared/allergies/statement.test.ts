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
