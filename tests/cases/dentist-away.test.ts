import { describe, expect, test } from 'vitest'
import { DEMO_DAY } from '#seed/clinic.ts'
import { momentOf } from '#seed/telling.ts'
import { must } from '#shared/base/assert.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { judgeAppointment } from '#shared/readiness/readiness.ts'
import { findTakenOver } from '#shared/readiness/taken-over.ts'
import { say } from '#shared/words/en.ts'
import { judgedFor } from '#shared/words/judged.ts'
import { comesIn, openStory, patientOf, type Story, seated } from '../shared/schedule/story.ts'

const TIMES = ['09:00', '10:00', '11:00', '14:00', '15:00'] as const
const PATIENTS = ['Byrne', 'Roth', 'Okafor', 'Lindqvist', 'Marek'] as const

/** Five visits of one dentist, and another who works that day. */
function openFive() {
  const story = openStory()
  for (const key of ['corrigan', 'brandt'] as const) {
    story.does(
      'kallas',
      'roster.set',
      { ...whose(story, key), hours: [{ from: '08:00', to: '17:30' }] },
      '07:30',
    )
  }
  const visits = TIMES.map((startsAt, index) =>
    story.book({
      startsAt,
      work: ['RCT 36'],
      note: index === 0 ? 'Afraid of the drill: explain each step.' : '',
      patient: { kind: 'new', given: 'Ann', family: PATIENTS[index], born: `198${index}-02-03` },
    }),
  )
  return { story, visits }
}

const whose = (story: Story, key: 'corrigan' | 'brandt') => ({
  memberId: story.member(key),
  siteId: story.site(),
  day: DEMO_DAY,
})

const away = (story: Story, visits: readonly AppointmentId[], more: object = {}) => ({
  ...whose(story, 'corrigan'),
  from: '07:50',
  to: '23:59',
  handOver: visits.map((appointmentId) => ({ appointmentId, dentistId: story.member('brandt') })),
  ...more,
})

const factsOf = (story: Story, id: AppointmentId) =>
  must(findAppointment(indexDay(story.world()), id), 'it is booked')
const openOn = (story: Story, id: AppointmentId, time: string) =>
  must(judgeAppointment(indexDay(story.world()), id, momentOf(DEMO_DAY, time)), 'it can be judged').open
const rulesOn = (story: Story, id: AppointmentId, time: string) =>
  openOn(story, id, time).map(({ rule }) => rule)
const linesOf = (story: Story, time: string) => {
  const board = boardFor(story.world(), {
    siteId: story.site(),
    day: DEMO_DAY,
    now: momentOf(DEMO_DAY, time),
  })
  return judgedFor(board, 'desk').lanes.flatMap(({ now, next }) => (now ? [now, ...next] : next))
}

describe('a dentist is away', () => {
  // READ.
  test('case 78 off sick at 07:50: one act marks the absence and hands five visits over, each remembering whose it was', () => {
    const { story, visits } = openFive()
    const before = story.world().appointment.map(({ id }) => id)
    story.does('kallas', 'person.away', away(story, visits), '07:50')
    expect(before).toEqual(visits)
    for (const id of visits) {
      expect(story.appointment(id)).toMatchObject({
        dentistId: story.member('brandt'),
        formerDentist: {
          memberId: story.member('corrigan'),
          why: 'away',
          by: story.member('kallas'),
          since: momentOf(DEMO_DAY, '07:50'),
          called: null,
        },
      })
      expect(rulesOn(story, id, '08:00')).not.toContain('dentist/marked-away')
    }
    // Nothing clinical, no reason: hours, who said so and when.
    const marked = story.world().roster.filter((roster) => roster.away)
    expect(marked).toHaveLength(1)
    expect(Object.keys(marked[0] ?? {}).sort()).toEqual(
      ['away', 'clinicId', 'day', 'end', 'id', 'memberId', 'siteId', 'start'].sort(),
    )
  })

  // READ.
  test('case 78 all five plans need the new dentist’s confirmation, also where the former one had given theirs', () => {
    const { story, visits } = openFive()
    const [first] = visits
    const firstId = must(first, 'there are five')
    story.does('tornqvist', 'mouth.stand-as-drawn', { appointmentId: firstId }, '07:35')
    story.does('kallas', 'allergies.record', {
      ...{ patientId: patientOf(story, firstId), state: 'none-known', latex: 'none-known' },
    })
    const number = factsOf(story, firstId).plan?.number
    story.does('corrigan', 'word.give', { appointmentId: firstId, number }, '07:40')
    expect(factsOf(story, firstId).words).toMatchObject([{ life: { kind: 'live' } }])
    story.does('kallas', 'person.away', away(story, visits), '07:50')
    expect(factsOf(story, firstId).words).toMatchObject([
      { life: { kind: 'lapsed', why: 'dentist-changed', at: momentOf(DEMO_DAY, '07:50') } },
    ])
    const needs = visits.map((id) => findTakenOver(factsOf(story, id), momentOf(DEMO_DAY, '08:00')))
    expect(needs.map((each) => each?.needsWord)).toEqual([true, true, true, true, true])
    // Only the new dentist gives it, and then nothing waits any more.
    const word = { appointmentId: firstId, number }
    expect(story.refusals('corrigan', 'word.give', word, '08:05')).toEqual(['word/not-booked-dentist'])
    story.does('brandt', 'word.give', word, '08:06')
    expect(findTakenOver(factsOf(story, firstId), momentOf(DEMO_DAY, '08:07'))?.needsWord).toBe(false)
  })

  // READ.
  test('[word/missing] case 78 a plan that was never agreed says that it was taken over', () => {
    const { story, visits } = openFive()
    const second = must(visits[1], 'there are five')
    story.does('tornqvist', 'mouth.stand-as-drawn', { appointmentId: second }, '07:35')
    const said = () =>
      openOn(story, second, '08:00')
        .filter(({ rule }) => rule === 'word/missing')
        .map(say)
    expect(said()).toEqual([expect.stringMatching(/has not given their word on plan \d/)])
    story.does('kallas', 'person.away', away(story, visits), '07:50')
    expect(said()).toEqual([expect.stringMatching(/took this visit over: plan \d needs their confirmation/)])
  })

  // READ.
  test('case 78 what the new dentist reads first: allergies, past clamp trouble at any tooth, open notes', () => {
    const { story, visits } = openFive()
    const first = must(visits[0], 'there are five')
    story.does('tornqvist', 'mouth.stand-as-drawn', { appointmentId: first }, '07:35')
    const seen = { day: DEMO_DAY, by: story.member('tornqvist'), at: momentOf(DEMO_DAY, '07:00') }
    const withSites = () => {
      const facts = factsOf(story, first)
      const chart = must(facts.chart, 'it was charted')
      const clampSites = {
        '46': { gum: 'injured' as const, ...seen },
        '26': { gum: 'sound' as const, ...seen },
      }
      return { ...facts, chart: { ...chart, clampSites } }
    }
    expect(findTakenOver(withSites(), momentOf(DEMO_DAY, '07:45'))).toBeNull()
    story.does('kallas', 'person.away', away(story, visits), '07:50')
    expect(findTakenOver(withSites(), momentOf(DEMO_DAY, '08:00'))).toMatchObject({
      former: { memberId: story.member('corrigan') },
      clampTrouble: [{ rule: 'anchor/gum-before', tooth: '46', gum: 'injured' }],
      notes: ['Afraid of the drill: explain each step.'],
    })
  })

  // READ.
  test('[call/not-due] case 78 the desk’s list of calls: each patient once, ticked by whom, and nothing clinical on it', () => {
    const { story, visits } = openFive()
    const [first, second] = visits as [AppointmentId, AppointmentId]
    expect(story.refusals('kallas', 'patient.called', { appointmentId: first })).toEqual(['call/not-due'])
    story.does('kallas', 'person.away', away(story, visits), '07:50')
    const calls = () => linesOf(story, '08:00').filter((line) => line.formerDentist)
    expect(calls()).toHaveLength(5)
    story.does('kallas', 'patient.called', { appointmentId: first }, '08:01')
    const line = calls().find(({ appointmentId }) => appointmentId === first)
    expect(line?.formerDentist?.called).toEqual({
      by: story.member('kallas'),
      at: momentOf(DEMO_DAY, '08:01'),
    })
    expect(story.refusals('kallas', 'patient.called', { appointmentId: first }, '08:02')).toEqual([
      'call/not-due',
    ])
    expect(story.refusals('tornqvist', 'patient.called', { appointmentId: second }, '08:02')).toEqual([
      'person/not-allowed',
    ])
    expect(JSON.stringify(calls().map(({ formerDentist }) => formerDentist))).not.toMatch(
      /allerg|latex|clamp|sick/i,
    )
  })

  // COMMON.
  test('[dentist/marked-away] a visit nobody took over is asked of the desk; one handed to nobody asks for a dentist', () => {
    const { story, visits } = openFive()
    const [kept, ...others] = visits as [AppointmentId, ...AppointmentId[]]
    const [open, ...rest] = others as [AppointmentId, ...AppointmentId[]]
    const toNobody = { appointmentId: open, dentistId: null }
    const input = away(story, rest)
    story.does('kallas', 'person.away', { ...input, handOver: [...input.handOver, toNobody] }, '07:50')
    expect(rulesOn(story, kept, '08:00')).toContain('dentist/marked-away')
    expect(rulesOn(story, open, '08:00')).toContain('dentist/unnamed')
    // Named later: the patient still expects the first.
    const named = { appointmentId: open, dentistId: story.member('brandt') }
    story.does('kallas', 'appointment.change', named, '08:10')
    expect(story.appointment(open).formerDentist).toMatchObject({
      memberId: story.member('corrigan'),
      why: 'by-hand',
    })
    // Back after all: the mark goes, and with it the question.
    const hours = [{ from: '08:00', to: '17:30' }]
    story.does('kallas', 'roster.set', { ...whose(story, 'corrigan'), hours }, '08:20')
    expect(rulesOn(story, kept, '08:21')).not.toContain('dentist/marked-away')
  })

  // COMMON.
  test('[appointment/other-dentist] what somebody has handed over meanwhile is not handed over again, and nothing is half done', () => {
    const { story, visits } = openFive()
    const last = must(visits.at(-1), 'there are five')
    const changed = { appointmentId: last, dentistId: story.member('brandt') }
    story.does('kallas', 'appointment.change', changed, '07:49')
    const stood = story.world()
    expect(story.refusals('kallas', 'person.away', away(story, visits), '07:50')).toEqual([
      'appointment/other-dentist',
    ])
    expect(story.world()).toBe(stood)
  })

  // COMMON.
  test('[dentist/clash] taking visits over never hides that the new dentist is booked then', () => {
    const { story, visits } = openFive()
    story.book({
      startsAt: '09:10',
      dentistId: story.member('brandt'),
      operatoryId: story.room('2'),
      patient: { kind: 'new', given: 'Bo', family: 'Hagen', born: '1970-01-01' },
    })
    const decision = story.ask('kallas', 'person.away', away(story, visits), '07:50')
    expect(decision.ok && decision.value.findings.map(({ rule }) => rule)).toEqual(['dentist/clash'])
  })

  // COMMON.
  test('case 78 a second call from the sick bed is one absence with the first', () => {
    const { story, visits } = openFive()
    story.does('kallas', 'person.away', away(story, [], { to: '12:00' }), '07:50')
    story.does('kallas', 'person.away', away(story, visits, { from: '11:00' }), '10:00')
    expect(story.world().roster.filter((roster) => roster.away)).toMatchObject([
      { start: momentOf(DEMO_DAY, '07:50'), end: momentOf(DEMO_DAY, '23:59') },
    ])
  })

  // COMMON: who sits in the chair has met the new dentist there.
  test('case 78 a visit in the chair can be handed over, and is no call', () => {
    const { story, visits } = openFive()
    const [first] = visits as [AppointmentId]
    seated(story, first)
    story.does('kallas', 'person.away', away(story, [first], { from: '09:05' }), '09:05')
    expect(story.appointment(first).dentistId).toBe(story.member('brandt'))
    expect(story.refusals('kallas', 'patient.called', { appointmentId: first }, '09:06')).toEqual([
      'call/not-due',
    ])
    const second = must(visits[1], 'there are five')
    comesIn(story, second, '09:50')
    expect(rulesOn(story, second, '09:51')).toContain('dentist/marked-away')
  })
})
