import { describe, expect, test } from 'vitest'
import { boardAnswer } from '#server/command-line/board.ts'
import { must } from '#shared/base/assert.ts'
import type { Day, Zone } from '#shared/base/moment.ts'
import type { Gate } from '#shared/base/rule.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { judgeGate } from '#shared/readiness/gate.ts'
import { judgedFor } from '#shared/words/judged.ts'
import {
  AGREED,
  appointment,
  at,
  DAY,
  DENTIST,
  having,
  idOf,
  operatory,
  plan,
  SITE,
  scene,
  VISITED,
  visit,
  word,
} from './scene.ts'

const asked = { siteId: SITE, day: DAY, now: at(-5) }
const shut = (world: World, gate: Gate) =>
  judgeGate(world, { appointmentId: VISITED, gate, now: at(-2) }).map((finding) => finding.rule)

describe('boardFor', () => {
  test('one lane per operatory by position, now in the chair, the rest next by time', () => {
    const world = having(
      having(
        having(
          having(scene(), 'operatory', operatory(5, 2)),
          'appointment',
          appointment(15, { start: at(120) }),
          appointment(16, { start: at(60), operatoryId: idOf(5) }),
          appointment(17, { status: 'cancelled' }),
        ),
        'visit',
        visit('seated'),
      ),
      'occupancy',
      {
        ...must(scene().occupancy[0], 'one'),
        life: { kind: 'occupied', appointmentId: VISITED, since: at(-9) },
      },
    )
    const board = boardFor(world, asked)
    expect(board.lanes.map((lane) => lane.position)).toEqual([1, 2])
    expect(board.lanes[0]?.now?.appointmentId).toBe(VISITED)
    expect(board.lanes[0]?.next.map((line) => line.appointmentId)).toEqual([idOf(15)])
    expect(board.lanes[1]?.now).toBeNull()
    expect(board.lanes[1]?.next).toHaveLength(1)
  })

  test('an appointment without an operatory is not lost', () => {
    const world = having(scene(), 'appointment', appointment(15, { operatoryId: null }))
    expect(boardFor(world, asked).unplaced.map((line) => line.appointmentId)).toEqual([idOf(15)])
  })

  test('an appointment of yesterday that nobody closed makes today neither late nor unclear', () => {
    const yesterday = appointment(15, { day: '2026-11-23' as Day, start: at(-1440), patientId: idOf(33) })
    const line = boardFor(having(scene(), 'appointment', yesterday), asked).lanes[0]?.next[0]
    expect(line?.expectedStart).toBe(at(0))
    expect(line?.planks.find((plank) => plank.check === 'room')?.state).toBe('ready')
  })

  test('lateness reaches the patient who still waits', () => {
    const sitting = having(scene(), 'visit', visit('started'))
    const world = having(sitting, 'appointment', appointment(15, { start: at(60), patientId: idOf(33) }))
    const late = boardFor(world, { ...asked, now: at(80) }).lanes[0]?.next[0]
    // Seated at 08:51 for 60 minutes and still there at 10:20; ten minutes of turnover (clinic's default, COMMON).
    expect(late?.expectedStart).toBe(at(90))
    expect(boardFor(world, { ...asked, now: at(80) }).lanes[0]?.now?.state).toBeDefined()
  })
})

describe('judgeGate', () => {
  test('[appointment/unknown] a gate of an appointment that is not held never opens', () => {
    const id = idOf<AppointmentId>(999)
    expect(judgeGate(scene(), { appointmentId: id, gate: 'seat', now: at(0) })[0]?.rule).toBe(
      'appointment/unknown',
    )
  })

  test('[word/missing] no gate from the needle on opens without a live word', () => {
    const seated = having(scene(), 'visit', visit('seated'))
    expect(shut(seated, 'seat')).toEqual([])
    for (const gate of ['inject', 'clamp', 'start', 'leave'] as const) {
      expect(shut(seated, gate)).toContain('word/missing')
    }
    expect(shut(having(seated, 'word', word()), 'inject')).not.toContain('word/missing')
  })

  test('[plan/question] a draft opens no gate from the needle on', () => {
    const draft = having(scene(), 'plan', plan({ ...AGREED, state: 'draft', open: ['anchor/ceramic-crown'] }))
    expect(shut(having(draft, 'visit', visit('seated')), 'inject')).toContain('plan/question')
  })

  test('[time-out/missing] the start waits for time-out and count, the needle does not', () => {
    const seated = having(having(scene(), 'visit', visit('seated')), 'word', word())
    expect(shut(seated, 'inject')).not.toContain('time-out/missing')
    expect(shut(seated, 'start')).toEqual(expect.arrayContaining(['time-out/missing', 'teeth/not-recounted']))
  })
})

describe('what may be shown where', () => {
  const world = having(
    scene(),
    'word',
    word({ life: { kind: 'lapsed', at: at(-6), why: 'allergies-changed' } }),
  )
  const board = boardFor(world, asked)

  test('case 87 the wall shows operatory, time and Ready or Not yet: no name, tooth, procedure or allergy', () => {
    const wall = JSON.stringify(judgedFor(board, 'wall'))
    for (const secret of ['Orrery', '46', 'root-canal', 'llerg', 'lapsed', 'Dr Quill']) {
      expect(wall).not.toContain(secret)
    }
    expect(judgedFor(board, 'wall').lanes[0]?.next[0]).toMatchObject({ state: 'preparing', says: 'Not yet' })
  })

  test('case 79 who passes reads which operatory waits for the dentist, in words and without a name', () => {
    const seated = having(world, 'visit', visit('seated'))
    const wall = judgedFor(boardFor(seated, { ...asked, now: at(0) }), 'wall')
    expect(wall.lanes[0]?.now).toMatchObject({ says: 'Waits for the dentist', patient: null, work: [] })
    expect(wall.lanes[0]?.now?.dentistId).toBe(DENTIST.id)
    expect(JSON.stringify(wall)).not.toContain('Dr Quill')
    const running = judgedFor(boardFor(having(world, 'visit', visit('started')), asked), 'wall')
    expect(running.lanes[0]?.now).toMatchObject({ dentistId: null })
    expect(running.lanes[0]?.now?.says).not.toBe('Waits for the dentist')
  })

  test('the desk is told whose turn it is, never the clinical reason', () => {
    const line = judgedFor(board, 'desk').lanes[0]?.next[0]
    expect(line).toMatchObject({ state: 'ask', says: 'Dentist is next to act.' })
    expect(JSON.stringify(line)).not.toContain('allerg-')
    expect(line?.planks.every((plank) => !('finding' in plank))).toBe(true)
    expect(line?.planks.find((plank) => plank.check === 'plan')?.state).toBe('preparing')
  })

  test('to the desk and the corridor somebody in the chair is in the chair: no tooth, and no gate of the chair’s', () => {
    for (const stage of ['injected', 'clamped', 'started'] as const) {
      const [ready] = boardFor(having(world, 'visit', visit(stage)), { ...asked, now: at(0) }).lanes
      const line = {
        ...must(must(ready, 'a lane').now, 'in the chair'),
        state: 'ready',
        missing: null,
      } as const
      const here = { ...board, lanes: [{ ...must(ready, 'a lane'), now: line }] }
      const [desk, wall] = (['desk', 'wall'] as const).map(
        (audience) => judgedFor(here, audience).lanes[0]?.now,
      )
      expect(desk?.work).toEqual([{ kind: 'root-canal', text: '', teeth: [], surfaces: {}, asked: null }])
      expect(wall).toMatchObject({ stage: 'seated', gate: null, work: [] })
      if (stage === 'started') expect(desk).toMatchObject({ gate: 'leave', says: 'Ready to leave' })
      else expect(desk).toMatchObject({ gate: null, says: 'In the chair, and nothing holds it up.' })
    }
  })

  test('the command line prints every appointment with its six checks', () => {
    const answer = boardAnswer(board, { revision: 7, zone: 'Europe/Dublin' as Zone })
    expect(answer).toMatchObject({
      revision: 7,
      at: '2026-11-24T08:55:00+00:00',
      operatories: [
        {
          name: 'Operatory 1',
          now: null,
          next: [
            {
              start: '2026-11-24T09:00:00+00:00',
              gate: 'seat',
              state: 'ask',
              checks: {
                patient: 'later',
                room: 'ready',
                tray: 'ready',
                allergies: 'ready',
                numbness: 'later',
                plan: 'ask',
              },
              nextToAct: 'dentist',
            },
          ],
        },
      ],
    })
  })
})
