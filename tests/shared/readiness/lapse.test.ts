import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import type { LapseCause, Word } from '#shared/isolation/isolation-facts.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { LAPSES, lapseCauses, lapseWord } from '#shared/readiness/lapse.ts'
import { judgeWord, standingOf } from '#shared/readiness/word.ts'
import { leaveChair } from '#shared/schedule/visit.ts'
import { does, shutting } from './chair.ts'
import { agreed, KEEPING, LAPSING } from './lapse-table.ts'
import { AGREED, ASSISTANT, at, having, idOf, operatory, plan, scene, VISITED, visit, word } from './scene.ts'

const facts = (world: World) => must(findAppointment(indexDay(world), VISITED), 'held')
const lapsedFor = (after: World, why: LapseCause): Word['life'] =>
  lapseWord(word(), { after: facts(after), now: at(1) }, why).life

describe('the one lapse table', () => {
  for (const { change, from = agreed, to, why } of LAPSING) {
    test(`[word/lapsed] ${change} lapses the word: ${why}`, () => {
      const before = from('seated')
      const after = to(before, 'seated')
      expect(lapseCauses({ before, after }, VISITED, at(-1))).toContain(why)
      expect(lapsedFor(after, why)).toMatchObject({ kind: 'lapsed', why })
    })
  }

  for (const { change, from = agreed, to } of KEEPING) {
    test(`[word/lapsed] ${change} does not lapse it`, () => {
      const before = from('seated')
      expect(lapseCauses({ before, after: to(before, 'seated') }, VISITED, at(-1))).toEqual([])
    })
  }

  test('[word/lapsed] a word older than the clinic’s limit has lapsed, on any change and by the clock alone', () => {
    const world = agreed()
    expect(lapseCauses({ before: world, after: world }, VISITED, at(-30 + 90))).toEqual([])
    expect(lapseCauses({ before: world, after: world }, VISITED, at(-30 + 91))).toEqual(['too-long-ago'])
    const facts = must(findAppointment(indexDay(world), VISITED), 'held')
    expect(standingOf(facts, at(61)).kind).toBe('lapsed')
    expect(judgeWord(facts, at(61))).toMatchObject([{ rule: 'word/lapsed', why: 'too-long-ago' }])
  })

  test('[word/lapsed] without a policy set no word is taken for live', () => {
    const facts = must(findAppointment(indexDay({ ...agreed(), policySet: [] }), VISITED), 'held')
    expect(standingOf(facts, at(-1)).kind).toBe('lapsed')
  })

  test('every cause of the table has a row here', () => {
    const told = new Set<LapseCause>([...LAPSING.map(({ why }) => why), 'too-long-ago'])
    expect(LAPSES.map(({ cause }) => cause).filter((cause) => !told.has(cause))).toEqual([])
  })
})

describe('the same table once the work has begun', () => {
  const BEGUN = LAPSING.filter(({ notAfter }) => notAfter === undefined)

  for (const { change, from = agreed, to, why } of BEGUN) {
    test(`[word/changed-since-start] ${change}: the dentist is to look, and what was done stays done`, () => {
      const before = from('started')
      const after = to(before, 'started')
      expect(lapseCauses({ before, after }, VISITED, at(1))).toContain(why)
      expect(lapsedFor(after, why)).toMatchObject({ kind: 'changed-since-start', why })

      const marked = { ...after, word: after.word.map((each) => ({ ...each, life: lapsedFor(after, why) })) }
      expect(judgeWord(facts(marked), at(1))).toMatchObject([{ rule: 'word/changed-since-start', why }])
      // Nothing is taken back: the stage with all its steps, what was given, what was felt.
      expect(marked.visit.map(({ stage, steps }) => [stage, steps])).toEqual(
        before.visit.map(({ stage, steps }) => [stage, steps]),
      )
      for (const dose of before.dose) expect(marked.dose).toContainEqual(dose)
      expect(marked.numbness).toEqual(before.numbness)
    })
  }

  for (const { change, from = agreed, to, notAfter } of KEEPING) {
    if (notAfter !== undefined) continue
    test(`[word/changed-since-start] ${change} asks nobody to look`, () => {
      const before = from('started')
      expect(lapseCauses({ before, after: to(before, 'started') }, VISITED, at(1))).toEqual([])
    })
  }

  test('[word/changed-since-start] it keeps the patient from leaving until the dentist has looked', () => {
    const world = having(
      agreed('finished'),
      'word',
      word({ life: lapsedFor(agreed('started'), 'history-changed') }),
    )
    expect(shutting(world, 'leave', 1)).toContain('word/changed-since-start')
    const looked = does(world, 'word.give', { number: 1 }, { minute: 1 })
    expect(shutting(looked, 'leave', 2)).not.toContain('word/changed-since-start')
    expect(looked.word).toHaveLength(2)
  })

  test('[word/lapsed] the clock alone changes nothing under the work', () => {
    const world = agreed('started')
    expect(lapseCauses({ before: world, after: world }, VISITED, at(600))).toEqual([])
    expect(standingOf(facts(world), at(600)).kind).toBe('live')
  })

  test('[word/lapsed] out of the chair under the work it lapses, and all that was done stands', () => {
    const before = agreed('started')
    const sitting = must(before.visit[0], 'one')
    const after = having(before, 'visit', leaveChair(sitting, { now: at(1), by: ASSISTANT }))
    expect(lapseCauses({ before, after }, VISITED, at(1))).toEqual(['left-chair'])
    expect(lapsedFor(after, 'left-chair')).toMatchObject({ kind: 'lapsed', why: 'left-chair' })
    expect(must(after.visit[0], 'one').steps.slice(0, -1)).toEqual(sitting.steps)
  })
})

describe('what a lapse leaves', () => {
  test('[word/lapsed] a lapse never heals nor changes its reason', () => {
    const lapsed = lapseWord(word(), { after: facts(agreed()), now: at(-1) }, 'plan-changed')
    expect(lapsed.life).toEqual({ kind: 'lapsed', at: at(-1), why: 'plan-changed' })
    expect(lapseWord(lapsed, { after: facts(agreed()), now: at(0) }, 'stopped')).toBe(lapsed)
  })

  test('[word/lapsed] 46 → 47 → 46 is another plan, and the old word stays lapsed', () => {
    const again = having(having(scene(), 'word', word()), 'plan', plan(AGREED, 3))
    expect(standingOf(facts(again), at(-1))).toMatchObject({ kind: 'lapsed', why: 'plan-changed' })
  })

  test('[word/changed-since-start] after the start it is only marked: work done is not erased', () => {
    const started = having(agreed(), 'visit', visit('started'))
    const marked = lapseWord(word(), { after: facts(started), now: at(1) }, 'allergies-changed')
    expect(marked.life).toEqual({ kind: 'changed-since-start', at: at(1), why: 'allergies-changed' })
  })

  test('the last word given counts', () => {
    const older = word({ id: idOf(81), at: at(-50) })
    const newer = word({ life: { kind: 'lapsed', at: at(-2), why: 'withdrawn' } })
    expect(standingOf(facts({ ...scene(), word: [newer, older] }), at(-1)).kind).toBe('lapsed')
  })
})

test('an operatory fact of another room changes nothing', () => {
  const world = agreed()
  expect(
    lapseCauses({ before: world, after: having(world, 'operatory', operatory(6, 2)) }, VISITED, at(-1)),
  ).toEqual([])
})
