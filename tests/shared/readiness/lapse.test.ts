import { describe, expect, test } from 'vitest'
import { grams, microlitres } from '#shared/base/amount.ts'
import { must } from '#shared/base/assert.ts'
import type { ClockTime, Day } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { DoseId, IncidentId, PackId } from '#shared/ids.ts'
import type { LapseCause } from '#shared/isolation/isolation-facts.ts'
import type { ProcedureKind } from '#shared/procedures/work.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { LAPSES, lapseCauses, lapseWord } from '#shared/readiness/lapse.ts'
import { judgeWord, standingOf } from '#shared/readiness/word.ts'
import {
  AGREED,
  ASSISTANT,
  at,
  DENTIST,
  having,
  idOf,
  OTHER_DENTIST,
  operatory,
  plan,
  ROOM,
  scene,
  VISITED,
  visit,
  word,
} from './scene.ts'

const agreed = (): World => having(having(scene(), 'word', word()), 'visit', visit('seated'))
const first = <T>(facts: readonly T[]): T => must(facts[0], 'the scene holds one')
const weighed = (value: number) => ({
  grams: grams(value),
  entered: { value: String(value / 1000), unit: 'kg' as const },
  by: ASSISTANT.id,
  at: at(-3),
})
const consent = (text: string, teeth: ('46' | '47')[], kind: ProcedureKind = 'root-canal') => ({
  text,
  teeth,
  work: [{ kind, teeth }],
  by: DENTIST.id,
  at: at(-3),
})
const planned = (tenthsOfCartridge: number, agent: 'lidocaine' | 'articaine' = 'lidocaine') => ({
  agent,
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine' as const,
  ratio: 100_000,
  cartridge: microlitres(1700),
  technique: 'block' as const,
  tooth: '46' as const,
  side: 'right' as const,
  tenthsOfCartridge,
})
const dosed = (world: World, tenths: number, agent?: 'lidocaine' | 'articaine'): World =>
  having(world, 'anaesthetic', { ...first(world.anaesthetic), planned: [planned(tenths, agent)] })
const given = (world: World, tenths: number): World =>
  having(world, 'dose', {
    ...planned(tenths),
    clinicId: first(world.clinic).id,
    id: idOf<DoseId>(95),
    appointmentId: VISITED,
    patientId: first(world.patient).id,
    by: DENTIST.id,
    at: at(-2),
  })

/** Dental set and pack of the tray, released and on its line. */
const packed = (life: World['pack'][number]['life']): World => {
  const pack: World['pack'][number] = {
    clinicId: first(scene().clinic).id,
    id: idOf(72),
    siteId: first(scene().site).id,
    code: 'D7',
    kind: 'dam-set',
    setId: null,
    loadId: null,
    sterilised: '2026-11-23' as Day,
    seen: null,
    life,
  }
  const line: World['trayLine'][number] = {
    clinicId: pack.clinicId,
    id: idOf(71),
    trayId: idOf(70),
    position: 0,
    item: 'dam-set',
    name: 'dam set',
    count: 1,
    class: 'reusable-set',
    packKind: 'dam-set',
    contents: { latex: 'free' },
    countedBack: false,
    packId: pack.id,
    stockLineId: null,
    tick: null,
    fault: null,
    swapped: null,
    omitted: null,
  }
  return having(having(agreed(), 'pack', pack), 'trayLine', line)
}

interface Row {
  change: string
  from?: () => World
  to: (world: World) => World
  why: LapseCause
}

const stop = (world: World): World =>
  having(world, 'incident', {
    clinicId: first(world.clinic).id,
    id: idOf<IncidentId>(90),
    appointmentId: VISITED,
    operatoryId: ROOM,
    kind: 'stop-check-side',
    at: at(-1),
    by: ASSISTANT.id,
    drill: false,
    steps: [],
    life: { kind: 'open' },
  })
const booked = (more: Partial<World['appointment'][number]>) => (world: World) =>
  having(world, 'appointment', { ...first(world.appointment), ...more })
const patient = (more: Partial<World['patient'][number]>) => (world: World) =>
  having(world, 'patient', { ...first(world.patient), ...more })
const record = (more: Partial<World['allergyRecord'][number]>) => (world: World) =>
  having(world, 'allergyRecord', { ...first(world.allergyRecord), ...more })
const replanned = (more: Partial<typeof AGREED>) => (world: World) =>
  having(world, 'plan', plan({ ...AGREED, ...more }, 2))

/**
 * The table of the design: patient, tooth, side, procedure, consent, field, anchor, sheet material, dentist, day,
 * stop; allergy state, history, weight, agent, dose beyond the plan, limit profile; left the chair, interrupted,
 * longer ago than the limit; indicator failed, pack recalled. Interruption READ (US Naval Hospital pre-procedure
 * checklist), hand-over READ (AAOS after the Joint Commission), mismatch READ (correct-site policy 2011–12); the
 * rest follows from them or is COMMON.
 */
const LAPSING: Row[] = [
  { change: 'the patient', to: booked({ patientId: idOf(33) }), why: 'patient-changed' },
  {
    change: 'the tooth',
    to: replanned({ work: [{ kind: 'root-canal', teeth: ['47'], surfaces: {} }] }),
    why: 'plan-changed',
  },
  {
    change: 'the side',
    to: replanned({ work: [{ kind: 'root-canal', teeth: ['36'], surfaces: {} }] }),
    why: 'plan-changed',
  },
  {
    change: 'the procedure',
    to: replanned({ work: [{ kind: 'pulpotomy', teeth: ['46'], surfaces: {} }] }),
    why: 'plan-changed',
  },
  { change: 'the field', to: replanned({ policy: 'QUADRANT_POST' }), why: 'plan-changed' },
  { change: 'the sheet material', to: replanned({ sheetMaterial: 'latex' }), why: 'plan-changed' },
  { change: 'the dentist', to: booked({ dentistId: OTHER_DENTIST.id }), why: 'dentist-changed' },
  { change: 'the day', to: booked({ day: '2026-11-25' as Day }), why: 'day-changed' },
  { change: 'a stop', to: stop, why: 'stopped' },
  {
    change: 'a consent for another tooth',
    to: (world) => having(world, 'visit', visit('seated', { consent: consent('root canal', ['47']) })),
    why: 'consent-changed',
  },
  {
    change: 'the procedure of the consent',
    from: () => having(agreed(), 'visit', visit('seated', { consent: consent('signed', ['46']) })),
    to: (world) =>
      having(world, 'visit', visit('seated', { consent: consent('signed', ['46'], 'extraction') })),
    why: 'consent-changed',
  },
  {
    change: 'the words of the consent',
    from: () => having(agreed(), 'visit', visit('seated', { consent: consent('root canal', ['46']) })),
    to: (world) => having(world, 'visit', visit('seated', { consent: consent('filling only', ['46']) })),
    why: 'consent-changed',
  },
  { change: 'the allergy state', to: record({ state: 'listed' }), why: 'allergies-changed' },
  { change: 'the latex answer', to: record({ latex: 'suspected' }), why: 'allergies-changed' },
  {
    change: 'the history',
    to: patient({ history: [{ text: 'spina bifida', by: ASSISTANT.id, at: at(-4) }] }),
    why: 'history-changed',
  },
  { change: 'the weight', to: patient({ weight: weighed(61_000) }), why: 'weight-changed' },
  {
    change: 'the agent',
    from: () => dosed(agreed(), 10),
    to: (world) => dosed(world, 10, 'articaine'),
    why: 'dose-changed',
  },
  {
    change: 'more planned',
    from: () => dosed(agreed(), 10),
    to: (world) => dosed(world, 11),
    why: 'dose-changed',
  },
  {
    change: 'more given than planned',
    from: () => dosed(agreed(), 10),
    to: (world) => given(world, 11),
    why: 'dose-changed',
  },
  {
    change: 'the limit profile',
    to: (world) => having(world, 'anaesthetic', { ...first(world.anaesthetic), profile: 'CANADA' }),
    why: 'dose-changed',
  },
  {
    change: 'the patient leaving the chair',
    to: (world) => having(world, 'visit', visit('arrived')),
    why: 'left-chair',
  },
  {
    change: 'an interruption that blanks the read-back',
    from: () =>
      having(
        agreed(),
        'visit',
        visit('seated', { readBack: { teeth: ['46'], planNumber: 1, by: DENTIST.id, at: at(-4) } }),
      ),
    to: (world) => having(world, 'visit', visit('seated')),
    why: 'interrupted',
  },
  {
    change: 'a pack on the tray that is recalled',
    from: () => packed({ kind: 'reserved', trayId: idOf(70), at: at(-40), place: 'A1' }),
    to: (world) =>
      having(world, 'pack', {
        ...first(world.pack),
        life: { kind: 'held', why: 'spore test', at: at(-1) },
      }),
    why: 'pack-failed',
  },
  {
    change: 'an inner indicator that has not changed',
    from: () => packed({ kind: 'reserved', trayId: idOf(70), at: at(-40), place: 'A1' }),
    to: (world) =>
      having(world, 'pack', {
        ...first(world.pack),
        seen: { outside: 'sound', outer: 'changed', inner: 'not-changed', by: ASSISTANT.id, at: at(-1) },
      }),
    why: 'pack-failed',
  },
]

const KEEPING: Omit<Row, 'why'>[] = [
  { change: 'nothing', to: (world) => world },
  { change: 'the operatory', to: booked({ operatoryId: idOf(5) }) },
  { change: 'the start time', to: booked({ start: at(30), startsAt: '09:30' as ClockTime }) },
  { change: 'less planned', from: () => dosed(agreed(), 10), to: (world) => dosed(world, 9) },
  { change: 'as much given as planned', from: () => dosed(agreed(), 10), to: (world) => given(world, 10) },
  {
    change: 'a first consent for the very teeth',
    to: (world) => having(world, 'visit', visit('seated', { consent: consent('root canal', ['46']) })),
  },
  { change: 'history confirmed', to: patient({ historyConfirmed: { by: ASSISTANT.id, at: at(-4) } }) },
  {
    change: 'an equal pack swapped in',
    from: () => packed({ kind: 'reserved', trayId: idOf(70), at: at(-40), place: 'A1' }),
    to: (world) => {
      const other = { ...first(world.pack), id: idOf<PackId>(73), code: 'D8' }
      const line = { ...first(world.trayLine), packId: other.id }
      return having(having(world, 'pack', other), 'trayLine', line)
    },
  },
  { change: 'the stage moving on', to: (world) => having(world, 'visit', visit('injected')) },
]

describe('the one lapse table', () => {
  for (const { change, from = agreed, to, why } of LAPSING) {
    test(`[word/lapsed] ${change} lapses the word: ${why}`, () => {
      const before = from()
      expect(lapseCauses({ before, after: to(before) }, VISITED, at(-1))).toContain(why)
    })
  }

  for (const { change, from = agreed, to } of KEEPING) {
    test(`[word/lapsed] ${change} does not lapse it`, () => {
      const before = from()
      expect(lapseCauses({ before, after: to(before) }, VISITED, at(-1))).toEqual([])
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

describe('what a lapse leaves', () => {
  const facts = (world: World) => must(findAppointment(indexDay(world), VISITED), 'held')

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
