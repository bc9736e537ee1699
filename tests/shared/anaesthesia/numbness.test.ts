import { describe, expect, test } from 'vitest'
import type { Dose, Numbness, NumbnessPlace } from '#shared/anaesthesia/anaesthetic.ts'
import { judgeNumbness, type NumbnessSight } from '#shared/anaesthesia/numbness.ts'
import { feelsAgainAt, workingTimeOf, worksFrom, worksUntil } from '#shared/anaesthesia/timing.ts'
import { microlitres } from '#shared/base/amount.ts'
import { minutesBetween } from '#shared/base/moment.ts'
import { say } from '#shared/words/en.ts'
import { at, CLINIC, DENTIST, idOf, scene, VISITED } from '#tests/shared/readiness/scene.ts'

const given = (minutes: number, more: Partial<Dose> = {}): Dose => ({
  clinicId: CLINIC,
  id: idOf(500 + minutes),
  appointmentId: VISITED,
  patientId: idOf(30),
  agent: 'lidocaine',
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
  cartridge: microlitres(1700),
  technique: 'block',
  tooth: '36',
  side: 'left',
  tenthsOfCartridge: 10,
  by: DENTIST.id,
  at: at(minutes),
  ...more,
})
const answer = (minutes: number, place: NumbnessPlace, said: Numbness['answer'] = 'numb'): Numbness => ({
  clinicId: CLINIC,
  id: idOf(600 + minutes + (place.kind === 'gum' && place.side === 'cheek' ? 100 : 0)),
  appointmentId: VISITED,
  place,
  answer: said,
  method: place.kind === 'tooth' ? 'cold' : 'probe',
  by: DENTIST.id,
  at: at(minutes),
})
const CHEEK = { kind: 'gum', tooth: '36', side: 'cheek' } as const
const TONGUE = { kind: 'gum', tooth: '36', side: 'tongue' } as const
const TOOTH = { kind: 'tooth', tooth: '36' } as const
const intend = (intent: NonNullable<NumbnessSight['anaesthetic']>['intent']) => ({
  ...(scene().anaesthetic[0] as NonNullable<NumbnessSight['anaesthetic']>),
  intent,
})
const sight = (more: Partial<NumbnessSight> = {}): NumbnessSight => ({
  appointmentId: VISITED,
  stage: 'injected',
  anaesthetic: intend({ kind: 'injection', by: DENTIST.id, at: at(-60) }),
  doses: [given(0)],
  numbness: [],
  seatedAt: at(-10),
  clamped: ['36'],
  pulpal: ['36'],
  endsAt: at(50),
  recheckMinutes: 45,
  staysSince: at(90),
  ageYears: 40,
  hasCarer: false,
  aftercareGiven: true,
  now: at(10),
  ...more,
})
const rules = (more: Partial<NumbnessSight> = {}) => judgeNumbness(sight(more)).map(({ rule }) => rule)

describe('gum and tooth are answered apart', () => {
  test('[numbness/not-tested] the gum at the clamp on both sides, whichever tooth is treated', () => {
    const found = judgeNumbness(sight({ clamped: ['37'], pulpal: ['35'] })).find(
      ({ rule }) => rule === 'numbness/not-tested',
    )
    expect(found).toMatchObject({
      places: [
        { kind: 'gum', tooth: '37', side: 'cheek' },
        { kind: 'gum', tooth: '37', side: 'tongue' },
      ],
    })
    expect(found && say(found)).toContain('gum at 37, tongue side')
  })
  test('[numbness/not-tested] one side answered leaves the other; “not suitable” is no answer for gum', () => {
    expect(rules({ numbness: [answer(5, CHEEK)] })).toContain('numbness/not-tested')
    expect(rules({ numbness: [answer(5, CHEEK), answer(6, TONGUE, 'not-suitable')] })).toContain(
      'numbness/not-tested',
    )
    expect(rules({ numbness: [answer(5, CHEEK), answer(6, TONGUE)] })).not.toContain('numbness/not-tested')
  })
  test('[numbness/tooth-not-tested] numb gum says nothing of the tooth; “not suitable” answers it', () => {
    const gum = [answer(5, CHEEK), answer(6, TONGUE)]
    expect(rules({ numbness: gum })).toEqual(['numbness/tooth-not-tested'])
    expect(rules({ numbness: [...gum, answer(7, TOOTH, 'not-suitable')] })).toEqual([])
  })
  test('[numbness/felt] a place that still feels is asked until a later answer', () => {
    const felt = [answer(5, CHEEK, 'felt'), answer(6, TONGUE), answer(7, TOOTH)]
    expect(rules({ numbness: felt })).toEqual(['numbness/felt'])
    expect(rules({ numbness: [...felt, answer(9, CHEEK)] })).toEqual([])
  })
  test('an answer from before a pause is a baseline and counts for nothing once the patient sits again', () => {
    const numbness = [answer(6, CHEEK), answer(6, TONGUE), answer(6, TOOTH)]
    const again = judgeNumbness(sight({ numbness, seatedAt: at(8) })).map(({ rule }) => rule)
    expect(again).toEqual(expect.arrayContaining(['numbness/not-tested', 'numbness/tooth-not-tested']))
    expect(rules({ numbness })).not.toContain('numbness/not-tested')
  })
  test('an answer from before the last injection is a baseline and counts for nothing', () => {
    const before = [answer(-5, CHEEK), answer(-4, TONGUE), answer(-3, TOOTH)]
    expect(rules({ numbness: before })).toEqual(['numbness/not-tested', 'numbness/tooth-not-tested'])
    const after = [answer(5, CHEEK), answer(6, TONGUE), answer(7, TOOTH)]
    expect(rules({ numbness: after })).toEqual([])
    // What is laid on afterwards takes no answer away.
    expect(rules({ numbness: after, doses: [given(0), given(8, { technique: 'topical' })] })).toEqual([])
  })
})

describe('time', () => {
  test('[numbness/waiting] until the printed onset is over it is said, and time alone never answers', () => {
    expect(rules({ now: at(2) })).toContain('numbness/waiting')
    expect(rules({ now: at(40) })).toEqual(['numbness/not-tested', 'numbness/tooth-not-tested'])
  })
  test('[numbness/window-ends] work that will outlast the shortest printed time is told ahead', () => {
    const started = { stage: 'started', numbness: [answer(5, TOOTH)] } as const
    expect(rules({ ...started, endsAt: at(85) })).toEqual(['numbness/window-ends'])
    expect(rules({ ...started, endsAt: at(75) })).toEqual([])
  })
  test('[numbness/re-check] once it is over a second look is due, until one is taken', () => {
    const first = [answer(5, TOOTH)]
    const late = { stage: 'started', now: at(81), endsAt: at(90), numbness: first } as const
    expect(rules(late)).toEqual(['numbness/re-check'])
    expect(rules({ ...late, numbness: [answer(81, TOOTH)] })).toEqual([])
    const toppedUp = { ...late, doses: [given(0), given(70, { id: idOf(570) })] }
    const [due] = judgeNumbness(sight(toppedUp))
    expect(due).toMatchObject({ rule: 'numbness/re-check', why: 'dose', teeth: ['36'] })
    expect(due && say(due)).toContain('not tested since the last injection')
    expect(rules({ ...toppedUp, numbness: [...first, answer(75, TOOTH)] })).toEqual([])
  })
  // Lidocaine infiltration 55 min (P&G CE646, READ), bupivacaine block 240 (Malamed, READ): each tooth has its own window.
  const two = {
    stage: 'started',
    pulpal: ['11', '46'] as const,
    doses: [
      given(0, { technique: 'infiltration', tooth: '11', side: 'right' }),
      given(1, { agent: 'bupivacaine', milliPercent: 500, ratio: 200_000, tooth: '46', side: 'right' }),
    ],
    endsAt: at(240),
    numbness: [answer(6, { kind: 'tooth', tooth: '11' }), answer(7, { kind: 'tooth', tooth: '46' })],
  } as const
  test('[numbness/re-check] each tooth has its own window, and the first to end governs', () => {
    expect(rules({ ...two, now: at(54) })).toEqual(['numbness/window-ends'])
    const due = judgeNumbness(sight({ ...two, now: at(100) }))
    expect(due).toMatchObject([{ rule: 'numbness/re-check', since: at(55), teeth: ['11'] }])
    expect(due[0] && say(due[0])).toContain('at 11')
  })
  test('[numbness/re-check] a look counts for its own tooth, and for the clinic’s minutes', () => {
    const elsewhere = [
      ...two.numbness,
      answer(81, { kind: 'gum', tooth: '46', side: 'cheek' }),
      answer(82, { kind: 'tooth', tooth: '46' }),
    ]
    expect(rules({ ...two, now: at(100), numbness: elsewhere })).toEqual(['numbness/re-check'])
    const own = [...elsewhere, answer(90, { kind: 'tooth', tooth: '11' })]
    expect(rules({ ...two, now: at(100), numbness: own })).toEqual([])
    expect(rules({ ...two, now: at(135), numbness: own })).toEqual(['numbness/re-check'])
  })
  test('[numbness/re-check] a tooth that felt at its look stays due', () => {
    const felt = [answer(90, { kind: 'tooth', tooth: '11' }, 'felt')]
    const both = [...two.numbness, ...felt]
    expect(rules({ ...two, now: at(100), numbness: both })).toEqual(['numbness/felt', 'numbness/re-check'])
  })
  test('a block serves its whole quadrant, an infiltration its own tooth', () => {
    const numbness = [answer(6, { kind: 'tooth', tooth: '47' })]
    const block = { ...two, pulpal: ['47'] as const, now: at(100), numbness }
    expect(rules(block)).toEqual([])
    expect(
      rules({ ...block, doses: [given(0, { technique: 'infiltration', tooth: '45', side: 'right' })] }),
    ).toEqual(['numbness/re-check'])
  })
  // P&G CE646 and Malamed tables 4-4, 4-17 (READ; articaine 1:200,000 by block MEMORY): shortest minutes of a numb tooth.
  test.each([
    [given(0), 80],
    [given(0, { technique: 'infiltration' }), 55],
    [given(0, { agent: 'articaine', milliPercent: 4000, technique: 'infiltration' }), 60],
    [given(0, { agent: 'articaine', milliPercent: 4000, ratio: 200_000, technique: 'infiltration' }), 45],
    [given(0, { agent: 'mepivacaine', milliPercent: 3000, vasoconstrictor: 'none', ratio: null }), 45],
    [given(0, { agent: 'bupivacaine', milliPercent: 500, ratio: 200_000 }), 240],
    [given(0, { technique: 'intraligamentary' }), 30],
  ])('%# works at least %i minutes', (dose, minutes) =>
    expect(minutesBetween(dose.at, worksUntil(dose, 30))).toBe(minutes),
  )
  test('the lip feels again by the latest printed time', () => {
    const until = feelsAgainAt(given(0))
    expect(until && minutesBetween(at(0), until)).toBe(300)
    expect(minutesBetween(at(0), worksFrom(given(0)))).toBe(4)
    expect(workingTimeOf(given(0))?.source.mark).toBe('READ')
  })
})

describe('after the needle', () => {
  test('[numbness/nobody-stays] somebody is named after the last injection, until the next step', () => {
    const alone = (more: Partial<NumbnessSight>) => rules({ ...more }).includes('numbness/nobody-stays')
    expect(alone({ staysSince: null })).toBe(true)
    expect(alone({ staysSince: at(1) })).toBe(false)
    expect(alone({ staysSince: at(1), doses: [given(0), given(5)] })).toBe(true)
    expect(alone({ staysSince: null, doses: [given(0, { technique: 'topical' })] })).toBe(false)
    expect(alone({ staysSince: null, stage: 'clamped' })).toBe(false)
  })
})

describe('by intent, and afterwards', () => {
  const none = {
    kind: 'none',
    reason: 'necrotic',
    topicalAtClamp: true,
    by: DENTIST.id,
    at: at(-60),
  } as const
  test('[numbness/by-intent] no injection by intent asks for nothing, and keeps its reminder', () => {
    const found = judgeNumbness(sight({ anaesthetic: intend(none), doses: [], stage: 'seated' }))
    expect(found.map(({ rule, level }) => [rule, level])).toEqual([['numbness/by-intent', 'note']])
    expect(found[0] && say(found[0])).toContain('Stop and re-assess if felt')
  })
  test('an undecided injection does not silence the test of the gum', () =>
    expect(rules({ anaesthetic: null, doses: [], stage: 'seated' })).toContain('numbness/not-tested'))
  test('[aftercare/not-given] a child, a carer or a block keeps the hand-out open until it is given', () => {
    const open = { stage: 'finished', aftercareGiven: false } as const
    const over = { ...open, doses: [given(0, { technique: 'infiltration' })] }
    expect(rules(over)).toEqual([])
    expect(rules({ ...over, ageYears: 9 })).toEqual(['aftercare/not-given'])
    expect(rules({ ...over, hasCarer: true })).toEqual(['aftercare/not-given'])
    expect(rules(open)).toEqual(['aftercare/not-given'])
    // An age nobody knows may be a child's.
    expect(judgeNumbness(sight({ ...over, ageYears: null }))).toMatchObject([{ why: 'age-unknown' }])
    // Also of who left the chair before the work was done.
    for (const stage of ['arrived', 'seated', 'injected', 'clamped', 'started'] as const) {
      expect(rules({ ...open, stage })).toContain('aftercare/not-given')
    }
    expect(rules({ stage: 'finished', aftercareGiven: true })).toEqual([])
  })
})
