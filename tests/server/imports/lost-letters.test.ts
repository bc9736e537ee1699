import { describe, expect, it } from 'vitest'
import { readNow } from '#server/imports/read-upload.ts'
import type { ImportFormat } from '#shared/schedule/import-batch.ts'
import type { Incoming } from '#shared/schedule/incoming.ts'
import { effect, importFile, list, OPTIONS, row, smallClinic } from './small-clinic.ts'

interface Booked {
  id: string
  family: string
  start: string
}
const DAY_OF: Booked[] = [
  { id: 'a', family: 'Ångström', start: '10:00' },
  { id: 'b', family: 'Müller-Süß', start: '11:00' },
  { id: 'c', family: 'Brontë', start: '12:00' },
]
const person = ({ id, family }: Booked) => ({
  resourceType: 'Patient',
  id: `p${id}`,
  name: [{ family, given: ['Zoë'] }],
  birthDate: '1990-05-01',
})
const visit = ({ id, family, start }: Booked) => ({
  resourceType: 'Appointment',
  id,
  status: 'booked',
  start: `2026-11-24T${start}:00Z`,
  minutesDuration: 30,
  participant: [{ actor: { reference: `Patient/p${id}`, display: family }, status: 'accepted' }],
})
const event = ({ id, family, start }: Booked, ...more: string[]): string =>
  [
    'BEGIN:VEVENT',
    `UID:${id}`,
    `DTSTART:20261124T${start.replace(':', '')}00Z`,
    'DURATION:PT30M',
    `SUMMARY:${family}\\, Zoë: RCT 36`,
    ...more,
    'END:VEVENT',
  ].join('\r\n')
const calendar = (...events: string[]): string =>
  ['BEGIN:VCALENDAR', ...events, 'END:VCALENDAR', ''].join('\r\n')

const WRITTEN: Record<ImportFormat, (day: Booked[]) => string> = {
  csv: (day) => list(...day.map(({ id, family, start }) => row({ id, start, patient: `${family}, Zoë` }))),
  fhir: (day) =>
    JSON.stringify({
      resourceType: 'Bundle',
      type: 'searchset',
      entry: [...day.map(person), ...day.map(visit)].map((resource) => ({ resource })),
    }),
  ndjson: (day) =>
    [...day.map(person), ...day.map(visit)].map((resource) => JSON.stringify(resource)).join('\n'),
  icalendar: (day) => calendar(...day.map((each) => event(each))),
}
const FORMATS = Object.entries(WRITTEN) as [ImportFormat, (day: Booked[]) => string][]

/** The second half of each such letter is cut off, as a broken transfer leaves it. */
function broken(text: string, letter: string): Buffer {
  const [whole, half] = [Buffer.from(letter), Buffer.from(letter).subarray(0, 1)]
  const parts: Buffer[] = []
  let rest = Buffer.from(text)
  for (let at = rest.indexOf(whole); at >= 0; at = rest.indexOf(whole)) {
    parts.push(rest.subarray(0, at), half)
    rest = rest.subarray(at + whole.length)
  }
  return Buffer.concat([...parts, rest])
}
const read = (file: string | Uint8Array): Incoming => readNow(Buffer.from(file), 'day', OPTIONS).incoming
const families = ({ appointments }: Incoming) => appointments.map(({ patient }) => patient?.family).sort()

describe.each(FORMATS)('a letter lost in %s', (format, write) => {
  const file = broken(write(DAY_OF), 'ß')
  const incoming = read(file)

  it('is a problem with its own row, in three parts, with its words; the others are read as they are', () => {
    expect(incoming.format).toBe(format)
    expect(families(incoming)).toEqual(['Brontë', 'Ångström'])
    const [lost, ...more] = incoming.problems.filter(({ text }) => text.startsWith('A letter of this'))
    expect(lost?.text.split('. ')).toHaveLength(3)
    expect(lost?.original).toContain('Müller-Sü\uFFFD')
    // FHIR says the name twice, on the patient and beside the reference.
    expect(more).toHaveLength(format === 'fhir' || format === 'ndjson' ? 1 : 0)
  })

  it('the row is still listed: nothing vanishes, nothing new is booked', () => {
    const { world } = importFile(smallClinic(), write(DAY_OF))
    expect(world.appointment).toHaveLength(3)
    const after = importFile(world, file)
    expect(after.counts).toMatchObject({ new: 0, changed: 0, cancelled: 0, vanished: 0, unchanged: 2 })
    expect(after.world.patient).toEqual(world.patient)
    expect(effect(after)).toEqual(['importProblem'])
  })
})

describe.each(FORMATS)('letters of another encoding in %s', (_, write) => {
  it('are read as Windows-1252 where no letter is UTF-8, and the preview says so', () => {
    const { appointments, problems, assumed } = read(Buffer.from(write(DAY_OF), 'latin1'))
    expect(problems).toEqual([])
    expect(appointments.map(({ patient }) => patient?.family).sort()).toEqual([
      'Brontë',
      'Müller-Süß',
      'Ångström',
    ])
    expect(assumed.join(' ')).toContain('windows-1252')
    expect(read(write(DAY_OF)).assumed.join(' ')).not.toContain('windows-1252')
  })
})

describe('NDJSON', () => {
  it('who is named by a line in which a letter is lost is not taken by the name beside it', () => {
    const lines = [...DAY_OF.map(person), ...DAY_OF.map((each) => visit({ ...each, family: '' }))]
    const { appointments, problems } = read(broken(lines.map((each) => JSON.stringify(each)).join('\n'), 'ß'))
    expect(appointments).toHaveLength(2)
    expect(problems.map(({ line, field }) => [line, field])).toEqual([
      [2, 'row'],
      [5, 'participant'],
    ])
  })

  it('a stray byte is a lost letter where the rest of the file, or of the line, is UTF-8', () => {
    const stray = Buffer.concat([
      Buffer.from('{"resourceType":"Patient","name":[{"family":"M'),
      Buffer.from([0xfc]),
      Buffer.from('ller"}]}\n'),
    ])
    const other = (family: string): Buffer =>
      Buffer.from(`${JSON.stringify(person({ id: 'x', family, start: '' }))}\n`)
    const lost = (file: Buffer): number =>
      read(file).problems.filter(({ text }) => text.startsWith('A letter')).length
    expect(lost(Buffer.concat([stray, other('Brontë')]))).toBe(1)
    expect(lost(Buffer.concat([Buffer.from('\uFEFF'), stray, stray]))).toBe(2)
    const plain = Buffer.from(
      `${JSON.stringify({ ...person({ id: 'x', family: 'Plain', start: '' }), name: [] })}\n`,
    )
    expect(lost(Buffer.concat([stray, plain]))).toBe(0)
  })

  it('half a letter of UTF-16 is told', () => {
    const text = `\uFEFF${WRITTEN.ndjson(DAY_OF)}`
    const bytes = Buffer.from(text.replace('Brontë', 'Bront\uD83E'), 'utf16le')
    const { problems } = read(bytes)
    expect(problems.filter(({ text: said }) => said.startsWith('A letter'))).toHaveLength(1)
    expect(read(Buffer.from(text, 'utf16le')).problems).toEqual([])
  })
})

describe('iCalendar', () => {
  const daily = { id: 'series', family: 'Ångström', start: '10:00' }
  const series = event(daily, 'RRULE:FREQ=DAILY;COUNT=3')
  const change = (family: string): string =>
    event({ ...daily, family, start: '15:00' }, 'RECURRENCE-ID:20261125T100000Z').replace(
      'DTSTART:20261124',
      'DTSTART:20261125',
    )
  const daysOf = (file: Buffer) => {
    const { appointments, problems } = read(file)
    return {
      days: appointments.map(({ day, startsAt }) => `${day} ${startsAt}`),
      told: problems.map(({ field, externalId }) => `${field} ${externalId}`),
    }
  }

  it('a change of one day in which a letter is lost keeps its place: the day is not booked as it was', () => {
    expect(daysOf(Buffer.from(calendar(series, change('Müller'))))).toEqual({
      days: ['2026-11-24 10:00', '2026-11-26 10:00', '2026-11-25 15:00'],
      told: [],
    })
    expect(daysOf(broken(calendar(series, change('Süß')), 'ß'))).toEqual({
      days: ['2026-11-24 10:00', '2026-11-26 10:00'],
      told: ['row series'],
    })
  })

  it('a series in which a letter is lost is told once, not for each of its days', () => {
    const lost = event({ ...daily, family: 'Süß' }, 'RRULE:FREQ=DAILY;COUNT=3')
    expect(daysOf(broken(calendar(lost, event({ id: 'b', family: 'Brontë', start: '09:00' })), 'ß'))).toEqual(
      {
        days: ['2026-11-24 09:00'],
        told: ['row series'],
      },
    )
  })
})
