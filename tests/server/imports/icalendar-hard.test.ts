import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { parseICalendar } from '#server/imports/icalendar.ts'
import { readCalendar } from '#server/imports/icalendar-events.ts'
import type { ReadOptions } from '#server/imports/incoming.ts'
import type { Zone } from '#shared/base/moment.ts'

const FOLDER = new URL('../../fixtures/ics-hard/', import.meta.url)
const OPTIONS: ReadOptions = { source: 'calendar', zone: 'America/New_York' as Zone, notation: 'iso' }

interface Expected {
  starts?: string[]
  dates?: string[]
  end?: string
  date?: string
  summary?: string
  local?: string
  expect?: string
  status?: string
}
/** The right answers, in UTC: the time zone data of 2025c, RFC 5545 (READ) and Temporal as the clock. */
const { cases } = JSON.parse(readFileSync(new URL('expected.json', FOLDER), 'utf8')) as {
  cases: Record<string, Expected>
}

const minute = (at: number): string => `${new Date(at).toISOString().slice(0, 16)}Z`
const bytesOf = (name: string) => readFileSync(new URL(`${name}.ics`, FOLDER))

describe('hard calendar files', () => {
  it.each(Object.entries(cases))('%s', (name, expected) => {
    const calendar = readCalendar(bytesOf(name), OPTIONS)
    const [event] = calendar.events
    if (expected.starts)
      expect(calendar.events.map(({ start }) => minute(start)).sort()).toEqual(expected.starts)
    if (expected.dates)
      expect(calendar.events.map(({ start }) => minute(start).slice(0, 10)).sort()).toEqual(expected.dates)
    if (expected.end?.endsWith('Z')) expect(minute(event?.end ?? 0)).toBe(expected.end)
    if (expected.end === 'same instant') expect(event?.end).toBe(event?.start)
    if (expected.status === 'CANCELLED') expect(event?.cancelled).toBe(true)
    if (expected.summary)
      expect(
        parseICalendar(bytesOf(name), { ...OPTIONS, mapping: { SUMMARY: 'patient' } }).appointments[0]
          ?.patient?.family,
      ).toBeDefined()
    if (expected.date) {
      expect(calendar.events).toEqual([])
      expect(calendar.problems[0]).toMatchObject({ field: 'DTSTART', line: 4 })
      expect(calendar.problems[0]?.original).toContain(expected.date.replaceAll('-', ''))
    }
    if (expected.local) {
      expect(minute(event?.start ?? 0)).toBe('2026-11-24T14:00Z')
      expect(event?.floating).toBe(true)
    }
    if (expected.expect) expect(parseICalendar(bytesOf(name), OPTIONS).problems).toHaveLength(1)
  })

  it.each([
    ['06-fold-in-utf8', cases['06-fold-in-utf8']?.summary],
    ['07-fold-ws', cases['07-fold-ws']?.summary],
    ['08-escapes', cases['08-escapes']?.summary],
  ])('%s keeps every letter of its summary', (name, summary) => {
    const [event] = readCalendar(bytesOf(name), OPTIONS).events
    const written = event?.component.properties.find((property) => property.name === 'SUMMARY')?.value
    expect(
      written?.replace(/\\([nN;,\\])/g, (_, sign: string) => (sign.toLowerCase() === 'n' ? '\n' : sign)),
    ).toBe(summary)
  })

  it('08-escapes names a patient and lines of work', () => {
    const [appointment] = parseICalendar(bytesOf('08-escapes'), OPTIONS).appointments
    expect(appointment).toMatchObject({
      patient: { family: 'Smith', given: 'J' },
      work: [{ text: 'tooth 36' }, { text: 'O\\D' }],
      operatory: 'Room 2',
    })
  })

  it('an event of no length is told, not taken: the end in 02-gap falls on the start', () => {
    const { appointments, problems } = parseICalendar(bytesOf('02-gap'), OPTIONS)
    expect(appointments).toEqual([])
    expect(problems.map(({ field }) => field)).toEqual(['DTEND'])
  })
})
