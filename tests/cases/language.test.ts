import { describe, expect, test } from 'vitest'
import { DEMO_DAY } from '#seed/clinic.ts'
import { momentOf } from '#seed/telling.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { sayToDesk } from '#shared/words/en.ts'
import { judgedFor } from '#shared/words/judged.ts'
import { answers, comesIn, openStory, patientOf, seated } from '../shared/schedule/story.ts'

const PETRA = { kind: 'new', given: 'Petra', family: 'Vidal', born: '1992-12-20', interpreter: 'Italian' }

describe('language', () => {
  // READ.
  test('case 81 an interpreter is needed: present is recorded as professional, staff, or relative with a reason', () => {
    const story = openStory()
    const id = story.book({ patient: PETRA, work: ['extraction 46'] })
    const patientId = patientOf(story, id)
    comesIn(story, id)
    story.does('tornqvist', 'visit.identify', { ...answers(story, id), how: 'asked' }, '08:58')
    const decision = story.ask('tornqvist', 'visit.seat', { appointmentId: id }, '09:00')
    expect(decision).toMatchObject({
      ok: false,
      reasons: [{ rule: 'interpreter/not-recorded', language: 'Italian' }],
    })
    if (!decision.ok)
      expect(decision.reasons.map(sayToDesk)).toEqual(['Record whether the interpreter is here (Italian).'])
    const relative = { kind: 'interpreter', who: 'relative' }
    expect(() =>
      story.ask('kallas', 'companion.record', { patientId, companion: relative }, '09:00'),
    ).toThrow()
    story.does(
      'kallas',
      'companion.record',
      { patientId, companion: { ...relative, reason: 'nobody else could come' } },
      '09:00',
    )
    story.does('tornqvist', 'visit.seat', { appointmentId: id }, '09:00')
    expect(story.world().patient[0]?.interpreter?.present).toMatchObject({
      kind: 'relative',
      reason: 'nobody else could come',
    })
  })

  // READ.
  test('case 81 the day before, the desk is given a task: book the interpreter; once booked it is silent', () => {
    const story = openStory()
    const id = story.book({ patient: PETRA, work: ['extraction 46'] })
    const line = () =>
      judgedFor(
        boardFor(story.world(), { siteId: story.site(), day: DEMO_DAY, now: momentOf(DEMO_DAY, '08:00') }),
        'desk',
      )
        .lanes.flatMap(({ next }) => next)
        .find(({ appointmentId }) => appointmentId === id)
    expect(line()).toMatchObject({
      state: 'ask',
      next: 'front-desk',
      says: 'Book an interpreter (Italian).',
      task: 'book-interpreter',
    })
    story.does('kallas', 'interpreter.book', { appointmentId: id, who: 'language service, 11:00' })
    expect(line()?.says).not.toContain('interpreter')
    const refused = story.refusals('kallas', 'interpreter.book', { appointmentId: story.book(), who: 'x' })
    expect(refused).toEqual(['patient/no-companion'])
  })

  // READ.
  test('case 81 a stop-signal card in that language lies on the tray', () => {
    const story = openStory()
    const id = story.book({ patient: PETRA, work: ['extraction 46'] })
    const tray = story.world().tray.find(({ appointmentId }) => appointmentId === id)
    const names = story
      .world()
      .trayLine.filter(({ trayId }) => trayId === tray?.id)
      .map(({ name }) => name)
    expect(names).toContain('stop-signal card, Italian')
    const other = story.book({ startsAt: '11:00', work: ['extraction 36'] })
    const plain = story.world().tray.find(({ appointmentId }) => appointmentId === other)
    expect(
      story
        .world()
        .trayLine.filter(({ trayId, item }) => trayId === plain?.id && item === 'stop-signal-card'),
    ).toEqual([])
  })

  // READ. What was permitted for one tooth permits nothing of another: the question is open again.
  test('case 81 work that changes in the chair asks for permission again', () => {
    const story = openStory()
    const id = story.book({ patient: { ...PETRA, interpreter: null }, work: ['extraction 46'] })
    seated(story, id)
    story.does(
      'tornqvist',
      'consent.record',
      { appointmentId: id, text: 'agreed through the interpreter', teeth: ['46'] },
      '09:01',
    )
    const gate = () => story.refusals('corrigan', 'visit.start', { appointmentId: id }, '09:05')
    expect(gate()).not.toContain('consent/differs')
    const workId = story.world().work[0]?.id
    story.does('tornqvist', 'visit.identify', { ...answers(story, id), how: 'typed' }, '09:02')
    story.does(
      'corrigan',
      'work.name',
      { appointmentId: id, workId, kind: 'extraction', teeth: ['47'] },
      '09:03',
    )
    expect(gate()).toContain('consent/differs')
  })
})
