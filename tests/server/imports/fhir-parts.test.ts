import { describe, expect, it } from 'vitest'
import { readNow } from '#server/imports/read-upload.ts'
import { importFile, list, OPTIONS, row, smallClinic } from './small-clinic.ts'

const patient = {
  resource: {
    resourceType: 'Patient',
    id: 'p1',
    name: [{ family: 'Ashgrove', given: ['Aoife'] }],
    birthDate: '1990-05-01',
  },
  search: { mode: 'include' },
}
const visit = (id: string, hour: number, more: object = {}) => ({
  resource: {
    resourceType: 'Appointment',
    id,
    status: 'booked',
    start: `2026-11-24T${hour}:00:00Z`,
    end: `2026-11-24T${hour}:30:00Z`,
    participant: [{ actor: { reference: 'Patient/p1' }, status: 'accepted' }],
    ...more,
  },
  search: { mode: 'match' },
})
const bundle = (type: string, entry: object[], more: object = {}): string =>
  JSON.stringify({ resourceType: 'Bundle', type, ...more, entry })
const read = (text: string) => readNow(Buffer.from(text), 'day', OPTIONS).incoming
const THREE = importFile(
  smallClinic(),
  bundle('searchset', [patient, visit('a', 10), visit('b', 11), visit('c', 12)], { total: 3 }),
).world

/** R4: Bundle.link.relation and Bundle.total, which counts matches alone (READ). */
describe('one page of a longer list', () => {
  const page = [patient, visit('a', 10), visit('b', 11)]

  it.each([
    [
      'a link to the next',
      {
        link: [
          { relation: 'self', url: 'x' },
          { relation: 'next', url: 'y' },
        ],
      },
    ],
    ['more matches in all than it holds', { total: 3 }],
  ])('by %s: what it does not list is not asked', (_, more) => {
    const { covers, assumed } = read(bundle('searchset', page, more))
    expect(covers).toBeNull()
    expect(assumed.join()).toContain('one page of a longer list')
    expect(importFile(THREE, bundle('searchset', page, more)).counts.vanished).toBe(0)
  })

  it.each([
    ['no link to a next', { link: [{ relation: 'self', url: 'x' }] }],
    ['as many matches as it holds', { total: 2 }],
  ])('by %s it is the whole, and [appointment/vanished] asks for the third', (_, more) => {
    expect(importFile(THREE, bundle('searchset', page, more)).counts.vanished).toBe(1)
  })

  it('lines of resources may be those that changed: they speak for themselves alone', () => {
    const lines = page.map(({ resource }) => JSON.stringify(resource)).join('\n')
    expect(read(lines)).toMatchObject({ format: 'ndjson', covers: null })
    expect(importFile(THREE, lines).counts).toMatchObject({ vanished: 0, unchanged: 2 })
  })
})

/** R4: Bundle.entry.request, as a history and a transaction carry it (READ). */
describe('an entry that says a record is deleted', () => {
  it.each([
    ['history', 'Appointment/a'],
    ['history', 'https://here.example/fhir/Appointment/a/_history/4'],
    ['transaction', 'Appointment/a'],
  ])(
    '[import/row-open] in a %s, %s, is asked with its id and as it stood; nothing is changed by it',
    (type, url) => {
      const file = bundle(type, [{ request: { method: 'DELETE', url } }])
      const [problem, ...more] = read(file).problems
      expect(more).toEqual([])
      expect(problem).toMatchObject({ externalId: 'a', field: 'request' })
      expect(problem?.original).toContain(url)
      const { world, counts } = importFile(THREE, file)
      expect(counts.problems).toBe(1)
      expect(world.appointment).toEqual(THREE.appointment)
    },
  )

  it('an earlier version of it in the same history is not booked', () => {
    const file = bundle('history', [
      { request: { method: 'DELETE', url: 'Appointment/z' } },
      patient,
      { ...visit('z', 15), request: { method: 'PUT', url: 'Appointment/z' } },
    ])
    expect(importFile(smallClinic(), file).counts).toMatchObject({ new: 0, problems: 1 })
  })

  it('of another kind it is passed over, and every entry is accounted for', () => {
    const file = bundle('transaction', [
      { request: { method: 'DELETE', url: 'ServiceRequest/s1' } },
      { request: { method: 'DELETE', url: 'Appointment?identifier=x' } },
    ])
    const { passedOver, problems, rows } = read(file)
    expect(passedOver).toEqual([{ line: 1, why: 'ServiceRequest: said to be deleted' }])
    expect(problems).toHaveLength(1)
    expect(rows).toBe(2)
  })
})

describe('a list of a room that is not known here', () => {
  const before = importFile(
    smallClinic(),
    list(row({ id: 'a', operatory: '' }), row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda' })),
  ).world

  it.each([
    ['that room alone', [row({ id: 'c', operatory: 'Garden', patient: 'Pell, Otis' })]],
    [
      'that room and another',
      [
        row({ id: 'c', operatory: 'Garden', patient: 'Pell, Otis' }),
        row({ id: 'd', operatory: '7', patient: 'Quill, Ren', start: '12:00' }),
      ],
    ],
  ])('%s: speaks for no visit without a room', (_, rows) => {
    expect(importFile(before, list(...rows)).counts).toMatchObject({ vanished: 0 })
  })
})
