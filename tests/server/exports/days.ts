import fc from 'fast-check'
import { makeCell } from '#server/exports/csv.ts'
import type { World } from '#shared/facts.ts'
import { importFile, smallClinic } from '../imports/small-clinic.ts'

const HEADER =
  'Id,Date,Start,Minutes,Operatory,Dentist,Family name,Given name,Born,Procedure,Allergies,Note,Status'

const name = fc.constantFrom(
  'Ashgrove',
  'Ó Briain',
  'van der Lind',
  'Zoë-Marie',
  'Łuczak',
  "D'Arcy",
  'Smith, junior',
  '山田',
  'Aoife',
  'Émile',
)
const words = fc.oneof(
  fc.constantFrom(
    'comp 46 MO',
    'RCT 36',
    'fissure sealants 16 26 36 46',
    'pulpotomy 75',
    'broken tooth UR',
    '=HYPERLINK("x")',
    '+1 visit',
    '-',
    '@home',
    'line one\nline two',
    'say "ah"',
    'Tooth: 36',
    'ends with \\',
    'é'.repeat(80),
  ),
  fc.string({ maxLength: 30 }),
)
const two = (value: number): string => String(value).padStart(2, '0')

const row = fc.record({
  id: fc.nat(30),
  hour: fc.integer({ min: 8, max: 18 }),
  quarter: fc.integer({ min: 0, max: 3 }),
  minutes: fc.constantFrom(10, 20, 45, 90),
  operatory: fc.constantFrom('', '1', '4', '10'),
  dentist: fc.constantFrom('', 'Dr Corrigan', 'S. Wolters'),
  family: name,
  given: name,
  born: fc.option(fc.integer({ min: 1930, max: 2024 }), { nil: null }),
  work: words,
  allergies: fc.constantFrom('', '', 'latex', 'NKDA', 'sensitive to gloves', 'NO latex allergy'),
  note: words,
  status: fc.constantFrom(
    'booked',
    'booked',
    'proposed',
    'pending',
    'arrived',
    'fulfilled',
    'cancelled',
    'noshow',
    'entered-in-error',
    'checked-in',
    'waitlist',
  ),
})
type Row = typeof row extends fc.Arbitrary<infer T> ? T : never

const cellsOf = (each: Row, day: string): string[] => [
  `v${each.id}`,
  day,
  `${two(each.hour)}:${two(each.quarter * 15)}`,
  String(each.minutes),
  each.operatory,
  each.dentist,
  each.family,
  each.given,
  each.born === null ? '' : `${each.born}-0${1 + (each.id % 9)}-15`,
  each.work,
  each.allergies,
  each.note,
  each.status,
]

/** A clinic with a generated day in it. A day of the autumn clock change is among them. */
export const day: fc.Arbitrary<World> = fc
  .tuple(
    fc.uniqueArray(row, { selector: ({ id }) => id, minLength: 1, maxLength: 5 }),
    fc.constantFrom('2026-11-24', '2026-07-01', '2026-10-25', '2027-03-28'),
  )
  .map(
    ([rows, on]) =>
      importFile(
        smallClinic(),
        [HEADER, ...rows.map((each) => cellsOf(each, on).map(makeCell).join(','))].join('\r\n'),
      ).world,
  )
