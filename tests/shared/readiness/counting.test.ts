import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange, putting } from '#shared/change.ts'
import { followThrough } from '#shared/consequences.ts'
import type { World } from '#shared/facts.ts'
import type { DoseId } from '#shared/ids.ts'
import { BLOCK, does, GIVEN, inChair, refusals, shutting } from './chair.ts'
import {
  AGREED,
  ASSISTANT,
  answered,
  at,
  context,
  DENTIST,
  having,
  idOf,
  plan,
  VISITED,
  visit,
  work,
} from './scene.ts'

/**
 * Design section 5, gate "leave": clamp, sheet pieces, ligatures, needles, files and blades counted. Case 54 (READ):
 * a scrap of rubber left behind. What went in is counted out, whatever was tied or recorded.
 */
const COUNTS = 'counts/not-done'
const injected = does(inChair(), 'dose.record', { dose: BLOCK })
const over = (world: World, more: object = {}): World =>
  having(world, 'visit', {
    ...visit('finished'),
    aftercare: { to: 'patient', by: DENTIST.id, at: at(5) },
    ...more,
  })
const withoutDam = having(injected, 'plan', plan({ ...AGREED, state: 'not-needed', sheets: [] }))
const composite = having(withoutDam, 'work', work({ kind: 'direct-composite', text: 'comp 46' }))
const steps = (...stages: ('arrived' | 'seated' | 'injected' | 'clamped' | 'started' | 'finished')[]) =>
  stages.map((stage, index) => ({ stage, at: at(index - 10), by: ASSISTANT.id }))

describe('what went in is counted out', () => {
  test('[counts/not-done] a sheet without a clamp, or with one that was not tied', () => {
    expect(shutting(over(inChair()), 'leave', 30)).toContain(COUNTS)
  })

  test('[counts/not-done] a needle, where no sheet was', () => {
    const world = over(composite, { steps: steps('arrived', 'seated', 'injected', 'started', 'finished') })
    expect(shutting(world, 'leave', 30)).toEqual([COUNTS])
    const counted = does(
      world,
      'visit.count',
      { needles: 1, files: 0, blades: 0 },
      { by: ASSISTANT, minute: 30 },
    )
    expect(shutting(counted, 'leave', 31)).not.toContain(COUNTS)
  })

  test.each([
    ['files', 'root-canal'],
    ['blades', 'extraction'],
    ['nobody knows what', 'undetermined'],
  ] as const)('[counts/not-done] %s, where nothing was injected and no sheet was', (_, kind) => {
    const world: World = {
      ...having(composite, 'work', work({ kind, text: 'as booked' })),
      dose: [],
    }
    const begun = over(world, { steps: steps('arrived', 'seated', 'started', 'finished') })
    expect(shutting(begun, 'leave', 30)).toContain(COUNTS)
    const looked = over(world, { steps: steps('arrived', 'seated') })
    expect(shutting(looked, 'leave', 30)).not.toContain(COUNTS)
  })

  test('nobody is asked to count what never went in', () => {
    const world: World = {
      ...having(composite, 'work', work({ kind: 'exam', text: 'check-up', teeth: [] })),
      dose: [],
    }
    const seen = over(world, { steps: steps('arrived', 'seated', 'started', 'finished') })
    expect(shutting(seen, 'leave', 30)).toEqual([])
  })

  test('[counts/not-done] a count from before the last thing went in is none', () => {
    const counts = { needles: 1, files: 0, blades: 0 }
    const counted = does(composite, 'visit.count', counts, { by: ASSISTANT, minute: -4 })
    expect(shutting(counted, 'leave', -3)).not.toContain(COUNTS)
    const again = having(counted, 'dose', {
      ...must(counted.dose[0], 'given'),
      id: idOf<DoseId>(96),
      at: at(-2),
    })
    expect(shutting(again, 'leave', -1)).toContain(COUNTS)
  })

  test('[counts/not-done] nor does the patient get up with a needle uncounted', () => {
    expect(refusals(injected, 'visit.leave-chair', { why: 'toilet' }, { by: ASSISTANT, minute: -3 })).toEqual(
      [COUNTS],
    )
  })
})

describe('what cannot be counted', () => {
  const lost = { kind: 'lost-clamp', drill: false }
  const ending = (outcome: string, drill = false): World => {
    const called = does(over(composite), 'help.call', { ...lost, drill }, { by: ASSISTANT, minute: 28 })
    const incidentId = must(called.incident.at(-1), 'called').id
    return does(called, 'help.close', { incidentId, outcome }, { minute: 29 })
  }
  test('[counts/not-done] goes with the patient to others, who are told; what was found is counted', () => {
    expect(shutting(ending('referred'), 'leave', 30)).not.toContain(COUNTS)
    expect(shutting(ending('found'), 'leave', 30)).toContain(COUNTS)
    expect(shutting(ending('referred', true), 'leave', 30)).toContain(COUNTS)
  })
})

describe('how it is counted', () => {
  test('[removal/count] no needle counted after an injection is no count', () => {
    const counts = { needles: 0, files: 0, blades: 0 }
    expect(refusals(composite, 'visit.count', counts, { by: ASSISTANT })).toEqual(['removal/count'])
  })

  test('[counts/with-dam] where a sheet was on, the sheet is laid flat with it', () => {
    const counts = { needles: 1, files: 0, blades: 0 }
    expect(refusals(over(injected), 'visit.count', counts, { by: ASSISTANT, minute: 30 })).toEqual([
      'counts/with-dam',
    ])
    expect(over(injected).visit[0]?.appointmentId).toBe(VISITED)
  })
})

describe('other teeth under the dam', () => {
  const readBack = { teeth: ['46' as const], planNumber: 1, by: DENTIST.id, at: at(-6) }
  const recounted = { before: at(-8), through: at(-6), teeth: ['46' as const], by: DENTIST.id }
  const clamped = having(
    having(inChair('clamped', { readBack, recounted }), 'dose', GIVEN),
    'numbness',
    answered(95, { kind: 'tooth', tooth: '46' }),
    answered(96, { kind: 'gum', tooth: '46', side: 'cheek' }),
    answered(97, { kind: 'gum', tooth: '46', side: 'tongue' }),
  )
  const changed = (tooth: '47' | '36'): World => {
    const change = putting('work', work({ teeth: [tooth], text: `RCT ${tooth}` }))
    return applyChange(clamped, followThrough(clamped, change, context(DENTIST, at(-1), 9000)))
  }

  // Case 2 (READ): the dam itself went on the neighbour. Teeth are counted for the tooth that is worked on.
  test.each(['47', '36'] as const)(
    '[teeth/not-recounted] [numbness/not-tested] 46 changed to %s: counted anew, and the gum at the new anchor asked',
    (tooth) => {
      expect(shutting(clamped, 'start', -2)).toEqual(['time-out/missing'])
      const shut = shutting(changed(tooth), 'start', 0)
      expect(shut).toContain('teeth/not-recounted')
      expect(shut).toContain('numbness/not-tested')
    },
  )

  test('[recount/not-due] the sheet is lifted and the teeth counted, then through it; not once more', () => {
    const world = changed('47')
    const count = (from: World, when: string, minute: number) =>
      does(from, 'teeth.recount', { when }, { minute })
    expect(shutting(count(world, 'through', 0), 'start', 1)).toContain('teeth/not-recounted')
    const both = count(count(world, 'before', 0), 'through', 1)
    expect(shutting(both, 'start', 2)).not.toContain('teeth/not-recounted')
    expect(refusals(both, 'teeth.recount', { when: 'before' }, { minute: 2 })).toEqual(['recount/not-due'])
  })

  test('a top-up under the dam asks the tooth again, not the gum under the sheet', () => {
    const dose = { ...must(injected.dose[0], 'given'), id: idOf<DoseId>(98), at: at(-1) }
    const shut = shutting(having(clamped, 'dose', dose), 'start', 0)
    expect(shut).toContain('numbness/tooth-not-tested')
    expect(shut).not.toContain('numbness/not-tested')
  })
})
