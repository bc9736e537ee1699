import { describe, expect, test } from 'vitest'
import { sayToDesk } from '#shared/words/en.ts'
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
    story.does(
      'corrigan',
      'work.name',
      { appointmentId: id, workId, kind: 'extraction', teeth: ['47'] },
      '09:03',
    )
    expect(gate()).toContain('consent/differs')
  })
})
