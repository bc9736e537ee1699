import { describe, expect, test } from 'vitest'
import { DEMO_DAY, DEMO_ZONE } from '#seed/clinic.ts'
import { momentOf } from '#seed/telling.ts'
import { must } from '#shared/base/assert.ts'
import { clockTimeOf } from '#shared/base/moment.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { indexDay } from '#shared/readiness/day-index.ts'
import { judgeAppointment } from '#shared/readiness/readiness.ts'
import { say, sayToDesk } from '#shared/words/en.ts'
import { comesIn, identified, openStory, type Story, seated } from '../shared/schedule/story.ts'

const boardOf = (story: Story, time: string) =>
  boardFor(story.world(), { siteId: story.site(), day: DEMO_DAY, now: momentOf(DEMO_DAY, time) })
const lineOf = (story: Story, id: AppointmentId, time: string) =>
  must(
    boardOf(story, time)
      .lanes.flatMap(({ now, next }) => (now ? [now, ...next] : next))
      .find((line) => line.appointmentId === id),
    'it is on the board',
  )
const CARLA = { kind: 'new', given: 'Carla', family: 'Roth', born: '1975-05-05' }

describe('the day moves', () => {
  // READ.
  test('case 72 someone appears in the column: added, not accepted, told in one line, until the chair team says yes', () => {
    const story = openStory()
    story.book({ startsAt: '12:00', minutes: 50 })
    const decision = story.ask(
      'kallas',
      'appointment.book',
      {
        siteId: story.site(),
        day: DEMO_DAY,
        startsAt: '12:30',
        minutes: 20,
        operatoryId: story.room('2'),
        dentistId: story.member('corrigan'),
        patient: CARLA,
        work: ['emergency, pain'],
        emergency: true,
      },
      '12:20',
    )
    // What it breaks is told at once: the dentist is still mid-crown.
    expect(decision).toMatchObject({ ok: true, value: { findings: [{ rule: 'dentist/clash' }] } })
    const id = must(story.world().appointment.at(-1), 'it was added').id
    expect(story.appointment(id).status).toBe('pending')
    expect(lineOf(story, id, '12:21').state).toBe('ask')
    const said = (time: string) => must(lineOf(story, id, time).missing, 'it asks')
    expect(say(said('12:21'))).toBe('Added 12:20, not accepted by the chair team.')
    // The team suggests another time; the desk moves it there, and with that it is accepted.
    story.does('tornqvist', 'appointment.suggest-time', { appointmentId: id, startsAt: '12:50' }, '12:22')
    expect(story.appointment(id)).toMatchObject({ status: 'pending', startsAt: '12:30' })
    expect(sayToDesk(said('12:22'))).toContain('the chair team suggests 12:50')
    story.does('kallas', 'appointment.change', { appointmentId: id, startsAt: '12:40' }, '12:23')
    expect(story.appointment(id).status).toBe('pending')
    story.does('kallas', 'appointment.change', { appointmentId: id, startsAt: '12:50' }, '12:24')
    expect(story.appointment(id)).toMatchObject({ status: 'booked', startsAt: '12:50' })
  })

  // READ.
  test('case 73 “broken tooth” could be anything: nothing is invented, a kit waits sealed, and one answer makes the plan', () => {
    const story = openStory()
    const id = story.book({ work: ['broken tooth UR, pain'] })
    const planOf = () =>
      must(
        story.world().plan.find(({ appointmentId }) => appointmentId === id),
        'a plan stands',
      )
    const linesOf = () => story.world().trayLine.map(({ item, packKind }) => packKind ?? item)
    expect(planOf().agreed).toMatchObject({ state: 'undetermined', sheets: [] })
    expect(story.world().tray[0]?.kits).toEqual(['examination', 'dam-standby'])
    expect(linesOf()).toContain('dam-set')
    const workId = story.world().work[0]?.id
    story.does('corrigan', 'work.name', {
      appointmentId: id,
      workId,
      kind: 'root-canal',
      teeth: ['16'],
      settles: true,
    })
    expect(planOf().agreed.sheets.map(({ field }) => field)).toEqual([['16']])
    expect(story.world().tray[0]?.kits).toContain('dam-base')
    expect(story.world().tray[0]?.kits).not.toContain('dam-standby')
  })

  // READ; the opened pack COMMON.
  test('case 75 never came: the desk is asked at the limit, and an unopened tray goes back when it says so', () => {
    const story = openStory()
    const id = story.book({ work: ['RCT 36'] })
    const ruleAt = (time: string) =>
      lineOf(story, id, time).planks.find(({ check }) => check === 'patient')?.finding?.rule
    expect(ruleAt('09:10')).not.toBe('patient/not-arrived')
    expect(ruleAt('09:20')).toBe('patient/not-arrived')
    // Nobody is numb or seated before they have come.
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId: id }, '09:20')).toEqual([
      'visit/wrong-stage',
    ])
    const asked = { appointmentId: id, place: { kind: 'tooth', tooth: '36' }, answer: 'numb', method: 'cold' }
    expect(story.refusals('tornqvist', 'numbness.record', asked, '09:20')).toEqual(['numbness/not-seated'])
    story.does('kallas', 'appointment.no-show', { appointmentId: id }, '09:25')
    expect(story.world().tray.map(({ life }) => life.kind)).toEqual(['cleared'])
  })

  // READ + arithmetic: end 10:00, turnover 10 → ready 10:10; amber words at 5 late, the desk is prompted at 15.
  test('case 76 running behind: the next start moves by what is real, and says so in words', () => {
    const story = openStory()
    const first = story.book({ startsAt: '09:20', minutes: 40 })
    const second = story.book({ startsAt: '10:00', minutes: 30, patient: CARLA })
    comesIn(story, first, '09:10')
    identified(story, first, '09:15')
    story.does('tornqvist', 'visit.seat', { appointmentId: first }, '09:20')
    const expectedAt = (time: string) => clockTimeOf(lineOf(story, second, time).expectedStart, DEMO_ZONE)
    expect(expectedAt('09:30')).toBe('10:10')
    // Ten minutes past its end, the chair is still taken: five more for each five minutes.
    expect(expectedAt('10:05')).toBe('10:15')
    expect(expectedAt('10:15')).toBe('10:25')
    const { open } = must(
      judgeAppointment(indexDay(story.world()), second, momentOf(DEMO_DAY, '10:15')),
      'it can be judged',
    )
    const told = open.flatMap((finding) => (finding.rule === 'day/running-late' ? [sayToDesk(finding)] : []))
    expect(told).toEqual(['Running 25 min late: tell the patient.'])
  })

  // READ + COMMON.
  test('case 77 one operatory for two: both rows say so, and the one who comes second is not let in', () => {
    const story = openStory()
    const one = story.book({ startsAt: '10:00', minutes: 60 })
    const two = story.book({
      startsAt: '10:30',
      minutes: 60,
      dentistId: story.member('brandt'),
      patient: CARLA,
    })
    const roomOf = (id: AppointmentId) =>
      lineOf(story, id, '08:30').planks.find(({ check }) => check === 'room')
    expect([roomOf(one)?.finding?.rule, roomOf(two)?.finding?.rule]).toEqual(['room/clash', 'room/clash'])
    comesIn(story, two, '09:50')
    identified(story, two, '09:51')
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId: two }, '10:00')).toContain('room/clash')
    story.does('kallas', 'appointment.change', { appointmentId: two, operatoryId: story.room('2') }, '10:01')
    story.does('tornqvist', 'visit.seat', { appointmentId: two }, '10:30')
  })

  // READ. A shared screen shows the board; each act is under a person's own name, and a word is never an assistant's.
  test('case 86 every act keeps who did it, and a word of the dentist is not given under an assistant’s name', () => {
    const story = openStory()
    const id = story.book({ work: ['RCT 36'] })
    seated(story, id)
    const number = story.world().plan[0]?.number
    expect(story.refusals('tornqvist', 'word.give', { appointmentId: id, number }, '09:02')).toEqual([
      'person/not-allowed',
    ])
    const by = story.visit(id).steps.map((step) => step.by)
    expect(by).toEqual([story.member('kallas'), story.member('tornqvist')])
    expect(story.visit(id).identity?.by).toBe(story.member('tornqvist'))
  })

  // READ (supervision); two steps MEMORY.
  test('case 90 a student proposes, the instructor agrees; never the same person, never the other way round', () => {
    const story = openStory()
    const id = story.book({
      work: ['RCT 36'],
      dentistId: story.member('brandt'),
      studentId: story.member('larbi'),
    })
    seated(story, id)
    const number = story.world().plan[0]?.number
    const word = { appointmentId: id, number }
    expect(story.refusals('brandt', 'word.give', word, '09:02')).toEqual(['word/not-proposed'])
    expect(story.refusals('larbi', 'word.give', word, '09:02')).toEqual(['person/not-allowed'])
    story.does('larbi', 'word.propose', word, '09:03')
    story.does('brandt', 'word.give', word, '09:04')
    expect(story.world().word).toMatchObject([
      { by: story.member('brandt'), proposedBy: story.member('larbi') },
    ])
  })

  // READ for the task. Latex was used in the room: turning over says so until it is clear again.
  test('case 41 a chair where latex was used is turned over as such', () => {
    const story = openStory()
    const id = story.book({ work: ['RCT 36'] })
    seated(story, id)
    story.does('tornqvist', 'visit.leave-chair', { appointmentId: id, why: 'felt faint' }, '09:05')
    const room = story.world().occupancy.find(({ operatoryId }) => operatoryId === story.room('1'))
    const tray = story.world().tray.find(({ appointmentId }) => appointmentId === id)
    const bearsLatex = tray?.contains.some(({ substance }) => substance === 'latex')
    expect(room?.life).toMatchObject({ kind: 'turning-over', latexUsed: bearsLatex })
    // Files and cartridges whose label nobody has read may hold latex: that is not known to be none.
    expect(bearsLatex).toBe(true)
  })
})
