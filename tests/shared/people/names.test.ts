import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parseDay } from '#shared/base/moment.ts'
import type { PatientId } from '#shared/ids.ts'
import { type Coming, isOneSlipApart, nameAlerts, plainName } from '#shared/people/names.ts'

const coming = (text: string, { born = '', seenBy = 'A', start = 0 } = {}): Coming => {
  const [given = '', family = ''] = text.split(' ')
  return {
    patient: {
      clinicId: 'c' as never,
      id: `${text}/${born}/${start}` as PatientId,
      given,
      family,
      born: parseDay(born),
      identifiers: [],
      weight: null,
      guardian: null,
      interpreter: null,
      history: [],
      historyConfirmed: null,
    },
    seenBy,
    start,
  }
}
const kindsOf = (...day: Coming[]): string[] =>
  [...nameAlerts(day).values()].flatMap((alerts) => alerts.map(({ kind }) => kind))

// Our own judgement of which names are mixed up on the phone (COMMON).
const ALIKE = [
  ['Anna Meyer', 'Anna Meier'],
  ['Jon Clarke', 'John Clark'],
  ['Siobhán Nolan', 'Siobhan Nolan'],
  ['Marta Kowal', 'Marta Kowla'],
  ['Ines Duarte', 'Duarte Ines'],
  ['Jean-Luc Petit', 'Jeanluc Petit'],
] as const
const UNLIKE = [
  ['Anna Meyer', 'Boris Meyer'],
  ['Li Wu', 'Lu Wo'],
  ['Peter Novak', 'Petra Horak'],
] as const

describe('name alerts', () => {
  test('[name/alert] two of the same name carry it on both rows, whatever their birth dates', () => {
    expect(
      kindsOf(
        coming('Ann Byrne', { born: '1970-01-01' }),
        coming('Ann Byrne', { born: '1991-05-05', seenBy: 'B' }),
      ),
    ).toEqual(['same-name', 'same-name'])
  })

  test.each(ALIKE)('[name/alert] %s and %s may be taken for each other', (one, two) => {
    expect(kindsOf(coming(one), coming(two, { seenBy: 'B', start: 9 }))).toHaveLength(2)
  })

  test.each([
    ['a middle name left out', { given: 'Ann Marie' }, { given: 'Ann' }],
    ['one half of a double name', { family: 'Byrne-Walsh' }, { family: 'Walsh' }],
    ['the middle of three', { family: 'Garcia Silva Pinto' }, { family: 'Silva' }],
  ])('[name/alert] %s', (_, some, other) => {
    const named = (names: object, start: number) => {
      const one = coming('Ann Byrne', { start, seenBy: `${start}` })
      return { ...one, patient: { ...one.patient, ...names } }
    }
    expect(kindsOf(named(some, 1), named(other, 2))).toEqual(['similar-name', 'similar-name'])
  })

  test.each(UNLIKE)('[name/alert] %s and %s are told apart', (one, two) => {
    expect(kindsOf(coming(one), coming(two, { seenBy: 'B', start: 9 }))).toEqual([])
  })

  test('[name/alert] siblings alert where one follows the other with one person, not hours apart', () => {
    const [mia, otto] = [coming('Mia Sand', { start: 1 }), coming('Otto Sand', { start: 2 })]
    expect(kindsOf(mia, otto)).toEqual(['sibling-next', 'sibling-next'])
    expect(kindsOf(mia, { ...otto, seenBy: 'B' })).toEqual([])
    expect(kindsOf(mia, coming('Carla Roth', { start: 2 }), coming('Otto Sand', { start: 3 }))).toEqual([])
  })

  test('[name/alert] twins alert also when two people treat them; strangers of one birth day only with one', () => {
    const born = '2016-02-29'
    expect(
      kindsOf(coming('Mia Sand', { born }), coming('Otto Sand', { born, seenBy: 'B', start: 5 })),
    ).toEqual(['same-birth-day', 'same-birth-day'])
    expect(kindsOf(coming('Mia Sand', { born }), coming('Carla Roth', { born, seenBy: 'B' }))).toEqual([])
    expect(kindsOf(coming('Mia Sand', { born }), coming('Carla Roth', { born, start: 5 }))).toHaveLength(2)
  })

  test('[name/alert] a birth day nobody knows is no shared birth day', () => {
    expect(kindsOf(coming('Mia Sand'), coming('Carla Roth', { start: 3 }))).toEqual([])
  })

  test('an alert is always on both, and the order of the day does not matter', () => {
    const name = fc.tuple(
      fc.constantFrom('Anna', 'Ana', 'Otto', 'Mia'),
      fc.constantFrom('Sand', 'Sands', 'Roth', 'Mond'),
    )
    const day = fc.uniqueArray(
      fc.record({
        name,
        born: fc.constantFrom('', '1990-01-01', '2015-03-03'),
        seenBy: fc.constantFrom('A', 'B'),
        start: fc.nat(500),
      }),
      { selector: ({ start }) => start, maxLength: 8 },
    )
    fc.assert(
      fc.property(day, (rows) => {
        const people = rows.map(({ name: [given, family], ...rest }) => coming(`${given} ${family}`, rest))
        const pairs = (list: Coming[]): string[] =>
          [...nameAlerts(list)]
            .flatMap(([id, alerts]) => alerts.map(({ kind, other }) => `${id}>${other.id}:${kind}`))
            .sort()
        const found = pairs(people)
        expect(pairs([...people].reverse())).toEqual(found)
        for (const pair of found) {
          const [, from, to, kind] = /^(.*)>(.*):(.*)$/.exec(pair) ?? []
          expect(found).toContain(`${to}>${from}:${kind}`)
        }
      }),
    )
  })

  test('[name/alert] no two that are alike by both names are passed over, however short the names', () => {
    const name = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), minLength: 1, maxLength: 5 })
    const alike = (a: string, b: string): boolean =>
      a === b || (Math.min(a.length, b.length) >= 3 && isOneSlipApart(a, b))
    fc.assert(
      fc.property(fc.array(fc.tuple(name, name), { minLength: 2, maxLength: 8 }), (names) => {
        const day = names.map(([given, family], start) =>
          coming(`${given} ${family}`, { start, seenBy: `${start}` }),
        )
        const alerts = nameAlerts(day)
        for (const [i, [given, family]] of names.entries()) {
          for (const [j, [otherGiven, otherFamily]] of names.entries()) {
            if (i === j) continue
            const expected =
              (alike(given, otherGiven) && alike(family, otherFamily)) ||
              (given === otherFamily && family === otherGiven)
            const found = alerts.get(day[i]?.patient.id ?? '') ?? []
            expect(found.some(({ other }) => other.id === day[j]?.patient.id)).toBe(expected)
          }
        }
      }),
      { numRuns: 500 },
    )
  })

  test('one slip apart is symmetric, and a name is one slip from itself', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 6 }), fc.string({ maxLength: 6 }), (a, b) => {
        expect(isOneSlipApart(a, b)).toBe(isOneSlipApart(b, a))
        expect(isOneSlipApart(a, a)).toBe(true)
      }),
    )
    expect(plainName('O’Brien-Łuk')).toBe('obrienluk')
  })
})
