import { describe, expect, test } from 'vitest'
import { DEMO_DAY } from '#seed/clinic.ts'
import { momentOf } from '#seed/telling.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { boardFor } from '#shared/readiness/board.ts'
import {
  answers,
  comesIn,
  identified,
  openStory,
  openTray,
  patientOf,
  type Story,
  seated,
} from '../shared/schedule/story.ts'

const lineOf = (story: Story, id: AppointmentId, time = '08:30') => {
  const board = boardFor(story.world(), {
    siteId: story.site(),
    day: DEMO_DAY,
    now: momentOf(DEMO_DAY, time),
  })
  return board.lanes
    .flatMap(({ now, next }) => (now ? [now, ...next] : next))
    .find((line) => line.appointmentId === id)
}
const person = (given: string, family: string, born: string, more: object = {}) => ({
  patient: { kind: 'new', given, family, born, ...more },
})

describe('which patient', () => {
  // READ.
  test('case 17 two patients with the same full name: alert on both rows all day, seating needs name and birth date, entered', () => {
    const story = openStory()
    const one = story.book(person('Ann', 'Byrne', '1980-02-03'))
    const two = story.book({
      startsAt: '15:00',
      operatoryId: story.room('2'),
      ...person('Ann', 'Byrne', '1991-07-01'),
    })
    expect([lineOf(story, one)?.nameAlert, lineOf(story, two)?.nameAlert]).toEqual([true, true])
    comesIn(story, one)
    const named = answers(story, one)
    expect(story.refusals('tornqvist', 'visit.identify', { ...named, how: 'asked' }, '08:58')).toEqual([
      'identity/not-typed',
    ])
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId: one }, '09:00')).toEqual([
      'identity/missing',
    ])
    story.does('tornqvist', 'visit.identify', { ...named, how: 'typed' }, '08:58')
    story.does('tornqvist', 'visit.seat', { appointmentId: one }, '09:00')
    story.does('tornqvist', 'history.confirm', { patientId: patientOf(story, one) }, '09:01')
    openTray(story, one)
    story.does('corrigan', 'visit.start', { appointmentId: one }, '09:02')
    story.does('corrigan', 'visit.finish', { appointmentId: one }, '09:10')
    story.does('tornqvist', 'visit.leave', { appointmentId: one }, '09:12')
    // The first has gone home; the second still carries the alert.
    expect(lineOf(story, two, '14:00')?.nameAlert).toBe(true)
  })

  // READ. The same kind in other clothes: nearly the same name, swapped names, the same birth date with one dentist.
  test.each([
    ['Ana', 'Byrne', '1991-07-01'],
    ['Ann', 'Byrnes', '1991-07-01'],
    ['Byrne', 'Ann', '1991-07-01'],
    ['Zoe', 'Quirk', '1980-02-03'],
  ])('case 17 as well: %s %s, born %s', (given, family, born) => {
    const story = openStory()
    const one = story.book(person('Ann', 'Byrne', '1980-02-03'))
    story.book({ startsAt: '15:00', operatoryId: story.room('2'), ...person(given, family, born) })
    expect(lineOf(story, one)?.nameAlert).toBe(true)
  })

  // READ. Mouth and plan differ: who before what. Read back with another tooth is not taken: who it is is
  // asked anew, and what answers it is a stop, not a quick edit: whoever reads back may not name the work.
  test('case 18 chair and plan differ by one tooth: who it is is asked anew, and the tooth cannot be edited by whoever reads it back', () => {
    const story = openStory()
    const id = story.book({ work: ['extraction 46'] })
    seated(story, id)
    const read = { appointmentId: id, teeth: ['45'], planNumber: 1 }
    story.does('tornqvist', 'visit.read-back', read, '09:02')
    expect(story.visit(id)).toMatchObject({ identity: null, readBack: null })
    const work = story.world().work[0]
    const edit = { appointmentId: id, workId: work?.id, kind: 'extraction', teeth: ['45'] }
    expect(story.refusals('larbi', 'work.name', edit, '09:03')).toEqual(['person/not-allowed'])
    // Nor by the dentist, before who it is was asked anew.
    expect(story.refusals('corrigan', 'work.name', edit, '09:04')).toEqual(['work/who-first'])
    identified(story, id, '09:04')
    story.does('corrigan', 'work.name', { ...edit, settles: true }, '09:05')
    story.does('tornqvist', 'stop.check-side', { appointmentId: id }, '09:05')
    expect(lineOf(story, id, '09:06')?.state).toBe('hold')
  })

  // READ.
  test('case 20 siblings in a row with one person: alert on both, and neither is seated before it is recorded who came', () => {
    const story = openStory()
    const child = { guardian: 'mother' }
    const one = story.book({ minutes: 20, ...person('Mia', 'Sand', '2016-04-04', child) })
    const two = story.book({
      startsAt: '09:20',
      minutes: 20,
      operatoryId: story.room('2'),
      ...person('Mika', 'Sand', '2018-05-05', child),
    })
    expect([lineOf(story, one)?.nameAlert, lineOf(story, two)?.nameAlert]).toEqual([true, true])
    for (const id of [one, two]) {
      comesIn(story, id)
      story.does('tornqvist', 'visit.identify', { ...answers(story, id), how: 'typed' }, '08:58')
      expect(story.refusals('tornqvist', 'visit.seat', { appointmentId: id }, '09:00')).toEqual([
        'guardian/not-recorded',
      ])
    }
    story.does(
      'kallas',
      'companion.record',
      { patientId: patientOf(story, one), companion: { kind: 'guardian', relation: 'aunt' } },
      '09:00',
    )
    story.does('tornqvist', 'visit.seat', { appointmentId: one }, '09:00')
    // The answer for one child is none for the other.
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId: two }, '09:00')).toEqual([
      'guardian/not-recorded',
    ])
  })

  // READ. The stop is kept even when it was nothing, and the dentist's word must be given again.
  test('case 16 anyone says “wrong side”: the chair holds everywhere, and the event is kept', () => {
    const story = openStory()
    const id = story.book({ work: ['extraction 46'] })
    seated(story, id)
    story.does('zielak', 'stop.check-side', { appointmentId: id }, '09:02')
    expect(lineOf(story, id, '09:02')).toMatchObject({ state: 'hold', missing: { rule: 'side/stopped' } })
    story.does('corrigan', 'stop.clear', { appointmentId: id, outcome: 'nothing-wrong' }, '09:03')
    expect(lineOf(story, id, '09:03')?.missing?.rule).not.toBe('side/stopped')
    expect(story.world().incident).toMatchObject([{ kind: 'stop-check-side', life: { kind: 'closed' } }])
  })
})
