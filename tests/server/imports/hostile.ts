import fc from 'fast-check'

/** A file that is whole outside and hostile inside, and where each of its records stands: a line, or a place from 1. */
export interface Hostile {
  bytes: Buffer
  records: number[]
}

/** Words that somebody's list holds, or nobody's should. */
const odd = fc.oneof(
  fc.constantFrom(
    '',
    ' ',
    '-',
    '0',
    '-1',
    '1e308',
    'NaN',
    'null',
    'constructor',
    '__proto__',
    'Page',
    'Total',
    '=1+1',
    "'=1",
    '"',
    '""',
    ';',
    'a;=1',
    'a\nb',
    'a\r\nb',
    '\t',
    '\u0000',
    '\uD800',
    '\uFFFD',
    '\u202E',
    '24:00',
    '0.25',
    '00:60',
    '31/02/2026',
    '46352.999999',
    '9999-12-31',
    '0000-01-01',
    '2026-11-24T25:00:00Z',
    'x'.repeat(600),
  ),
  fc.string({ maxLength: 20 }),
  fc.string({ unit: 'grapheme', maxLength: 12 }),
)
/** Mostly what it should be, else something odd. */
const mostly = (...right: string[]): fc.Arbitrary<string> =>
  fc.oneof({ weight: 9, arbitrary: fc.constantFrom(...right) }, { weight: 1, arbitrary: odd })

const cell = (text: string): string => `"${text.replaceAll('"', '""')}"`
const linesIn = (text: string): number => text.split(/\r\n|\r|\n/).length

const CSV_HEADER = 'Id,Date,Start,End,Operatory,Dentist,Patient,Born,Procedure,Allergies,Status,Note'
const csvRow = fc.tuple(
  mostly('a', 'b', 'c', 'd', ''),
  mostly('2026-11-24', '24/11/2026', 'Tue 24 Nov 2026', '46350'),
  mostly('09:00', '9:30 am', '0.375', '1405'),
  mostly('', '16:30', '2026-11-24 17:00'),
  mostly('1', '2', ''),
  mostly('Dr Corrigan', ''),
  mostly('Ashgrove, Aoife', 'Yarrow, Wanda', 'Count, Dora'),
  mostly('1990-05-01', '', '1-May-1990'),
  mostly('comp 46 MO', 'RCT 36', ''),
  mostly('', 'latex', 'NKDA'),
  mostly('booked', 'cancelled', ''),
  mostly('', 'late', 'x'.repeat(9000)),
)
/** How a row stands among the others: whole, with a cell too few or too many, or with a quote that never closes. */
const stance = fc.oneof(
  { weight: 12, arbitrary: fc.constant('whole' as const) },
  { weight: 1, arbitrary: fc.constantFrom('short', 'long', 'open') },
)
const rowText = (cells: readonly string[], how: 'whole' | 'short' | 'long' | 'open'): string => {
  const text = (how === 'short' ? cells.slice(1) : how === 'long' ? [...cells, 'more'] : cells)
    .map(cell)
    .join(',')
  return how === 'open' ? text.replace(/[\r\n]/g, ' ').slice(0, -1) : text
}

export const hostileCsv: fc.Arbitrary<Hostile> = fc
  .array(fc.tuple(csvRow, stance), { minLength: 1, maxLength: 8 })
  .map((rows) => {
    const texts = rows.map(([cells, how]) => rowText(cells, how))
    let line = 2
    const records = texts.map((text) => {
      const at = line
      line += linesIn(text)
      return at
    })
    return { bytes: Buffer.from([CSV_HEADER, ...texts].join('\r\n')), records }
  })

type Json = null | boolean | number | string | Json[] | { [key: string]: Json }
const oddJson: fc.Arbitrary<Json> = fc.oneof(
  odd,
  fc.constantFrom<Json>(null, true, -1, 1e308, [], {}, [null], [[]], { a: {} }, ['x'], { reference: '#x' }),
)

const resource: fc.Arbitrary<Json> = fc.oneof(
  fc.record({
    resourceType: fc.constant('Patient'),
    id: mostly('p', 'q'),
    name: fc.tuple(
      fc.record({ family: mostly('Ashgrove', 'Yarrow'), given: fc.tuple(mostly('Aoife', 'Wanda')) }),
    ),
    birthDate: mostly('1990-05-01'),
  }),
  fc.record({
    resourceType: fc.constant('Appointment'),
    id: mostly('a', 'b', 'c'),
    status: mostly('booked', 'cancelled', 'proposed'),
    start: mostly('2026-11-24T09:00:00Z', '2026-11-24T11:00:00+01:00'),
    end: mostly('2026-11-24T16:30:00Z'),
    comment: mostly('late', 'x'.repeat(9000)),
    reasonCode: fc.tuple(fc.record({ text: mostly('RCT 36', 'comp 46 MO') })),
    participant: fc.tuple(
      fc.record({
        actor: fc.record({ reference: mostly('Patient/p', 'Patient/q') }),
        status: mostly('accepted'),
      }),
    ),
  }),
  fc.record({
    resourceType: fc.constant('AllergyIntolerance'),
    id: mostly('l', 'm'),
    patient: fc.record({ reference: mostly('Patient/p', 'Patient/q') }),
    code: fc.record({ text: mostly('Latex', 'penicillin') }),
    clinicalStatus: fc.record({ coding: fc.tuple(fc.record({ code: mostly('active', 'resolved') })) }),
  }),
  fc.record({
    resourceType: fc.constant('ServiceRequest'),
    id: mostly('s', 't'),
    status: mostly('active', 'completed'),
    intent: mostly('order'),
    subject: fc.record({ reference: mostly('Patient/p') }),
    bodySite: fc.tuple(fc.record({ text: mostly('36', 'UL6') })),
  }),
) as fc.Arbitrary<Json>
/** Now and then one element of a resource is something else, or gone. */
const wounded: fc.Arbitrary<Json> = fc
  .tuple(
    resource,
    fc.option(fc.tuple(fc.nat(20), fc.option(oddJson, { nil: undefined })), { freq: 3, nil: null }),
  )
  .map(([whole, wound]) => {
    if (wound === null || whole === null || typeof whole !== 'object' || Array.isArray(whole)) return whole
    const [at, value] = wound
    const keys = Object.keys(whole)
    const key = keys[at % keys.length] ?? 'id'
    const { [key]: _, ...rest } = whole
    return value === undefined ? rest : { ...rest, [key]: value }
  })
const resources = fc.array(wounded, { minLength: 1, maxLength: 7 })
/** Together with a patient and a visit of theirs that nothing ails, so that there is something to be read. */
const SOUND: Json[] = [
  { resourceType: 'Patient', id: 'sound', name: [{ family: 'Fennimore', given: ['Farid'] }] },
  {
    resourceType: 'Appointment',
    id: 'sound',
    status: 'booked',
    start: '2026-11-24T14:00:00Z',
    end: '2026-11-24T14:30:00Z',
    participant: [{ actor: { reference: 'Patient/sound' }, status: 'accepted' }],
  },
]
const places = (all: readonly unknown[]): number[] => all.map((_, index) => index + 1)

export const hostileBundle: fc.Arbitrary<Hostile> = fc
  .tuple(resources, fc.constantFrom('collection', 'searchset', 'message'))
  .map(([all, type]) => {
    const entry = [...SOUND, ...all].map((each) => ({ resource: each }))
    return {
      bytes: Buffer.from(JSON.stringify({ resourceType: 'Bundle', type, entry })),
      records: places(entry),
    }
  })

/** A line now and then is no JSON, or none that is meant. */
const line = fc.oneof(
  { weight: 12, arbitrary: wounded.map((json) => JSON.stringify(json)) },
  {
    weight: 1,
    arbitrary: fc.constantFrom('{', '[]', 'null', '{"resourceType":', '{"a":1}}', 'x'.repeat(600)),
  },
)
export const hostileLines: fc.Arbitrary<Hostile> = fc
  .array(line, { minLength: 1, maxLength: 7 })
  .map((lines) => {
    const all = [...SOUND.map((json) => JSON.stringify(json)), ...lines]
    return { bytes: Buffer.from(all.join('\n')), records: places(all) }
  })

const property = (name: string, ...values: string[]): fc.Arbitrary<string> =>
  mostly(...values).map(
    (value) => `${name}${name.endsWith('=') ? '' : ':'}${value.replace(/[\r\n]+/g, '\\n')}`,
  )
const some = (arbitrary: fc.Arbitrary<string>): fc.Arbitrary<string | null> =>
  fc.option(arbitrary, { nil: null })
const event: fc.Arbitrary<string[]> = fc
  .tuple(
    property('UID', 'a', 'b', 'c'),
    property('DTSTAMP', '20261101T080000Z', '20261102T080000Z'),
    property('DTSTART', '20261124T090000Z', '20261124T110000', '20261125T100000Z'),
    property('DTEND', '20261125T160000', '20261124T163000Z'),
    property('SUMMARY', 'Ashgrove\\, Aoife: comp 46 MO', 'Yarrow\\, Wanda - RCT 36'),
    some(property('SEQUENCE', '0', '1', '2')),
    some(property('STATUS', 'CONFIRMED', 'CANCELLED', 'TENTATIVE')),
    some(property('DESCRIPTION', 'Born: 1990-05-01', 'Allergies: latex', 'x'.repeat(9000))),
    some(property('LOCATION', '1', '2')),
    fc.option(property('RRULE', 'FREQ=DAILY;COUNT=3', 'FREQ=WEEKLY;COUNT=2', 'FREQ=DAILY;UNTIL=20261201'), {
      freq: 5,
      nil: null,
    }),
    fc.option(property('RECURRENCE-ID', '20261124T090000Z', '20261125T090000Z'), { freq: 6, nil: null }),
    fc.option(property('EXDATE', '20261125T090000Z', '20261124T110000'), { freq: 6, nil: null }),
  )
  .map((lines) => ['BEGIN:VEVENT', ...lines.filter((each) => each !== null), 'END:VEVENT'])

const HEAD = ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Quay//EN']
const SOUND_EVENT = [
  'BEGIN:VEVENT',
  'UID:sound',
  'DTSTAMP:20261101T080000Z',
  'DTSTART:20261124T140000Z',
  'DTEND:20261124T143000Z',
  'SUMMARY:Fennimore\\, Farid: exam',
  'END:VEVENT',
]
export const hostileCalendar: fc.Arbitrary<Hostile> = fc
  .array(event, { minLength: 1, maxLength: 6 })
  .map((events) => {
    const lines = [...HEAD]
    const records = [SOUND_EVENT, ...events].map((each) => {
      lines.push(...each)
      return lines.length - each.length + 1
    })
    return { bytes: Buffer.from([...lines, 'END:VCALENDAR', ''].join('\r\n')), records }
  })
