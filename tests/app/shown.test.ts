import { describe, expect, test } from 'vitest'
import { countLanes, laneState, newlyCalling, startsIn } from '#app/_live/shown.ts'
import { judgedAt } from '#app/_live/use-moment.ts'
import { addMinutes, instant } from '#shared/base/moment.ts'
import { board, lane, line, MORNING, NOW } from './board-fixture.ts'

describe('a lane', () => {
  test('stands as the graver of its running and its next appointment', () => {
    expect(laneState(lane(1, { now: line({ state: 'ask' }), next: [line({ state: 'ready' })] }))).toBe('ask')
    expect(laneState(lane(1, { now: line({ state: 'ask' }), next: [line({ state: 'hold' })] }))).toBe('hold')
  })
  test('does not take its colour from an appointment after the next', () => {
    expect(laneState(lane(1, { next: [line(), line({ state: 'hold' })] }))).toBe('ready')
  })
  test('with nothing more today has no state', () => {
    expect(laneState(lane(1))).toBeNull()
  })
})

test('lanes are counted by state, gravest first, empty ones not at all', () => {
  expect(countLanes(MORNING)).toEqual([
    { state: 'hold', count: 1 },
    { state: 'ask', count: 2 },
    { state: 'preparing', count: 2 },
    { state: 'ready', count: 1 },
  ])
})

describe('starts in', () => {
  const start = addMinutes(NOW, 10)
  test('counts to the expected start, the running minute as a whole one', () => {
    expect(startsIn({ start, expectedStart: addMinutes(NOW, 25) }, instant(NOW + 1))).toEqual({
      kind: 'in',
      minutes: 25,
    })
  })
  test('a passed start is late from what was booked', () => {
    expect(startsIn({ start, expectedStart: start }, addMinutes(start, 4))).toEqual({
      kind: 'late',
      minutes: 4,
    })
  })
  test('at the very minute it is due', () => {
    expect(startsIn({ start, expectedStart: start }, start)).toEqual({ kind: 'due' })
  })
})

describe('those who listen', () => {
  const before = board([lane(1, { next: [line({ state: 'preparing' })] })])
  const after = board([lane(1, { next: [line({ state: 'hold', says: 'Latex, confirmed.' })] })])
  test('are told of a lane that has come to need someone, and why', () => {
    expect(newlyCalling(before, after)).toEqual(['Operatory 1: hold. Latex, confirmed.'])
  })
  test('are not told again while it stands', () => {
    expect(newlyCalling(after, after)).toEqual([])
  })
  test('are not told when it no longer does', () => {
    expect(newlyCalling(after, before)).toEqual([])
  })
})

test('things are judged at whole minutes, or at the last change if that is later', () => {
  expect(judgedAt(instant(NOW + 59_000), NOW)).toBe(NOW)
  expect(judgedAt(instant(NOW + 59_000), instant(NOW + 30_000))).toBe(NOW + 30_000)
})
