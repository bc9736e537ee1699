import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { recogniseWork } from '#shared/procedures/recognise.ts'
import { NOTATIONS } from '#shared/teeth/notation-names.ts'

const read = (text: string, notation: (typeof NOTATIONS)[number] = 'iso') => {
  const { kind, teeth, surfaces } = recogniseWork(text, notation)
  const said = teeth.map((tooth) => tooth + (surfaces[tooth] ? `:${surfaces[tooth].join('')}` : ''))
  return [kind, ...said].join(' ')
}

// Booking texts as clinics write them (COMMON); the kinds are the catalogue's own.
describe('work that its own words name', () => {
  test.each([
    ['comp 46 MO', 'direct-composite 46:MO'],
    ['DO comp 36', 'direct-composite 36:DO'],
    ['46MOD composite', 'direct-composite 46:MOD'],
    ['filling 46 distal', 'direct-composite 46:D'],
    ['two fillings 11 and 21', 'direct-composite 11 21'],
    ['strip crowns 51 + 61', 'direct-composite 51 61'],
    ['class V 23 facial', 'cervical-composite 23:BV'],
    ['GIC 85 O', 'glass-ionomer 85:O'],
    ['RCT 36', 'root-canal 36'],
    ['root canal treatment 46, painful', 'root-canal 46'],
    ['RCT re-tx 26', 'retreatment 26'],
    ['post + core 12 after RCT', 'post-and-core 12'],
    ['pulpotomy 85', 'pulpotomy 85'],
    ['fissure sealants 16 26 36 46', 'resin-sealant 16 26 36 46'],
    ['stainless steel crown hall 74', 'steel-crown-no-preparation 74'],
    ['SSC 75', 'steel-crown 75'],
    ['amalgam removal + composite 36', 'amalgam-removal 36'],
    ['crown prep 26', 'crown-preparation 26'],
    ['onlay bonding 16', 'bonded-indirect 16'],
    ['veneers 13-23', 'veneer 13 12 11 21 22 23'],
    ['whitening', 'in-office-bleaching'],
    ['check-up', 'exam'],
    ['exam + comp 46', 'direct-composite 46'],
    ['extraction 46', 'extraction 46'],
    ['denture try-in', 'denture'],
    ['scale and polish', 'scaling'],
    ['implant 36', 'implant 36'],
  ])('“%s”: %s', (text, answer) => expect(read(text)).toBe(answer))

  test('a letter is a tooth only where the clinic counts by letters', () => {
    expect(read('pulpotomy K', 'universal')).toBe('pulpotomy 75')
    const asked = recogniseWork('pulpotomy K', 'ask')
    expect(asked.teeth).toEqual([])
    expect(asked.mentions).toEqual([
      { source: 'booking', text: 'K', notation: 'ask', candidates: ['75'], mirrored: false },
    ])
  })
})

describe('work that stays undetermined', () => {
  test.each([
    'broken tooth UR, pain',
    'broken tooth',
    'broken filling 36',
    'filling fell out 36',
    'lost crown 11',
    'emergency: toothache',
    'comp 36 or RCT 36?',
    'composite 36, possible RCT',
    'no RCT 36',
    'comp 46, RCT 36',
    'take-home whitening trays',
    'Zahnreinigung 36',
    '46',
    '',
  ])('[work/undetermined] “%s” is never guessed', (text) =>
    expect(recogniseWork(text, 'iso').kind).toBe('undetermined'),
  )
})

describe('work that is talked of, looked at or mended is not the work itself', () => {
  test.each([
    ['RCT consult 36', 'exam 36'],
    ['RCT review', 'exam'],
    ['RCT 36 review', 'exam 36'],
    ['consult re RCT 36', 'exam 36'],
    ['RCT f/u 36', 'exam 36'],
    ['pulpotomy 85 follow up', 'exam 85'],
    ['implant consult 46', 'exam 46'],
    ['ext 38 assessment', 'exam 38'],
    ['veneer consult', 'exam'],
    ['discuss implant 36', 'undetermined 36'],
    ['root canal 36 estimate', 'undetermined 36'],
    ['refer RCT 36', 'undetermined 36'],
    ['post op RCT 36', 'undetermined 36'],
    ['DO NOT RCT 36', 'undetermined 36'],
    ['adjust/polish filling 36', 'undetermined 36'],
    ['adjust filling 36', 'undetermined 36'],
    ['adjust high filling 36', 'undetermined 36'],
    ['polish composite 36', 'undetermined 36'],
    ['filling 36 polish', 'undetermined 36'],
    ['smooth rough filling 36', 'undetermined 36'],
    ['filling check 36', 'undetermined 36'],
    ['recheck filling 36', 'undetermined 36'],
    ['sealant check', 'undetermined'],
    ['36 DO NOT use latex', 'undetermined 36'],
    // beside it other work may be named, which stands
    ['consult, RCT 36', 'root-canal 36'],
    ['RCT 36 done elsewhere, crown prep', 'crown-preparation 36'],
    ['had RCT 36, now crown prep', 'crown-preparation 36'],
    ['finish RCT 36', 'root-canal 36'],
    ['adjust denture', 'denture'],
    ['scale and polish', 'scaling'],
    ['clean and polish', 'cleaning'],
    ['polish', 'cleaning'],
    ['36 FILL', 'direct-composite 36'],
    ['FILL 36 DO', 'direct-composite 36:DO'],
  ])('“%s”: %s', (text, answer) => expect(read(text)).toBe(answer))
})

describe('which of several teeth is today’s work where some of it is not', () => {
  test.each([
    ['comp 46, review 36', 'direct-composite', ['46', '36']],
    ['comp 46, check 36', 'direct-composite', ['46', '36']],
    ['RCT 36, ext 38 postponed', 'root-canal', ['36', '38']],
    ['ext 14, no ext 24', 'extraction', ['14', '24']],
  ])('“%s” is asked, never taken', (text, kind, candidates) => {
    const { mentions, ...read } = recogniseWork(text, 'iso')
    expect(read).toMatchObject({ kind, teeth: [], surfaces: {} })
    expect(mentions.flatMap((mention) => mention.candidates)).toEqual(candidates)
  })
  test('work alone, or a check-up beside it, leaves them as they are', () => {
    expect(read('exam + comp 46 47')).toBe('direct-composite 46 47')
    expect(read('comp 46, 47')).toBe('direct-composite 46 47')
  })
})

describe('laws of recognising', () => {
  test('any text is read without a throw, and surfaces belong to named teeth', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), fc.constantFrom(...NOTATIONS), (text, notation) => {
        const { teeth, surfaces } = recogniseWork(text, notation)
        return Object.keys(surfaces).every((tooth) => teeth.some((each) => each === tooth))
      }),
    )
  })
  test('a letter in the place of a line of work names none: it is asked whole, and at once', () => {
    const began = performance.now()
    for (const part of ['1,', 'upper right ', 'RCT 36 ', ','])
      expect(recogniseWork(part.repeat(10_000), 'iso')).toMatchObject({ kind: 'undetermined', teeth: [] })
    expect(performance.now() - began).toBeLessThan(500)
  })
  test('an open naming is never a tooth of the work', () => {
    const { teeth, mentions } = recogniseWork('root canal 31', 'ask')
    expect(teeth).toEqual([])
    expect(mentions.map(({ candidates }) => candidates)).toEqual([['31', '47']])
  })
})
