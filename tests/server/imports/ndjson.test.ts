import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { decode } from '#server/imports/decode.ts'
import { parseNdjson, readNdjson } from '#server/imports/fhir.ts'
import { MOST_RESOURCES } from '#server/imports/fhir-resources.ts'
import { LARGEST_FILE_BYTES, LARGEST_NDJSON_BYTES } from '#server/imports/incoming.ts'
import { LONGEST_LINE_BYTES, linesOf } from '#server/imports/ndjson-lines.ts'
import { formatOf, readNow } from '#server/imports/read-upload.ts'
import type { Incoming } from '#shared/schedule/incoming.ts'
import { said as counted, runs } from '../../support/zone.ts'
import { CLINICAL } from './fhir-entries.ts'
import { importFile, OPTIONS, smallClinic } from './small-clinic.ts'

const patient = (id: string, family: string) => ({
  resourceType: 'Patient',
  id,
  name: [{ family, given: ['Zoë'] }],
  birthDate: '1990-05-01',
})
const visit = (id: string, of: string, more = {}) => ({
  resourceType: 'Appointment',
  id,
  status: 'booked',
  start: '2026-11-24T09:00:00Z',
  end: '2026-11-24T09:45:00Z',
  participant: [
    { actor: { reference: `Patient/${of}` }, status: 'accepted' },
    { actor: { reference: 'Location/four' }, status: 'accepted' },
    { actor: { reference: 'PractitionerRole/role' }, status: 'accepted' },
  ],
  ...more,
})
const RESOURCES: object[] = [
  visit('a', 'p'),
  {
    resourceType: 'ServiceRequest',
    id: 's',
    status: 'active',
    intent: 'order',
    code: { text: 'RCT' },
    subject: { reference: 'Patient/p' },
    bodySite: [{ coding: [{ system: 'urn:iso:std:iso:3950', code: '36' }] }],
  },
  { resourceType: 'PractitionerRole', id: 'role', practitioner: { reference: 'Practitioner/dr' } },
  { resourceType: 'Observation', id: 'o', status: 'final' },
  patient('p', 'Ångström 山田 🦷'),
  { resourceType: 'Practitioner', id: 'dr', name: [{ text: 'Dr Corrigan' }] },
  { resourceType: 'Location', id: 'four', name: '4' },
  {
    resourceType: 'AllergyIntolerance',
    id: 'l',
    patient: { reference: 'Patient/p' },
    code: { text: 'Latex' },
    clinicalStatus: { coding: [{ system: CLINICAL, code: 'active' }] },
  },
]
const textOf = (resources: object[], end = '\n'): string =>
  resources.map((resource) => JSON.stringify(resource)).join(end)
const read = (text: string | Uint8Array): Incoming => parseNdjson(Buffer.from(text), OPTIONS)
/** Lines differ by design where blank ones stand between; what is said does not. */
const said = ({ appointments, allergies, problems, rows, passedOver, assumed }: Incoming) => ({
  appointments: appointments.map(({ line: _, ...rest }) => rest),
  allergies: allergies.map(({ line: _, ...rest }) => rest),
  problems: problems.map(({ text, original }) => ({ text, original })),
  passedOver: passedOver.map(({ why, rows: count }) => ({ why, count })),
  rows,
  assumed,
})

const CUTS = runs(2000)

describe('NDJSON: one line at a time', () => {
  const plain = read(textOf(RESOURCES))

  it('what a line names may stand on any other, before it or after it', () => {
    expect(plain).toMatchObject({ rows: 8, problems: [] })
    expect(plain.appointments).toMatchObject([
      {
        operatory: '4',
        dentist: 'Dr Corrigan',
        patient: { family: 'Ångström 山田 🦷', born: '1990-05-01' },
        work: [{ text: 'RCT', teeth: [{ candidates: ['36'] }] }],
      },
    ])
    expect(plain.allergies).toMatchObject([{ text: 'Latex', patient: { family: 'Ångström 山田 🦷' } }])
    fc.assert(
      fc.property(fc.shuffledSubarray(RESOURCES, { minLength: RESOURCES.length }), (shuffled) => {
        const { appointments, allergies, problems } = said(read(textOf(shuffled)))
        expect({ appointments, allergies, problems }).toEqual({
          appointments: said(plain).appointments,
          allergies: said(plain).allergies,
          problems: [],
        })
      }),
      { numRuns: 200, seed: 20261124 },
    )
  })

  it.each([
    ['CRLF', textOf(RESOURCES, '\r\n')],
    ['a line end after the last', `${textOf(RESOURCES)}\n`],
    ['blank lines and white space between', `\n  \r\n${textOf(RESOURCES, '\n\n \t\n')}\r\n\n`],
    ['a byte order mark', `\uFEFF${textOf(RESOURCES)}`],
    ['UTF-16, little end first', Buffer.from(`\uFEFF${textOf(RESOURCES)}\n`, 'utf16le')],
    ['UTF-16, big end first', Buffer.from(`\uFEFF${textOf(RESOURCES)}\n`, 'utf16le').swap16()],
  ])('%s changes nothing of what is read', (_, file) => {
    expect(said(read(file))).toEqual(said(plain))
    expect(formatOf(Buffer.from(file))).toBe('ndjson')
  })

  it('a blank line counts as a line, so that the numbers are those an editor shows', () => {
    expect(read(`\n${textOf(RESOURCES, '\n\n')}`).appointments[0]?.line).toBe(2)
    expect(read(`\n\n${JSON.stringify(RESOURCES[3])}\n{"half":`).problems).toMatchObject([
      { line: 4, field: 'line', original: '{"half":' },
    ])
  })

  it(`the same file in any pieces is the same, ${counted(CUTS)} ways to cut it`, () => {
    const bytes = Buffer.from(
      `\uFEFF${textOf(RESOURCES, '\r\n')}\n{"broken": "é\n\n${JSON.stringify(visit('b', 'p'))}`,
    )
    const whole = parseNdjson(bytes, OPTIONS)
    const wide = Buffer.from(bytes.toString(), 'utf16le')
    expect(whole.appointments).toHaveLength(2)
    fc.assert(
      fc.property(
        fc.constantFrom(bytes, wide),
        fc.array(fc.nat(bytes.length * 2), { maxLength: 40 }),
        (file, at) => {
          const cuts = [
            0,
            ...at.map((each) => each % file.length).sort((one, other) => one - other),
            file.length,
          ]
          const pieces = cuts.slice(1).map((to, index) => file.subarray(cuts[index], to))
          expect(readNdjson(pieces, OPTIONS)).toEqual(whole)
        },
      ),
      { numRuns: CUTS, seed: 20261124 },
    )
    const bytewise = Array.from(bytes, (_, index) => bytes.subarray(index, index + 1))
    expect(readNdjson(bytewise, OPTIONS)).toEqual(whole)
  })

  it('a piece that is filled again by whoever gives it changes nothing', () => {
    const bytes = Buffer.from(textOf(RESOURCES))
    function* reused(): Generator<Uint8Array> {
      const piece = Buffer.alloc(100)
      for (let from = 0; from < bytes.length; from += 100)
        yield piece.subarray(0, bytes.copy(piece, 0, from, from + 100))
    }
    expect(readNdjson(reused(), OPTIONS)).toEqual(plain)
  })

  it('a line that is longer than any is told with its head, and the others are read', () => {
    const [first = {}] = RESOURCES
    const endless = `{"resourceType":"Binary","data":"${'A'.repeat(LONGEST_LINE_BYTES)}"}`
    const { appointments, problems, rows } = read(
      [textOf([first]), endless, textOf([visit('b', 'p')])].join('\n'),
    )
    expect(rows).toBe(3)
    expect(appointments.map(({ line }) => line)).toEqual([1, 3])
    expect(problems).toMatchObject([{ line: 2, field: 'line' }])
    expect(problems[0]?.original).toHaveLength(4000)
    const exact = [...linesOf([Buffer.from('12345\n123456\n')], { longest: 5 })]
    expect(exact.map(({ text }) => text)).toEqual(['12345', null])
  })

  it('a line that is not UTF-8 is read as Windows-1252, and the preview says so', () => {
    const western = Buffer.from(JSON.stringify(patient('p', 'Müller')), 'latin1')
    const file = Buffer.concat([Buffer.from(`${JSON.stringify(visit('a', 'p'))}\n`), western])
    const incoming = parseNdjson(file, OPTIONS)
    expect(incoming.appointments).toMatchObject([{ patient: { family: 'Müller' } }])
    expect(incoming.assumed).toEqual(['Line 2 is not UTF-8: the letters were read as windows-1252.'])
    expect(read(textOf(RESOURCES)).assumed).toEqual([])
  })

  it('no NUL and no half character reaches a text, escaped or not', () => {
    const file = `${JSON.stringify(visit('a', 'p', { comment: 'a\u0000b\uD83E' }))}\n{"x": "\u0000`
    const { appointments, problems } = read(file)
    expect(appointments[0]?.note).toBe('a\u2400b\uFFFD')
    expect(problems[0]?.original).toBe('{"x": "\u2400')
  })

  it('is known by its second line, also where the first is broken; a Bundle over several lines is not taken for it', () => {
    const broken = `{"resourceType": "Patie\n${textOf(RESOURCES)}`
    expect(importFile(smallClinic(), broken).counts).toMatchObject({ new: 1, problems: 1 })
    const entries = RESOURCES.map((resource) => JSON.stringify({ resource }))
    for (const bundle of [
      `{"resourceType":"Bundle","entry":[\n${entries.join(',\n')}\n]}`,
      `{"resourceType":"Bundle","entry":[${entries.join(',\r\n')}]}`,
      `{"resourceType":"Bundle","meta":\n{},"entry":[${entries.join(',')}]}`,
      JSON.stringify({ resourceType: 'Bundle', entry: RESOURCES.map((resource) => ({ resource })) }, null, 2),
    ])
      expect(formatOf(Buffer.from(bundle))).toBe('fhir')
  })
})

const collect = ((): (() => void) => {
  setFlagsFromString('--expose-gc')
  return runInNewContext('gc') as () => void
})()
const MEGABYTE = 1024 * 1024
/** What is held after a collection: texts, objects and the bytes behind buffers. */
const held = (): number => {
  collect()
  collect()
  const { heapUsed, arrayBuffers } = process.memoryUsage()
  return heapUsed + arrayBuffers
}

describe('memory', () => {
  const note = 'x'.repeat(1500)
  const irrelevant = (index: number): string =>
    JSON.stringify({
      resourceType: index % 3 === 0 ? 'Condition' : 'Observation',
      id: `o${index}`,
      subject: { reference: `Patient/p${index % 50}` },
      note: [{ text: `${index} ${note}` }],
    })
  /** 64 MB of which 200 lines matter, made piece by piece. */
  function* bulk(each: (done: number) => void): Generator<Uint8Array> {
    let piece = ''
    let done = 0
    for (let index = 0; done < 64 * MEGABYTE; index += 1) {
      if (index % 400 === 0 && index < 40_000)
        piece += `${textOf([visit(`v${index}`, `p${index}`), patient(`p${index}`, `Family${index}`)])}\n`
      piece += `${irrelevant(index)}\n`
      if (piece.length < 256 * 1024) continue
      done += piece.length
      yield Buffer.from(piece)
      piece = ''
      each(done)
    }
  }

  it('of 64 MB, read in pieces, never more than 8 MB is held; as one text it would be all of it', {
    timeout: 60_000,
  }, () => {
    const before = held()
    const grown: number[] = []
    let next = 0
    const incoming = readNdjson(
      bulk((done) => {
        if (done < next) return
        grown.push(held() - before)
        next = done + 8 * MEGABYTE
      }),
      OPTIONS,
    )
    expect(incoming.appointments).toHaveLength(100)
    expect(incoming.appointments.at(-1)?.patient?.family).toBe('Family39600')
    expect(incoming.rows).toBeGreaterThan(40_000)
    const passed = incoming.passedOver.reduce((sum, { rows = 1 }) => sum + rows, 0)
    expect(passed + incoming.appointments.length).toBe(incoming.rows)
    expect(grown.length).toBeGreaterThanOrEqual(8)
    expect(Math.max(...grown)).toBeLessThan(8 * MEGABYTE)
    // The same measure on the whole text at once: it can tell.
    const from = held()
    const { text } = decode(Buffer.concat([...bulk(() => {})]))
    expect(held() - from).toBeGreaterThan(60 * MEGABYTE)
    expect(text.length).toBeGreaterThan(60 * MEGABYTE)
  })

  it('a file of nothing but broken lines is read no further than it can matter', () => {
    let given = 0
    function* broken(): Generator<Uint8Array> {
      for (; given < 4000; given += 1) yield Buffer.from('{\n'.repeat(10))
    }
    const { problems, appointments } = readNdjson(broken(), OPTIONS)
    expect(appointments).toEqual([])
    expect(problems).toHaveLength(2001)
    expect(given).toBeLessThan(300)
  })

  it('of kinds without end no list without end is made', () => {
    const file = Array.from({ length: 5000 }, (_, index) => `{"resourceType":"Kind${index}"}`).join('\n')
    const { passedOver, rows } = read(file)
    expect(rows).toBe(5000)
    expect(passedOver.length).toBeLessThan(200)
    expect(passedOver.reduce((sum, each) => sum + (each.rows ?? 1), 0)).toBe(5000)
  })

  it('more resources than any day rests on are refused as a whole', () => {
    const one = Buffer.from('{"resourceType":"Patient"}\n'.repeat(1000))
    function* patients(): Generator<Uint8Array> {
      yield Buffer.from(`${textOf(RESOURCES)}\n`)
      for (let index = 0; index < 200; index += 1) yield one
    }
    const { appointments, allergies, problems } = readNdjson(patients(), OPTIONS)
    expect([appointments, allergies]).toEqual([[], []])
    expect(problems).toMatchObject([{ field: 'file' }])
    expect(problems[0]?.text).toContain(`${MOST_RESOURCES}`)
  })
})

describe('the largest file', () => {
  const filler = Buffer.from(`${JSON.stringify({ resourceType: 'Observation', note: 'x'.repeat(1000) })}\n`)
  const ofSize = (size: number): Buffer =>
    Buffer.concat([
      Buffer.from(`${textOf(RESOURCES)}\n`),
      ...Array.from({ length: Math.ceil(size / filler.length) }, () => filler),
    ])

  it('may be larger as NDJSON than in another format, and is refused in three parts above that', () => {
    const taken = readNow(ofSize(LARGEST_FILE_BYTES * 2), 'bulk.ndjson', OPTIONS).incoming
    expect(taken.appointments).toHaveLength(1)
    const { problems, appointments } = readNow(ofSize(LARGEST_NDJSON_BYTES), 'bulk.ndjson', OPTIONS).incoming
    expect(appointments).toEqual([])
    expect(problems).toMatchObject([{ field: 'file', text: expect.stringContaining('larger than 40 MB') }])
  })
})
