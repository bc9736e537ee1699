import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange, type Change, isEmpty, putting, removing } from '#shared/change.ts'
import { appointmentsTouched, followThrough } from '#shared/consequences.ts'
import { decide, findCommandRule } from '#shared/decide.ts'
import type { World } from '#shared/facts.ts'
import type { IncidentId, MouthChartId } from '#shared/ids.ts'
import type { Word } from '#shared/isolation/isolation-facts.ts'
import { planFor } from '#shared/isolation/plan-for.ts'
import { READINESS_COMMANDS } from '#shared/readiness/commands.ts'
import { isOver, VISIT_STAGES } from '#shared/schedule/appointment.ts'
import { summaryOf } from '#shared/trays/summary.ts'
import {
  ASSISTANT,
  appointment,
  at,
  context,
  DENTIST,
  DESK,
  having,
  idOf,
  OTHER_DENTIST,
  ROOM,
  scene,
  VISITED,
  visit,
  word,
  work,
} from './scene.ts'

const one = <T>(facts: readonly T[]): T => must(facts[0], 'the scene holds one')
/** The scene with its plan and tray as the rules make them, and the word on that plan. */
function planned(): World {
  const bare: World = { ...scene(), plan: [], tray: [] }
  const change = followThrough(bare, putting('work', work()), context(ASSISTANT, at(-60)))
  return applyChange(bare, change)
}
const agreed = (world = planned()): World => {
  const { number, digest } = one(world.plan)
  return having(world, 'word', word({ planNumber: number, planDigest: digest }))
}
const changed = (world: World, change: Change, first = 5000): World =>
  applyChange(world, followThrough(world, change, context(DENTIST, at(-2), first)))
const lives = (world: World): string[] => world.word.map(({ life }) => life.kind)

describe('what follows from a change', () => {
  test('new work has its plan number 1 and its tray before anyone opens it', () => {
    const world = planned()
    expect(one(world.plan)).toMatchObject({ appointmentId: VISITED, number: 1, agreed: { state: 'planned' } })
    expect(world.tray).toHaveLength(1)
    expect(world.trayLine.length).toBeGreaterThan(5)
  })

  test('a change that touches no appointment is left as it is', () => {
    const change = putting('operatory', { ...one(scene().operatory), name: 'Blue room' })
    expect(followThrough(scene(), change, context(DESK, at(0)))).toBe(change)
  })

  test('[word/lapsed] another tooth: plan 2, the word lapses, the tray follows', () => {
    const world = changed(agreed(), putting('work', work({ teeth: ['47'] })))
    expect(one(world.plan).number).toBe(2)
    expect(one(world.word).life).toMatchObject({ kind: 'lapsed', why: 'plan-changed' })
    expect(one(world.tray).planNumber).toBe(2)
  })

  test('[word/lapsed] 46 → 47 → 46 is plan 3, unconfirmed', () => {
    const there = changed(agreed(), putting('work', work({ teeth: ['47'] })))
    const back = changed(there, putting('work', work()), 6000)
    expect(one(back.plan)).toMatchObject({ number: 3, digest: one(planned().plan).digest })
    expect(lives(back)).toEqual(['lapsed'])
  })

  test('[word/lapsed] a confirmed latex allergy changes sheet and word of every open appointment of the patient', () => {
    const confirmed = { ...one(scene().allergyRecord), latex: 'confirmed' as const }
    const world = changed(agreed(), putting('allergyRecord', confirmed))
    expect(one(world.plan).agreed.sheetMaterial).toBe('non-latex')
    expect(lives(world)).toEqual(['lapsed'])
  })

  test('[word/lapsed] another start time or operatory lapses nothing', () => {
    const later = { ...one(scene().appointment), start: at(30), operatoryId: idOf<typeof ROOM>(5) }
    const world = changed(agreed(), putting('appointment', later))
    expect(lives(world)).toEqual(['live'])
    expect(one(world.plan).number).toBe(1)
  })

  test('[word/changed-since-start] after the start the plan still follows, and the word is marked', () => {
    const started = having(agreed(), 'visit', visit('started'))
    const world = changed(started, putting('work', work({ teeth: ['47'] })))
    expect(one(world.word).life).toMatchObject({ kind: 'changed-since-start', why: 'plan-changed' })
  })

  test('an appointment that is over keeps its plan and word as they were', () => {
    const over = having(agreed(), 'appointment', appointment(10, { status: 'fulfilled' }))
    const world = changed(over, putting('patient', { ...one(over.patient), born: '2019-01-01' as never }))
    expect([world.plan, world.word]).toEqual([over.plan, over.word])
  })

  test('called off, the unopened tray is given back', () => {
    const world = changed(agreed(), putting('appointment', appointment(10, { status: 'noshow' })))
    expect(one(world.tray).life.kind).toBe('cleared')
  })

  test('appointments are reached through patient, chart, tray line, pack and policy', () => {
    const world = agreed()
    const reached = (change: Change) =>
      appointmentsTouched(world, change, applyChange(world, change)).map(({ id }) => id)
    expect(reached(putting('patient', one(world.patient)))).toEqual([VISITED])
    expect(reached(putting('mouthChart', one(world.mouthChart)))).toEqual([VISITED])
    expect(reached(putting('trayLine', one(world.trayLine)))).toEqual([VISITED])
    expect(reached(putting('policySet', one(world.policySet)))).toEqual([VISITED])
    expect(reached(removing('work', one(world.work).id))).toEqual([VISITED])
    expect(reached(putting('occupancy', one(world.occupancy)))).toEqual([])
  })
})

describe('decide', () => {
  test('[person/not-allowed] a role that may not is refused, and so is one who has left', () => {
    const command = { kind: 'word.give', input: { appointmentId: VISITED, number: 1 } }
    const by = (member: typeof DENTIST) => {
      const decision = decide(planned(), command, context(member, at(-2)))
      return decision.ok ? 'done' : one(decision.reasons).rule
    }
    expect(by(DENTIST)).toBe('done')
    expect(by(ASSISTANT)).toBe('person/not-allowed')
    expect(by({ ...DENTIST, active: false })).toBe('person/not-allowed')
  })

  test('no other name is a command', () => {
    expect(findCommandRule('word.give')?.kind).toBe('word.give')
    expect(findCommandRule('toString')).toBeNull()
    expect(findCommandRule('word.take')).toBeNull()
  })

  test('[side/stopped] a stop lapses the word in the same change', () => {
    const world = agreed()
    const command = { kind: 'stop.check-side', input: { appointmentId: VISITED } }
    const decision = decide(world, command, context(ASSISTANT, at(-2)))
    if (!decision.ok) throw new Error('refused')
    const after = applyChange(world, decision.value.change)
    expect(one(after.incident).kind).toBe('stop-check-side')
    expect(one(after.word).life).toMatchObject({ kind: 'lapsed', why: 'stopped' })
  })
})

type Edit = (world: World, n: number) => Change

/** One thing a day may bring. Every edit keeps to the facts' own shapes. */
const EDITS: Record<string, Edit> = {
  'another tooth': (world, n) =>
    putting('work', { ...one(world.work), teeth: [(['46', '47', '36', '11'] as const)[n % 4] ?? '46'] }),
  'another kind': (world, n) =>
    putting('work', {
      ...one(world.work),
      kind:
        (['root-canal', 'direct-composite', 'extraction', 'undetermined', 'cleaning'] as const)[n % 5] ??
        'exam',
    }),
  'more work': (_, n) =>
    putting('work', work({ id: idOf(300 + (n % 2)), position: 2, teeth: ['45'], kind: 'direct-composite' })),
  'less work': (world) => removing('work', ...world.work.slice(1).map(({ id }) => id)),
  'another dentist': (world, n) =>
    putting('appointment', { ...one(world.appointment), dentistId: n % 2 ? DENTIST.id : OTHER_DENTIST.id }),
  'another start': (world, n) => putting('appointment', { ...one(world.appointment), start: at(n % 60) }),
  'another status': (world, n) =>
    putting('appointment', {
      ...one(world.appointment),
      status: (['booked', 'arrived', 'cancelled', 'noshow'] as const)[n % 4] ?? 'booked',
    }),
  'a tooth charted': (world, n) => {
    const chart = one(world.mouthChart)
    const conditions = n % 2 ? (['missing'] as const) : (['present'] as const)
    return putting('mouthChart', {
      ...chart,
      id: chart.id satisfies MouthChartId,
      teeth: {
        ...chart.teeth,
        [['47', '48', '45', '46'][n % 4] ?? '47']: { conditions: [...conditions], by: DENTIST.id, at: at(n) },
      },
    })
  },
  'chart unknown': (world, n) =>
    putting('mouthChart', {
      ...one(world.mouthChart),
      charted: n % 2 ? null : { by: DENTIST.id, at: at(0) },
    }),
  latex: (world, n) =>
    putting('allergyRecord', {
      ...one(world.allergyRecord),
      latex: (['none-known', 'confirmed', 'not-asked', 'suspected'] as const)[n % 4] ?? 'not-asked',
    }),
  'another policy': (world, n) => {
    const policy = one(world.policySet)
    const scheme = (['S5', 'S6', 'S3'] as const)[n % 3] ?? 'S5'
    return putting('policySet', { ...policy, isolation: { ...policy.isolation, holeScheme: scheme } })
  },
  stage: (_, n) => {
    const stage = VISIT_STAGES[1 + (n % 6)] ?? 'arrived'
    return putting('visit', visit(stage))
  },
  stop: (_, n) =>
    putting('incident', {
      clinicId: one(scene().clinic).id,
      id: idOf<IncidentId>(700 + n),
      appointmentId: VISITED,
      operatoryId: ROOM,
      kind: 'stop-check-side',
      at: at(n),
      by: ASSISTANT.id,
      drill: false,
      steps: [],
      life: { kind: n % 2 ? 'open' : 'closed', at: at(n), by: DENTIST.id, outcome: 'nothing-wrong' },
    }),
  'the word': (world, n) => {
    const plan = one(world.plan)
    const decision = READINESS_COMMANDS['word.give'].decide(
      world,
      { appointmentId: VISITED, number: plan.number },
      context(DENTIST, at(n), 800_000 + n * 100 + world.word.length),
    )
    return decision.ok ? decision.value.change : { put: {}, remove: {} }
  },
}

const histories = fc.array(fc.tuple(fc.constantFrom(...Object.keys(EDITS)), fc.nat({ max: 400 })), {
  minLength: 1,
  maxLength: 14,
})

/** Plays a history and hands every step to a law. */
function play(history: [string, number][], law: (before: World, after: World) => void): void {
  let world = agreed()
  for (const [index, [name, n]] of history.entries()) {
    const edit = must(EDITS[name], 'an edit of the table')(world, n)
    if (isEmpty(edit)) continue
    const next = applyChange(
      world,
      followThrough(world, edit, context(DENTIST, at(index), 10_000 + index * 1000)),
    )
    law(world, next)
    world = next
  }
}

describe('laws, over random histories', () => {
  const runs = { numRuns: 200 }

  test('the stored plan equals the plan computed from the world', () => {
    fc.assert(
      fc.property(histories, (history) =>
        play(history, (_, after) => {
          if (isOver(one(after.appointment).status)) return
          expect(one(after.plan).digest).toBe(planFor(after, VISITED)?.version)
          expect(after.plan).toHaveLength(1)
        }),
      ),
      { numRuns: 1000 },
    )
  })

  test('[word/lapsed] a lapse never heals, nor changes its reason or time', () => {
    const ended = (words: readonly Word[]) => words.filter(({ life }) => life.kind !== 'live')
    fc.assert(
      fc.property(histories, (history) =>
        play(history, (before, after) => {
          for (const word of ended(before.word)) expect(after.word).toContainEqual(word)
        }),
      ),
      runs,
    )
  })

  test('[word/lapsed] a live word names the plan that stands', () => {
    fc.assert(
      fc.property(histories, (history) =>
        play(history, (_, after) => {
          if (isOver(one(after.appointment).status)) return
          const digests = after.word.filter(({ life }) => life.kind === 'live').map((each) => each.planDigest)
          for (const digest of digests) expect(digest).toBe(one(after.plan).digest)
        }),
      ),
      runs,
    )
  })

  test('a plan’s number only grows, and grows exactly when what is agreed changes', () => {
    fc.assert(
      fc.property(histories, (history) =>
        play(history, (before, after) => {
          const [was, is] = [one(before.plan), one(after.plan)]
          expect(is.number).toBe(was.digest === is.digest ? was.number : was.number + 1)
        }),
      ),
      runs,
    )
  })

  test('a tray always carries the summary of its own lines', () => {
    fc.assert(
      fc.property(histories, (history) =>
        play(history, (_, after) => {
          const tray = one(after.tray)
          const lines = after.trayLine.filter((line) => line.trayId === tray.id)
          expect(tray).toMatchObject(summaryOf(lines))
        }),
      ),
      { numRuns: 150 },
    )
  })

  test('following through twice adds nothing', () => {
    fc.assert(
      fc.property(histories, (history) =>
        play(history, (before, after) => {
          const again = followThrough(
            after,
            putting('work', one(after.work)),
            context(DENTIST, at(0), 900_000),
          )
          expect(before).not.toBe(after)
          expect(again.put.plan ?? []).toEqual([])
          expect(again.put.word ?? []).toEqual([])
        }),
      ),
      { numRuns: 150 },
    )
  })
})
