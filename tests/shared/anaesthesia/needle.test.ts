import { describe, expect, test } from 'vitest'
import type { PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { isPlausibleWeight } from '#shared/anaesthesia/gates.ts'
import type { Gate } from '#shared/base/rule.ts'
import type { World } from '#shared/facts.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { asks, BLOCK, does, inChair, refusals, shutting } from '#tests/shared/readiness/chair.ts'
import {
  AGREED,
  ASSISTANT,
  answered,
  at,
  DENTIST,
  having,
  idOf,
  plan,
  visit,
  word,
  work,
} from '#tests/shared/readiness/scene.ts'

/**
 * A needle after the start is as final as the first: who, tooth, side, word and dose are asked for each. (Joint
 * Commission Universal Protocol, READ: differences are settled before.) What is numb is tested, not timed (READ: Nusstein,
 * Reader, Drum 2008).
 */
const NO_DAM = plan({ ...AGREED, state: 'not-needed', need: 'not-needed', sheets: [] })
const LEFT = { ...BLOCK, tooth: '36', side: 'left' } as const
const readBackOf = (...teeth: Tooth[]) => ({ readBack: { teeth, planNumber: 1, by: DENTIST.id, at: at(-6) } })
/** The same chair with other work, and no sheet. */
const having46 = (
  more: Parameters<typeof work>[0],
  stage: Parameters<typeof inChair>[0] = 'seated',
): World => {
  const teeth = more?.teeth ?? ['46']
  return having(
    having(inChair(stage, readBackOf(...teeth)), 'work', work({ ...more, teeth })),
    'plan',
    NO_DAM,
  )
}
const needle = (world: World, dose: PlannedDose, minute = -5): string[] =>
  refusals(world, 'dose.record', { dose }, { minute })
const infiltration = (tooth: Tooth | null, side: 'right' | 'left'): PlannedDose => ({
  ...BLOCK,
  technique: 'infiltration',
  tooth,
  side,
})
const shut = (world: World, gate: Gate, minute = -4) => shutting(world, gate, minute)

describe('[dose/other-side] the side is that of work and plan', () => {
  test('of work without a tooth, the planned side counts', () => {
    const scaling = having46({ kind: 'scaling', text: 'scaling', teeth: [] })
    const planned = does(scaling, 'anaesthetic.plan', { planned: [infiltration(null, 'right')] })
    expect(needle(planned, infiltration(null, 'left'))).toContain('dose/other-side')
    expect(needle(planned, infiltration('26', 'left'))).toContain('dose/other-side')
    expect(needle(planned, infiltration(null, 'right'))).toEqual([])
  })
  test.each<[Tooth, PlannedDose]>([
    ['41', LEFT],
    ['11', infiltration('26', 'left')],
    ['42', { ...BLOCK, tooth: '32', side: 'left' }],
  ])('beside the midline at %s only the next teeth may be meant, and no block', (tooth, dose) =>
    expect(needle(having46({ teeth: [tooth] }), dose)).toContain('dose/other-side'),
  )
  test('the tooth next to the midline is meant from either side', () =>
    expect(needle(having46({ teeth: ['11'] }), infiltration('21', 'left'))).toEqual([]))
  test('[dose/side-unsaid] without a tooth and without a plan nothing says which side', () => {
    const scaling = having46({ kind: 'scaling', text: 'scaling', teeth: [] })
    expect(needle(scaling, infiltration(null, 'left'))).toContain('dose/side-unsaid')
    expect(needle(scaling, infiltration('36', 'left'))).toContain('dose/side-unsaid')
  })
})

describe('[dose/in-elsewhere] one that is in on the other side', () => {
  const given = does(inChair(), 'dose.record', { dose: LEFT, alreadyGiven: true })
  test('takes the word away, and is the dentist’s to answer', () => {
    expect(given.word[0]?.life).toMatchObject({ kind: 'lapsed', why: 'dose-changed' })
    expect(shut(given, 'clamp')).toContain('dose/in-elsewhere')
    expect(refusals(given, 'word.give', { number: 1 }, { minute: -4 })).toEqual(['word/asks-open'])
  })
  test('and does not leave uncounted', () =>
    expect(shut(given, 'leave')).toEqual(expect.arrayContaining(['dose/in-elsewhere', 'counts/not-done'])))
  test('and a second one takes away the word that was given on the first', () => {
    const again = having(given, 'word', word({ id: idOf(83), at: at(-4) }))
    const second = does(again, 'dose.record', { dose: LEFT, alreadyGiven: true }, { minute: -3 })
    expect(second.word.find(({ id }) => id === idOf(83))?.life).toMatchObject({ why: 'dose-changed' })
  })
  test('a second cartridge in another jaw takes it away too', () => {
    const upper = does(inChair(), 'dose.record', { dose: { ...BLOCK, tooth: '16' }, alreadyGiven: true })
    expect(upper.word[0]?.life.kind).toBe('lapsed')
  })
})

describe('a needle at any stage', () => {
  test('[word/changed-since-start] after the start another tooth has no word', () => {
    const lapsed = word({ life: { kind: 'changed-since-start', at: at(-5), why: 'plan-changed' } })
    const changed = having(having(inChair('started'), 'work', work({ teeth: ['47'] })), 'word', lapsed)
    const refused = needle(changed, { ...BLOCK, tooth: '47' })
    expect(refused).toEqual(expect.arrayContaining(['word/changed-since-start', 'side/not-read-back']))
    const read = { teeth: ['47'], planNumber: 1 }
    expect(refusals(changed, 'visit.read-back', read)).toEqual([])
    expect(needle(inChair('started'), BLOCK)).toEqual([])
  })
  test('[dose/over-maximum] [dose/other-side] when the work is finished, too', () => {
    const finished = inChair('finished')
    const weighed: World = {
      ...finished,
      patient: finished.patient.map((each) => ({
        ...each,
        weight: {
          grams: 70_000,
          entered: { value: '70', unit: 'kg' },
          by: ASSISTANT.id,
          at: at(-8),
        } as never,
      })),
    }
    expect(needle(weighed, { ...BLOCK, tenthsOfCartridge: 200 })).toContain('dose/over-maximum')
    expect(needle(finished, LEFT)).toContain('dose/other-side')
    const nobody = having(finished, 'visit', visit('finished', { identity: null, ...readBackOf('46') }))
    expect(needle(nobody, BLOCK)).toContain('identity/missing')
    expect(needle(finished, BLOCK)).toEqual([])
  })
})

describe('what is numb is tested, and what was given is recorded', () => {
  const gum = [
    answered(96, { kind: 'gum', tooth: '46', side: 'cheek' }),
    answered(97, { kind: 'gum', tooth: '46', side: 'tongue' }),
    answered(95, { kind: 'tooth', tooth: '46' }),
  ]
  test('[numbness/none-given] an intended injection that nobody recorded', () => {
    const numb = having(inChair(), 'numbness', ...gum)
    expect(refusals(numb, 'visit.clamp', { tied: true }, { minute: -3 })).toEqual(['numbness/none-given'])
    const extraction = having(having46({ kind: 'extraction', text: 'ext 46' }), 'numbness', ...gum)
    expect(shut(extraction, 'start')).toContain('numbness/none-given')
  })
  test.each(['extraction', 'implant', 'crown-removal'] as const)(
    '[numbness/tooth-not-tested] %s does not start on a tooth that nobody tested',
    (kind) => {
      const given = does(having46({ kind, text: kind }), 'dose.record', { dose: BLOCK })
      expect(shut(given, 'start', 0)).toContain('numbness/tooth-not-tested')
      const tested = having(given, 'numbness', { ...answered(95, { kind: 'tooth', tooth: '46' }), at: at(0) })
      expect(shut(tested, 'start', 1)).not.toContain('numbness/tooth-not-tested')
    },
  )
  test('[numbness/re-check] a top-up or another tooth under way is tested', () => {
    const started = does(inChair('started'), 'dose.record', { dose: BLOCK }, { minute: 10 })
    expect(shut(started, 'start', 11)).toContain('numbness/re-check')
    const tested = having(started, 'numbness', {
      ...answered(94, { kind: 'tooth', tooth: '46' }),
      at: at(12),
    })
    expect(shut(tested, 'start', 13)).not.toContain('numbness/re-check')
    const other = having(tested, 'work', work({ teeth: ['47'] }))
    expect(shut(other, 'start', 13)).toContain('numbness/re-check')
  })
})

describe('what is laid on is no needle (case 44, READ)', () => {
  const TOPICAL: PlannedDose = { ...BLOCK, agent: 'lidocaine', technique: 'topical' }
  const meant = does(inChair(), 'anaesthetic.none-by-intent', { reason: 'necrotic', topicalAtClamp: true })
  const live = having(meant, 'word', word({ id: idOf(81), at: at(-5) }))
  const laid = does(live, 'dose.record', { dose: TOPICAL }, { minute: -4 })
  test('the word stands, the stage too, and no second look is due', () => {
    expect(laid.word.find(({ id }) => id === idOf(81))?.life.kind).toBe('live')
    expect(laid.visit[0]?.stage).toBe('seated')
    expect(shut(laid, 'start', 60)).not.toContain('numbness/re-check')
    expect(refusals(laid, 'visit.clamp', { tied: true }, { minute: -3 })).toEqual([])
  })
})

describe('back in the chair after the needle', () => {
  test('[cartridge/not-read-back] nothing more is to be injected, so no label is asked', () => {
    const given = does(inChair(), 'dose.record', { dose: BLOCK })
    const back = having(given, 'visit', {
      ...visit('seated', readBackOf('46')),
      steps: [{ stage: 'seated', at: at(-1), by: ASSISTANT.id }],
    })
    expect(shut(back, 'clamp', 0)).not.toContain('cartridge/not-read-back')
    const planned = does(inChair(), 'anaesthetic.plan', { planned: [{ ...BLOCK, tenthsOfCartridge: 20 }] })
    const half = does(having(planned, 'word', word({ id: idOf(82), at: at(-5) })), 'dose.record', {
      dose: BLOCK,
    })
    const backHalf = having(half, 'visit', back.visit[0] as never)
    expect(shut(backHalf, 'clamp', 0)).toContain('cartridge/not-read-back')
  })
})

describe('[dose/weight-implausible] pounds entered as kilograms (CDC growth charts 2000, 97th percentile, READ)', () => {
  // Medians of the same charts: 16.3 kg at 4, 18.5 at 5, 23.1 at 7, 32.0 at 10 years; their pounds, and three more.
  test.each([
    [36, 4],
    [31, 4],
    [41, 5],
    [50, 7],
    [70, 10],
  ])('%i kg at %i years is asked', (kilograms, years) =>
    expect(isPlausibleWeight(kilograms * 1000, years)).toBe(false),
  )
  test.each([
    [16, 4],
    [24, 5],
    [33, 7],
    [50, 10],
    [70, 13],
    [95, 17],
    [140, 40],
  ])('%i kg at %i years is not', (kilograms, years) =>
    expect(isPlausibleWeight(kilograms * 1000, years)).toBe(true),
  )
})

describe('[word/asks-open] the word is closed while a dose or a permission is asked about', () => {
  test('a dose over its profile, a planned side that differs, permission for other work', () => {
    const unsaid = { ...inChair(), word: [] }
    const open = (world: World): string[] => {
      const decision = asks(world, 'word.give', { number: 1 })
      return decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
    }
    expect(open(unsaid)).toEqual([])
    const otherSide = does(unsaid, 'anaesthetic.plan', { planned: [LEFT] })
    expect(open(otherSide)).toEqual(['word/asks-open'])
    const consent = {
      text: 'filling 45',
      teeth: ['45'],
      work: [{ kind: 'direct-composite', teeth: ['45'] }],
      by: ASSISTANT.id,
      at: at(-7),
    }
    const differing = having(
      unsaid,
      'visit',
      visit('seated', { ...readBackOf('46'), consent: consent as never }),
    )
    expect(open(differing)).toEqual(['word/asks-open'])
  })
})
