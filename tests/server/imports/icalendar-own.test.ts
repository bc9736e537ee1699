import { describe, expect, it } from 'vitest'
import { makeICalendar } from '#server/exports/icalendar.ts'
import { must } from '#shared/base/assert.ts'
import { instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import { effect, importFile, smallClinic } from './small-clinic.ts'

const versionOf = () => ({ sequence: 1, at: instant(Date.UTC(2026, 10, 24)) })
const feedOf = (world: World): string =>
  makeICalendar(world, { name: 'Quay', detail: true, versionOf, departed: [] })

const FIRST = [
  'BEGIN:VCALENDAR',
  'BEGIN:VEVENT',
  'UID:a',
  'DTSTART:20261124T100000Z',
  'DURATION:PT30M',
  'SUMMARY:Ashgrove\\, Aoife: RCT 36',
  'DESCRIPTION:Born: 1990-05-01',
  'END:VEVENT',
  'END:VCALENDAR',
].join('\n')

/** One visit whose note and line of work are as given. */
function visitWith({ note, text }: { note: string; text: string }): World {
  const { world } = importFile(smallClinic(), FIRST)
  const [appointment, work] = [must(world.appointment[0], 'a visit'), must(world.work[0], 'its work')]
  return { ...world, appointment: [{ ...appointment, note }], work: [{ ...work, text }] }
}

describe('words of our own come home in an iCalendar feed', () => {
  it.each([
    ['a note with a carriage return', { note: 'a\r\nb', text: 'RCT 36' }],
    ['a note with spaces at its edges', { note: '  needs the wide chair \n', text: 'RCT 36' }],
    ['a note that looks like fields', { note: '--\nProcedure: x\n  y', text: 'RCT 36' }],
    ['work with a line break', { note: 'n', text: 'RCT 36\nsecond visit' }],
    ['work with a line break and an indent', { note: '', text: 'RCT 36\n  Born: 1990' }],
  ])('%s', (_, words) => {
    const world = visitWith(words)
    const home = importFile(world, feedOf(world))
    expect(effect(home)).toEqual([])
    expect(home.counts).toMatchObject({ unchanged: 1, changed: 0, problems: 0 })
  })
})
