import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { NEVER } from '#shared/base/rule.ts'
import { applyChange, putting } from '#shared/change.ts'
import { followThrough } from '#shared/consequences.ts'
import type { World } from '#shared/facts.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { judgeOpen } from '#shared/readiness/judges.ts'
import { canOverride, findingKey, WHY_NEVER } from '#shared/readiness/override.ts'
import { BLOCK, does, inChair, refusals, shutting } from './chair.ts'
import {
  ASSISTANT,
  at,
  context,
  DENTIST,
  DESK,
  having,
  idOf,
  OTHER_DENTIST,
  plan,
  scene,
  VISITED,
  word,
  work,
} from './scene.ts'

/**
 * Design section 5: the five stops are never overridden; "other stops the dentist may override with a reason, which is
 * kept". An override is an answer to one question as it was read, not a rule put out of force (COMMON).
 */
const passing = (rule: string, about = `appointment:${VISITED}`, reason = 'look only') => ({
  rule,
  about,
  reason,
})
const openOf = (world: World, minute = -5) =>
  judgeOpen({
    facts: must(findAppointment(indexDay(world), VISITED), 'held'),
    day: indexDay(world),
    now: at(minute),
  })
const rulesOf = (world: World, minute?: number): string[] => openOf(world, minute).map(({ rule }) => rule)
const trayless: World = { ...inChair(), tray: [] }
const unconfirmed: World = {
  ...inChair(),
  patient: inChair().patient.map((each) => ({ ...each, historyConfirmed: null })),
}

describe('what is never passed over', () => {
  test.each([
    ['tooth', 'tooth/ambiguous'],
    ['tooth', 'work/undetermined'],
    ['tooth', 'plan/question'],
    ['tooth', 'side/not-read-back'],
    ['tooth', 'teeth/not-recounted'],
    ['tooth', 'time-out/missing'],
    ['identity', 'identity/missing'],
    ['allergy', 'latex/conflict'],
    ['allergy', 'allergies/not-asked'],
    ['allergy', 'allergies/aged-out'],
    ['allergy', 'dose/barred'],
    ['pack', 'pack/not-released'],
    ['pack', 'tray/held'],
    ['word', 'word/missing'],
    ['help', 'help/open'],
    ['tooth', 'dose/other-side'],
    ['count', 'counts/not-done'],
  ])('[override/not-allowed] %s: %s', (_, rule) => {
    expect(refusals(scene(), 'rule.override', passing(rule))).toEqual(['override/not-allowed'])
  })

  test('is listed with why, the five stops, a call for help and what is not counted', () => {
    expect(NEVER).toEqual(['tooth', 'identity', 'allergy', 'pack', 'word', 'help', 'count'])
    expect(NEVER.every((kind) => WHY_NEVER[kind].length > 0)).toBe(true)
  })

  // Case 60 and READ: a pack whose load failed is pulled; a reason does not make it sterile.
  test('a tray held for a failed spore test stays held, whatever stands among the answers', () => {
    const [tray] = scene().tray
    const held = having(inChair(), 'tray', {
      ...must(tray, 'one'),
      life: { kind: 'held', at: at(-8), why: 'spore test failed', before: 'checked' },
    })
    const about = `tray:${tray?.id}`
    expect(refusals(held, 'rule.override', passing('tray/held', about))).toEqual(['override/not-allowed'])
    const forged = having(held, 'isolationChoice', {
      ...choice,
      answers: [
        {
          rule: 'tray/held',
          about,
          answer: 'overridden: go on',
          by: DENTIST.id,
          at: at(-6),
          passed: {
            finding: findingKey(
              must(
                openOf(held).find(({ rule }) => rule === 'tray/held'),
                'open',
              ),
            ),
            planNumber: 1,
          },
        },
      ],
    })
    expect(shutting(forged, 'clamp')).toContain('tray/held')
  })

  test('an open call for help is closed, never passed over, and no dose is given meanwhile', () => {
    const called = does(inChair(), 'help.call', { kind: 'collapse' }, { by: ASSISTANT })
    expect(refusals(called, 'rule.override', passing('help/open'))).toEqual(['override/not-allowed'])
    expect(refusals(called, 'dose.record', { dose: BLOCK })).toContain('help/open')
  })
})

const choice: World['isolationChoice'][number] = {
  clinicId: must(scene().clinic[0], 'one').id,
  id: idOf(99),
  appointmentId: VISITED,
  policy: null,
  anchors: [],
  sheetMaterial: null,
  alternative: null,
  answers: [],
  drawing: null,
}

describe('passing over one open finding', () => {
  test('with a reason it is kept with who and when, and answers that finding only', () => {
    const world = does(trayless, 'rule.override', passing('tray/none-yet'))
    expect(world.isolationChoice[0]?.answers).toMatchObject([
      { answer: 'overridden: look only', by: DENTIST.id, passed: { planNumber: 1 } },
    ])
    expect(canOverride('tray/none-yet')).toBe(true)
    expect(rulesOf(trayless)).toContain('tray/none-yet')
    expect(rulesOf(world)).not.toContain('tray/none-yet')
  })

  test('[override/no-reason] without a reason it is refused', () => {
    expect(refusals(trayless, 'rule.override', passing('tray/none-yet', undefined, '  '))).toEqual([
      'override/no-reason',
    ])
  })

  test('[word/not-booked-dentist] only the one who does the work passes over anything', () => {
    expect(refusals(trayless, 'rule.override', passing('tray/none-yet'), { by: OTHER_DENTIST })).toEqual([
      'word/not-booked-dentist',
    ])
  })

  test.each([
    ['not open', passing('numbness/felt')],
    ['about something else', passing('tray/none-yet', 'tray:0')],
    ['no rule at all', passing('nonsense/rule')],
    ['only told', passing('numbness/waiting')],
    ['read otherwise by now', { ...passing('tray/none-yet'), saw: '{"rule":"tray/none-yet"}' }],
  ])('[override/not-open] what is %s is not passed over', (_, input) => {
    expect(refusals(trayless, 'rule.override', input)).toEqual(['override/not-open'])
  })

  test('[override/not-open] the finding that was read is taken, and not once more', () => {
    const seen = must(
      openOf(trayless).find(({ rule }) => rule === 'tray/none-yet'),
      'open',
    )
    const input = { ...passing('tray/none-yet'), saw: findingKey(seen) }
    const world = does(trayless, 'rule.override', input)
    expect(refusals(world, 'rule.override', input)).toEqual(['override/not-open'])
  })

  test('[override/not-open] of two that differ only in what they say, which one must be said', () => {
    const injected = does(inChair(), 'dose.record', { dose: BLOCK })
    const felt = (['cheek', 'tongue'] as const).reduce(
      (world, side) =>
        does(
          world,
          'numbness.record',
          { place: { kind: 'gum', tooth: '46', side }, answer: 'felt', method: 'probe' },
          { minute: 10 },
        ),
      injected,
    )
    const input = passing('numbness/felt')
    expect(refusals(felt, 'rule.override', input, { minute: 11 })).toEqual(['override/not-open'])
    const [one] = openOf(felt, 11).filter(({ rule }) => rule === 'numbness/felt')
    const passed = does(
      felt,
      'rule.override',
      { ...input, saw: findingKey(must(one, 'open')) },
      { minute: 11 },
    )
    expect(rulesOf(passed, 11).filter((rule) => rule === 'numbness/felt')).toHaveLength(1)
  })
})

describe('an override falls', () => {
  test('[numbness/felt] when the finding reads otherwise: what is felt later was not passed over', () => {
    const told = (world: World, minute: number) =>
      does(
        world,
        'numbness.record',
        { place: { kind: 'gum', tooth: '46', side: 'cheek' }, answer: 'felt', method: 'probe' },
        { minute },
      )
    const felt = told(does(inChair(), 'dose.record', { dose: BLOCK }), 10)
    const passed = does(felt, 'rule.override', passing('numbness/felt'), { minute: 11 })
    expect(shutting(passed, 'clamp', 12)).not.toContain('numbness/felt')
    expect(shutting(told(passed, 13), 'clamp', 14)).toContain('numbness/felt')
  })

  test('[history/not-confirmed] when another dentist treats, and does not come back with the first', () => {
    const passed = does(unconfirmed, 'rule.override', passing('history/not-confirmed'))
    expect(shutting(passed, 'inject')).not.toContain('history/not-confirmed')
    const handed = does(passed, 'appointment.change', { dentistId: OTHER_DENTIST.id }, { by: DESK })
    expect(shutting(handed, 'inject')).toContain('history/not-confirmed')
    const given = having(handed, 'word', word({ id: idOf(81), by: OTHER_DENTIST.id, at: at(-4) }))
    expect(refusals(given, 'dose.record', { dose: BLOCK }, { by: OTHER_DENTIST })).toContain(
      'history/not-confirmed',
    )
  })

  test('[tray/none-yet] when the plan has another number', () => {
    const passed = does(trayless, 'rule.override', passing('tray/none-yet'))
    const change = putting('work', work({ teeth: ['47'] }))
    const moved = applyChange(passed, followThrough(passed, change, context(DENTIST, at(-4), 9000)))
    expect(moved.plan[0]?.number).toBeGreaterThan(plan().number)
    expect(rulesOf({ ...moved, tray: [] })).toContain('tray/none-yet')
  })

  test('an answer kept before findings were bound passes over nothing', () => {
    const old = having(unconfirmed, 'isolationChoice', {
      ...choice,
      answers: [
        {
          rule: 'history/not-confirmed',
          about: `appointment:${VISITED}`,
          answer: 'overridden: in a hurry',
          by: DENTIST.id,
          at: at(-6),
        },
      ],
    })
    expect(shutting(old, 'inject')).toContain('history/not-confirmed')
  })
})
