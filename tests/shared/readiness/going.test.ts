import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import { indexDay } from '#shared/readiness/day-index.ts'
import { judgeAppointment } from '#shared/readiness/readiness.ts'
import { asks, BLOCK, does, inChair, refusals, shutting } from './chair.ts'
import { ASSISTANT, at, DESK, having, scene, VISITED, visit } from './scene.ts'

/** Nobody leaves the chair, the house or the day's list with something left open on them. */
const called = (world: World, kind: string) =>
  does(world, 'help.call', { kind }, { by: ASSISTANT, minute: -4 })
const openOn = (world: World): string[] =>
  must(judgeAppointment(indexDay(world), VISITED, at(-2)), 'held').open.map(({ rule }) => rule)
const incidentOf = (world: World) => must(world.incident.at(-1), 'one is open').id
const close = (outcome: string) => (world: World) =>
  asks(world, 'help.close', { incidentId: incidentOf(world), outcome }, { minute: -3 })

describe('while help is called', () => {
  // Issue 5 point 7: "chair not closable". A clamp that is lost may have been swallowed or breathed in (COMMON).
  test.each(['lost-clamp', 'bleach-on-tissue', 'anaesthetic-reaction', 'collapse', 'taste-or-burn'])(
    '[help/open] %s: the patient does not go back to the waiting room, and the room stays theirs',
    (kind) => {
      const world = called(inChair(), kind)
      expect(refusals(world, 'visit.leave-chair', { why: 'feels unwell' }, { by: ASSISTANT })).toEqual([
        'help/open',
      ])
      expect(
        does(inChair(), 'visit.leave-chair', { why: 'feels unwell' }, { by: ASSISTANT }).visit[0]?.stage,
      ).toBe('arrived')
    },
  )

  test('[help/open] nor is the visit cancelled, marked as not come, struck off, put off or moved to another chair', () => {
    const waiting = called(having(scene(), 'visit', visit('arrived')), 'collapse')
    const asDesk = (kind: string, input: object) => refusals(waiting, kind, input, { by: DESK })
    expect(asDesk('appointment.cancel', { reason: 'went home' })).toEqual(['help/open'])
    expect(asDesk('appointment.change', { day: '2026-11-26' })).toEqual(['help/open'])
    expect(asDesk('appointment.change', { status: 'entered-in-error' })).toEqual(['help/open'])
    expect(asDesk('appointment.change', { operatoryId: null })).toEqual(['help/open'])
    expect(asDesk('appointment.change', { note: 'the daughter is on the way' })).toEqual([])
    const expected = called(scene(), 'collapse')
    expect(refusals(expected, 'appointment.no-show', {}, { by: DESK })).toEqual(['help/open'])
  })

  test('[help/open] a drill keeps nobody', () => {
    const drill = does(inChair(), 'help.call', { kind: 'collapse', drill: true }, { by: ASSISTANT })
    expect(refusals(drill, 'visit.leave-chair', { why: 'toilet' }, { by: ASSISTANT })).toEqual([])
  })
})

describe('how a call ends', () => {
  test('[help/not-ended-so] a lost clamp is found, or the patient goes to others; it is never just closed', () => {
    const lost = called(inChair(), 'lost-clamp')
    const decision = close('settled')(lost)
    expect(decision.ok ? [] : decision.reasons.map(({ rule }) => rule)).toEqual(['help/not-ended-so'])
    for (const outcome of ['found', 'referred', 'handed-over'])
      expect(close(outcome)(lost).ok, outcome).toBe(true)
  })

  test('[help/not-ended-so] and nothing else is “found”', () => {
    expect(close('found')(called(inChair(), 'collapse')).ok).toBe(false)
    expect(close('settled')(called(inChair(), 'collapse')).ok).toBe(true)
  })
})

describe('who was injected today', () => {
  const injected = does(inChair(), 'dose.record', { dose: BLOCK })
  const wait = (world: World) =>
    does(
      does(world, 'visit.count', { needles: 1, files: 0, blades: 0 }, { by: ASSISTANT, minute: -4 }),
      'visit.leave-chair',
      { why: 'feels unwell' },
      { by: ASSISTANT, minute: -3 },
    )

  // College et al, Pediatr Dent 2000 (READ): bitten lips and cheeks after a block.
  test('[aftercare/not-given] is told what that means before going home, whether the work was done or not', () => {
    for (const stage of ['seated', 'injected', 'clamped', 'started', 'finished'] as const) {
      const world = having(injected, 'visit', { ...must(injected.visit[0], 'one'), stage })
      expect(shutting(world, 'leave', 30), stage).toContain('aftercare/not-given')
    }
    const waiting = wait(injected)
    const home = (world: World, kind: string, input: object) =>
      refusals(world, kind, input, { by: DESK, minute: -2 })
    expect(home(waiting, 'appointment.cancel', { reason: 'went home' })).toEqual(['aftercare/not-given'])
    expect(home(waiting, 'appointment.change', { day: '2026-11-26' })).toEqual(['aftercare/not-given'])
    const told = does(waiting, 'aftercare.give', { to: 'patient' }, { by: ASSISTANT, minute: -2 })
    expect(home(told, 'appointment.cancel', { reason: 'went home' })).toEqual([])
  })

  test('[aftercare/not-given] a warning from before the last injection is none', () => {
    const told = does(injected, 'aftercare.give', { to: 'patient' }, { minute: -4 })
    expect(shutting(told, 'leave', -3)).not.toContain('aftercare/not-given')
    const again = does(told, 'dose.record', { dose: BLOCK }, { minute: -3 })
    expect(shutting(again, 'leave', -2)).toContain('aftercare/not-given')
  })

  // Issue 5 point 4: the patient is not left alone after an injection without someone named.
  test('[numbness/nobody-stays] is not left alone in the waiting room either', () => {
    expect(openOn(wait(injected))).toContain('numbness/nobody-stays')
    const named = does(injected, 'stay.name', { memberId: ASSISTANT.id }, { by: ASSISTANT, minute: -4 })
    expect(openOn(wait(named))).not.toContain('numbness/nobody-stays')
  })
})
