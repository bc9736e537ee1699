import { describe, expect, test } from 'vitest'
import type { Check } from '#shared/base/rule.ts'
import type { World } from '#shared/facts.ts'
import type { VisitId } from '#shared/ids.ts'
import type { BoardLine, PlankState } from '#shared/readiness/board-types.ts'
import { indexDay } from '#shared/readiness/day-index.ts'
import { judgeAppointment } from '#shared/readiness/readiness.ts'
import type { Visit } from '#shared/schedule/appointment.ts'
import { GIVEN } from './chair.ts'
import {
  AGREED,
  ASSISTANT,
  answered,
  appointment,
  at,
  DENTIST,
  having,
  idOf,
  opened,
  plan,
  READ_LABEL,
  ROOM,
  scene,
  VISITED,
  visit,
  withLabels,
  word,
  work,
} from './scene.ts'

const lineOf = (world: World, now = at(-5)): BoardLine => {
  const judged = judgeAppointment(indexDay(world), VISITED, now)
  if (!judged) throw new Error('this world does not hold the appointment')
  return judged.line
}
const statesOf = (line: BoardLine): Record<Check, PlankState> =>
  Object.fromEntries(line.planks.map((plank) => [plank.check, plank.state])) as Record<Check, PlankState>
const planks = (world: World, now?: ReturnType<typeof at>) => statesOf(lineOf(world, now))
const missing = (world: World, now?: ReturnType<typeof at>) => lineOf(world, now).missing?.rule ?? null

const readBack = { teeth: ['46' as const], planNumber: 1, by: DENTIST.id, at: at(-5) }
const seated = (more: Partial<Visit> = {}) => having(scene(), 'visit', visit('seated', more))
const historyConfirmed = (world: World): World =>
  having(
    world,
    'patient',
    ...world.patient.map((each) => ({ ...each, historyConfirmed: { by: ASSISTANT.id, at: at(-8) } })),
  )

describe('a claimed tray', () => {
  const claimed = (touched: number): World => {
    const [tray] = scene().tray
    if (!tray) throw new Error('the scene has a tray')
    const life = { kind: 'claimed', by: ASSISTANT.id, since: at(-70), touched: at(touched) } as const
    return having(scene(), 'tray', { ...tray, life, done: 3 })
  }
  const trayOf = (world: World) => lineOf(world, at(-40)).planks.find((plank) => plank.check === 'tray')
  test('is its owner’s while they are at it', () => {
    expect(trayOf(claimed(-45))).toMatchObject({ state: 'preparing', owner: ASSISTANT.id })
  })
  test('[tray/claim-quiet] quiet for too long it is nobody’s: any assistant is next', () => {
    expect(trayOf(claimed(-60))).toMatchObject({ state: 'preparing', owner: null, next: 'assistant' })
  })
})

describe('before the patient is seated', () => {
  test('everything prepared and the patient expected: ready to seat, numbness and the word come later', () => {
    const line = lineOf(scene())
    expect(line.gate).toBe('seat')
    expect(line.state).toBe('ready')
    expect(statesOf(line)).toEqual({
      patient: 'later',
      room: 'ready',
      tray: 'ready',
      allergies: 'ready',
      numbness: 'later',
      plan: 'later',
    })
  })

  test('a live word puts the plan in place ahead of time', () => {
    expect(planks(having(scene(), 'word', word())).plan).toBe('ready')
  })

  test('[plan/none-yet] work without a plan is never taken for work that needs none', () => {
    const world = { ...scene(), plan: [] }
    expect(lineOf(world).state).toBe('ask')
    expect(missing(world)).toBe('plan/none-yet')
  })

  test('[plan/question] a draft asks before the patient is there, and holds at the needle', () => {
    const draft = plan({ ...AGREED, state: 'draft', open: ['anchor/ceramic-crown'] })
    expect(planks(having(scene(), 'plan', draft)).plan).toBe('ask')
    expect(planks(having(seated(), 'plan', draft)).plan).toBe('hold')
  })

  test('[plan/uncharted] a mouth nobody has charted is a step at seating, not a question before it', () => {
    const draft = plan({ ...AGREED, state: 'draft', open: ['mouth/not-charted'] })
    expect(planks(having(scene(), 'plan', draft)).plan).toBe('later')
    expect(lineOf(having(scene(), 'plan', draft)).state).toBe('ready')
    expect(planks(having(seated(), 'plan', draft)).plan).toBe('preparing')
    expect(planks(having(seated(), 'plan', draft), at(11)).plan).toBe('ask')
  })

  test('[plan/question] an undetermined plan is never not needed', () => {
    const undetermined = plan({ ...AGREED, state: 'undetermined', sheets: [], open: [] })
    expect(planks(having(scene(), 'plan', undetermined)).plan).toBe('ask')
  })

  test('an appointment that needs no isolation has no plan plank; one with a tooth to read back keeps it for later', () => {
    const none = plan({ ...AGREED, state: 'not-needed', sheets: [] })
    const cleaning = having(scene(), 'work', work({ kind: 'cleaning', teeth: [] }))
    expect(planks(having(cleaning, 'plan', none)).plan).toBe('not-needed')
    const extraction = having(scene(), 'work', work({ kind: 'extraction' }))
    expect(planks(having(extraction, 'plan', none)).plan).toBe('later')
  })

  test('[room/not-free] an operatory still needed for the patient before is preparing, and says so', () => {
    const before = { ...scene().appointment[0], id: idOf(15), patientId: idOf(33), start: at(-60) }
    const world = having(scene(), 'appointment', before as World['appointment'][number])
    expect(planks(world).room).toBe('preparing')
    expect(lineOf(world).planks[1]?.finding?.rule).toBe('room/not-free')
  })

  test('[people/not-free] a dentist who sits at another chair past this start is not free', () => {
    const elsewhere = appointment(15, {
      operatoryId: idOf(5),
      start: at(-30),
      minutes: 30,
      patientId: idOf(33),
    })
    const sitting = { ...visit('started'), id: idOf<VisitId>(51), appointmentId: elsewhere.id }
    const world = having(having(scene(), 'appointment', elsewhere), 'visit', sitting)
    const room = lineOf(world, at(10)).planks[1]
    expect(room).toMatchObject({ state: 'preparing', finding: { rule: 'people/not-free' } })
    const short = having(world, 'appointment', { ...elsewhere, minutes: 5 })
    expect(lineOf(short, at(-5)).planks[1]?.state).toBe('ready')
  })

  test('a room half turned over shows how far it is', () => {
    const turning = {
      ...(scene().occupancy[0] as World['occupancy'][number]),
      life: {
        kind: 'turning-over' as const,
        since: at(-10),
        done: ['barriers' as const, 'light' as const],
        latexUsed: false,
      },
    }
    const room = lineOf(having(scene(), 'occupancy', turning)).planks[1]
    expect(room).toMatchObject({ state: 'preparing', done: 2, of: 5, next: 'assistant' })
  })

  test('an operatory of which nothing is known is not taken for clear', () => {
    expect(planks({ ...scene(), occupancy: [] }).room).toBe('preparing')
  })

  test('[tray/none-yet] an appointment without a tray asks for one', () => {
    expect(missing({ ...scene(), tray: [] })).toBe('tray/none-yet')
    expect(planks({ ...scene(), tray: [] }).tray).toBe('ask')
  })
})

describe('at the needle', () => {
  test('the ordinary steps of a visit are work left, without colour', () => {
    const line = lineOf(seated())
    expect(line.gate).toBe('inject')
    expect(line.state).toBe('preparing')
    expect(line.missing?.rule).toBe('history/not-confirmed')
    expect(line.next).toBe('assistant')
  })

  test('[side/not-read-back] tooth and side are read back before the needle, for the plan that stands', () => {
    const world = historyConfirmed(having(seated(), 'word', word()))
    expect(missing(world)).toBe('side/not-read-back')
    const labelled = withLabels(world, READ_LABEL)
    expect(missing(having(labelled, 'visit', visit('seated', { readBack })))).toBeNull()
    const stale = { ...readBack, planNumber: 7 }
    expect(missing(having(world, 'visit', visit('seated', { readBack: stale })))).toBe('side/not-read-back')
  })

  test('[history/not-confirmed] a history confirmed at another visit does not count', () => {
    const old = having(
      seated(),
      'patient',
      ...scene().patient.map((each) => ({ ...each, historyConfirmed: { by: ASSISTANT.id, at: at(-9000) } })),
    )
    expect(planks(old).patient).toBe('preparing')
    expect(planks(historyConfirmed(seated())).patient).toBe('ready')
  })

  test('[word/missing] the word asks for itself once it is all that is missing', () => {
    expect(planks(seated()).plan).toBe('preparing')
    const line = lineOf(historyConfirmed(seated({ readBack })))
    expect(line.state).toBe('ask')
    expect(line.missing?.rule).toBe('word/missing')
    expect(line).toMatchObject({ next: 'dentist', owner: DENTIST.id })
  })

  test('[cartridge/not-read-back] the label is named last, an Ask when overdue, and keeps no word from being asked for', () => {
    const world = historyConfirmed(seated({ readBack }))
    expect(missing(world)).toBe('word/missing')
    const agreed = having(world, 'word', word())
    expect(lineOf(agreed)).toMatchObject({ state: 'preparing', next: 'assistant' })
    expect(missing(agreed)).toBe('cartridge/not-read-back')
    expect(planks(agreed, at(21)).numbness).toBe('ask')
    expect(missing(withLabels(agreed, READ_LABEL))).toBeNull()
    const half = withLabels(agreed, { ...READ_LABEL, answered: null })
    expect(lineOf(half).missing).toMatchObject({ rule: 'cartridge/not-read-back', readBy: ASSISTANT.id })
  })

  test('with all steps done and a live word it is ready to inject', () => {
    const read = withLabels(seated({ readBack }), READ_LABEL)
    const line = lineOf(historyConfirmed(having(read, 'word', word())))
    expect([line.state, line.gate]).toEqual(['ready', 'inject'])
  })

  test('a step that is overdue asks', () => {
    expect(lineOf(seated(), at(5)).state).toBe('preparing')
    expect(lineOf(seated(), at(16)).state).toBe('ask')
  })

  test('[word/lapsed] a lapsed word asks before its gate and holds at it', () => {
    const lapsed = word({ life: { kind: 'lapsed', at: at(-6), why: 'plan-changed' } })
    expect(planks(having(scene(), 'word', lapsed)).plan).toBe('ask')
    const line = lineOf(having(seated(), 'word', lapsed))
    expect([line.state, line.missing?.rule, line.next]).toEqual(['hold', 'word/lapsed', 'dentist'])
  })

  test('[side/stopped] a stop holds, whatever else is in place', () => {
    const stop = {
      clinicId: scene().clinic[0]?.clinicId as never,
      id: idOf<never>(90),
      appointmentId: VISITED,
      operatoryId: ROOM,
      kind: 'stop-check-side' as const,
      at: at(-1),
      by: ASSISTANT.id,
      drill: false,
      steps: [],
      life: { kind: 'open' as const },
    }
    const world = historyConfirmed(having(having(seated({ readBack }), 'word', word()), 'incident', stop))
    expect(lineOf(world)).toMatchObject({ state: 'hold', missing: { rule: 'side/stopped' } })
  })
})

describe('without an injection', () => {
  const none = having(scene(), 'anaesthetic', {
    ...(scene().anaesthetic[0] as World['anaesthetic'][number]),
    intent: { kind: 'none', reason: 'necrotic', topicalAtClamp: true, by: DENTIST.id, at: at(-60) },
  })

  test('the word of the dentist is needed at the clamp', () => {
    const line = lineOf(having(none, 'visit', visit('seated')))
    expect(line.gate).toBe('clamp')
    expect(planks(having(none, 'visit', visit('seated'))).plan).toBe('preparing')
  })
})

describe('at the start and after', () => {
  const clamped = (more: Partial<Visit> = {}) =>
    historyConfirmed(
      having(
        having(
          having(having(opened(scene()), 'visit', visit('clamped', { readBack, ...more })), 'word', word()),
          'dose',
          GIVEN,
        ),
        'numbness',
        answered(95, { kind: 'tooth', tooth: '46' }),
        answered(96, { kind: 'gum', tooth: '46', side: 'cheek' }),
        answered(97, { kind: 'gum', tooth: '46', side: 'tongue' }),
      ),
    )

  test('[teeth/not-recounted] teeth are counted before the dam and again through it', () => {
    expect(missing(clamped())).toBe('teeth/not-recounted')
    const half = { before: at(-7), through: null, teeth: ['46' as const], by: DENTIST.id }
    expect(missing(clamped({ recounted: half }))).toBe('teeth/not-recounted')
  })

  test('[time-out/missing] the time-out is the last thing before the start, on the plan that stands', () => {
    const recounted = { before: at(-7), through: at(-6), teeth: ['46' as const], by: DENTIST.id }
    expect(missing(clamped({ recounted }))).toBe('time-out/missing')
    expect(missing(clamped({ recounted, timeOut: readBack }))).not.toBe('time-out/missing')
  })

  test('[counts/not-done] what went in is counted out before the patient leaves', () => {
    const finished = having(
      clamped(),
      'visit',
      visit('finished', { readBack, clamp: { tiedBy: ASSISTANT.id, at: at(-7) } }),
    )
    expect(lineOf(finished).gate).toBe('leave')
    expect(missing(finished)).toBe('counts/not-done')
  })

  test('[word/changed-since-start] a change after the start asks the dentist to look, and keeps the patient from leaving', () => {
    const changed = word({ life: { kind: 'changed-since-start', at: at(1), why: 'allergies-changed' } })
    const started = having(having(scene(), 'visit', visit('started')), 'word', changed)
    expect(planks(started).plan).toBe('ask')
    const finished = having(started, 'visit', visit('finished'))
    expect(planks(finished).plan).toBe('hold')
  })
})
