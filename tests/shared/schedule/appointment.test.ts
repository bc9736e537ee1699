import { describe, expect, test } from 'vitest'
import { DEMO_DAY } from '#seed/clinic.ts'
import { must } from '#shared/base/assert.ts'
import { answers, comesIn, openStory, patientOf, seated } from './story.ts'

const rulesOf = (decision: { ok: boolean } & object): string[] =>
  'value' in decision
    ? (decision.value as { findings: { rule: string }[] }).findings.map(({ rule }) => rule)
    : ['refused']

describe('booking', () => {
  test('one form makes patient, appointment, work, plan and tray, and keeps the booking’s own words', () => {
    const story = openStory()
    const id = story.book({ work: ['RCT 36', 'check-up'] })
    const { appointment, work, plan, tray, patient } = story.world()
    expect([appointment.length, patient.length, plan.length, tray.length]).toEqual([1, 1, 1, 1])
    expect(work.map(({ text, kind, teeth }) => [text, kind, teeth])).toEqual([
      ['RCT 36', 'root-canal', ['36']],
      ['check-up', 'exam', []],
    ])
    expect(story.appointment(id).status).toBe('booked')
  })

  test('a known patient is booked again, not made again', () => {
    const story = openStory()
    const patient = { kind: 'known', id: patientOf(story, story.book()) }
    story.book({ startsAt: '11:00', patient })
    expect(story.world().patient).toHaveLength(1)
  })

  test('[patient/unknown] [person/unknown] [room/unknown] [site/unknown] what is not known is refused and nothing is made', () => {
    const story = openStory()
    const nobody = '00000000-0000-8000-8000-000000000000'
    const booking = {
      siteId: story.site(),
      day: DEMO_DAY,
      startsAt: '09:00',
      minutes: 30,
      operatoryId: story.room('1'),
      dentistId: story.member('corrigan'),
      patient: { kind: 'new', given: 'Ann', family: 'Byrne', born: null },
      work: [],
    }
    const refusals = (more: object) => story.refusals('kallas', 'appointment.book', { ...booking, ...more })
    expect(refusals({ patient: { kind: 'known', id: nobody } })).toEqual(['patient/unknown'])
    expect(refusals({ dentistId: nobody })).toEqual(['person/unknown'])
    expect(refusals({ operatoryId: nobody })).toEqual(['room/unknown'])
    expect(refusals({ siteId: nobody })).toEqual(['site/unknown'])
    expect(story.world().appointment).toEqual([])
  })

  test('[person/cannot-treat] [person/inactive] a desk does not treat, nor one who has left', () => {
    const story = openStory()
    const id = story.book()
    const change = (dentistId: string) =>
      story.refusals('kallas', 'appointment.change', { appointmentId: id, dentistId })
    expect(change(story.member('kallas'))).toEqual(['person/cannot-treat'])
    story.does('vasarely', 'person.deactivate', { memberId: story.member('brandt') })
    expect(change(story.member('brandt'))).toEqual(['person/inactive'])
  })

  // Dublin’s clocks jump from 01:00 to 02:00 on 2026-03-29 (READ: tz database).
  test('[time/does-not-exist] a time the clocks jump over is asked about, never guessed', () => {
    const story = openStory()
    const id = story.book()
    const moved = { appointmentId: id, day: '2026-03-29', startsAt: '01:30' }
    expect(story.refusals('kallas', 'appointment.change', moved)).toEqual(['time/does-not-exist'])
    expect(story.appointment(id).day).toBe(DEMO_DAY)
  })

  test('what it breaks is told with it, and the desk decides', () => {
    const story = openStory()
    story.book()
    const decision = story.ask('kallas', 'appointment.book', {
      siteId: story.site(),
      day: DEMO_DAY,
      startsAt: '09:20',
      minutes: 30,
      operatoryId: story.room('1'),
      dentistId: story.member('corrigan'),
      patient: { kind: 'new', given: 'Carla', family: 'Roth', born: null },
      work: ['check-up'],
    })
    expect(rulesOf(decision)).toEqual(['room/clash', 'dentist/clash'])
  })
})

describe('changing and ending', () => {
  test('a change keeps what it does not name, and the tray where the plan stays', () => {
    const story = openStory()
    const id = story.book({ work: ['RCT 36'] })
    const before = story.appointment(id)
    const tray = story.world().tray
    story.does('kallas', 'appointment.change', {
      appointmentId: id,
      startsAt: '10:00',
      operatoryId: story.room('2'),
    })
    const after = story.appointment(id)
    expect(after).toEqual({
      ...before,
      startsAt: '10:00',
      start: before.start + 3_600_000,
      operatoryId: story.room('2'),
    })
    expect(story.world().tray).toEqual(tray)
  })

  test('[appointment/under-way] in the chair, place and hour stay; who treats may change', () => {
    const story = openStory()
    const id = story.book()
    seated(story, id)
    const change = (more: object) =>
      story.refusals('kallas', 'appointment.change', { appointmentId: id, ...more }, '09:05')
    expect(change({ startsAt: '11:00' })).toEqual(['appointment/under-way'])
    expect(change({ operatoryId: story.room('2') })).toEqual(['appointment/under-way'])
    expect(
      story.refusals('kallas', 'appointment.cancel', { appointmentId: id, reason: 'x' }, '09:05'),
    ).toEqual(['appointment/under-way'])
    expect(change({ dentistId: story.member('brandt') })).toEqual([])
  })

  test('[appointment/over] what is over is not changed any more', () => {
    const story = openStory()
    const id = story.book()
    story.does('kallas', 'appointment.cancel', { appointmentId: id, reason: 'ill' })
    for (const [kind, more] of [
      ['appointment.change', { startsAt: '11:00' }],
      ['appointment.arrive', {}],
      ['appointment.cancel', { reason: 'again' }],
      ['appointment.no-show', {}],
    ] as const) {
      expect(story.refusals('kallas', kind, { appointmentId: id, ...more })).toEqual(['appointment/over'])
    }
  })

  test('[appointment/not-vanished] [appointment/accepted-already] an answer to a question nobody asked is refused', () => {
    const story = openStory()
    const appointmentId = story.book()
    expect(story.refusals('kallas', 'appointment.keep', { appointmentId })).toEqual([
      'appointment/not-vanished',
    ])
    expect(story.refusals('tornqvist', 'appointment.accept', { appointmentId })).toEqual([
      'appointment/accepted-already',
    ])
  })

  test('[appointment/not-accepted] an emergency squeezed in is not seated before the chair team accepts it', () => {
    const story = openStory()
    const appointmentId = story.book({ emergency: true })
    expect(story.appointment(appointmentId).status).toBe('pending')
    comesIn(story, appointmentId)
    expect(story.appointment(appointmentId).status).toBe('pending')
    const named = { ...answers(story, appointmentId), how: 'asked' }
    story.does('tornqvist', 'visit.identify', named, '08:58')
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId }, '09:00')).toEqual([
      'appointment/not-accepted',
    ])
    story.does('tornqvist', 'appointment.accept', { appointmentId }, '09:00')
    story.does('tornqvist', 'visit.seat', { appointmentId }, '09:00')
  })

  test('[visit/wrong-stage] who is here has not failed to come', () => {
    const story = openStory()
    const appointmentId = story.book()
    story.does('kallas', 'appointment.arrive', { appointmentId })
    expect(story.refusals('kallas', 'appointment.no-show', { appointmentId })).toEqual(['visit/wrong-stage'])
  })

  test('a no-show gives an unopened tray back', () => {
    const story = openStory()
    const appointmentId = story.book({ work: ['RCT 36'] })
    expect(must(story.world().tray[0], 'there is a tray').life.kind).toBe('needed')
    story.does('kallas', 'appointment.no-show', { appointmentId }, '09:20')
    expect(story.appointment(appointmentId).status).toBe('noshow')
    expect(story.world().tray.every(({ life }) => life.kind === 'cleared')).toBe(true)
  })
})
