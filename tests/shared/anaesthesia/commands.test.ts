import { describe, expect, test } from 'vitest'
import { ANAESTHESIA_COMMANDS } from '#shared/anaesthesia/commands.ts'
import { judgeDose } from '#shared/anaesthesia/judge-dose.ts'
import { grams } from '#shared/base/amount.ts'
import { type Day, instant, type Zone } from '#shared/base/moment.ts'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { World } from '#shared/facts.ts'
import type { Visit } from '#shared/schedule/appointment.ts'
import { say } from '#shared/words/en.ts'
import {
  ASSISTANT,
  at,
  context,
  DENTIST,
  having,
  INSTRUCTOR,
  READ_LABEL,
  STUDENT,
  scene,
  VISITED,
  visit,
  withLabels,
  word,
} from '#tests/shared/readiness/scene.ts'

const LIDOCAINE = {
  agent: 'lidocaine',
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
  cartridge: 1700,
  technique: 'block',
  tooth: '46',
  side: 'right',
  tenthsOfCartridge: 10,
}
const done = (world: World, decision: Decision): World => {
  if (!decision.ok) throw new Error(decision.reasons.map(say).join(' '))
  return applyChange(world, decision.value.change)
}
const refusals = (decision: Decision): string[] =>
  decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
const ask = (world: World, kind: keyof typeof ANAESTHESIA_COMMANDS, more: object, by = DENTIST) => {
  const rule = ANAESTHESIA_COMMANDS[kind]
  const input = rule.input.parse({ appointmentId: VISITED, ...more })
  return rule.decide(world, input as never, context(by, at(-5)))
}
const confirmed = { by: ASSISTANT.id, at: at(-9) }

/** Seated, who and side are known, the word is given: the needle may come. */
function ready(more: Partial<Visit> = {}): World {
  const readBack = { teeth: ['46' as const], planNumber: 1, by: DENTIST.id, at: at(-6) }
  const patient = scene().patient.map((each) => ({ ...each, historyConfirmed: confirmed, weight: null }))
  const seated = { ...withLabels(scene(), READ_LABEL), patient, word: [word()] }
  return having(seated, 'visit', visit('seated', { readBack, ...more }))
}
const weighed = (world: World, kilograms: number, born: string): World => ({
  ...world,
  patient: world.patient.map((each) => ({
    ...each,
    born: born as Day,
    weight: {
      grams: grams(kilograms * 1000),
      entered: { value: String(kilograms), unit: 'kg' as const },
      by: ASSISTANT.id,
      at: at(-8),
    },
  })),
})

describe('the needle', () => {
  test('a dose is recorded and the visit moves on to injected', () => {
    const world = done(ready(), ask(ready(), 'dose.record', { dose: LIDOCAINE }))
    expect(world.dose).toMatchObject([{ agent: 'lidocaine', tenthsOfCartridge: 10, by: DENTIST.id }])
    expect(world.visit[0]).toMatchObject({ stage: 'injected' })
  })
  test.each<[string, World, string]>([
    ['identity', ready({ identity: null }), 'identity/missing'],
    ['tooth and side', ready({ readBack: null }), 'side/not-read-back'],
    ['the dentist’s word', { ...ready(), word: [] }, 'word/missing'],
    [
      'a word that still lives',
      { ...ready(), word: [word({ life: { kind: 'lapsed', at: at(-7), why: 'stopped' } })] },
      'word/lapsed',
    ],
  ])('without %s it is refused', (_, world, rule) => {
    expect(refusals(ask(world, 'dose.record', { dose: LIDOCAINE }))).toContain(rule)
  })
  test('[dose/visit-not-seated] nobody in the chair, no dose', () =>
    expect(
      refusals(ask(having(scene(), 'visit', visit('arrived')), 'dose.record', { dose: LIDOCAINE })),
    ).toEqual(['dose/visit-not-seated']))
  test('[dose/other-side] the left side of work on the right is refused', () =>
    expect(refusals(ask(ready(), 'dose.record', { dose: { ...LIDOCAINE, side: 'left' } }))).toEqual([
      'dose/other-side',
    ]))
  test('[dose/not-as-planned] another cartridge than the planned one is refused, and asks for a read-back', () => {
    const planned = done(ready(), ask(ready(), 'anaesthetic.plan', { planned: [LIDOCAINE] }))
    const articaine = { ...LIDOCAINE, agent: 'articaine', milliPercent: 4000 }
    const decision = ask(planned, 'dose.record', { dose: articaine })
    expect(refusals(decision)).toEqual(['dose/not-as-planned'])
    expect(decision.ok ? '' : decision.reasons.map(say).join()).toContain('strength and expiry')
  })
  test('a dose that is in already is kept as it is, with what is wrong told', () => {
    const decision = ask({ ...ready(), word: [] }, 'dose.record', { dose: LIDOCAINE, alreadyGiven: true })
    expect(decision.ok && decision.value.findings.map(({ rule }) => rule)).toContain('word/missing')
    expect(decision.ok && decision.value.change.put.dose).toHaveLength(1)
  })
})

test('[dose/instructor-first] a third cartridge in a student’s hands is the instructor’s', () => {
  const two = done(
    ready(),
    ask(ready(), 'dose.record', { dose: { ...LIDOCAINE, tenthsOfCartridge: 20 } }, STUDENT),
  )
  expect(refusals(ask(two, 'dose.record', { dose: LIDOCAINE }, STUDENT))).toEqual(['dose/instructor-first'])
  expect(ask(two, 'dose.record', { dose: LIDOCAINE }, INSTRUCTOR).ok).toBe(true)
})

describe('the entered plan', () => {
  const child = weighed(ready(), 15, '2022-10-01')
  test('within its profile it is kept with its profile and intent', () => {
    const world = done(child, ask(child, 'anaesthetic.plan', { planned: [LIDOCAINE], profile: 'AAPD-2023' }))
    expect(world.anaesthetic[0]).toMatchObject({ intent: { kind: 'injection' }, profile: 'AAPD-2023' })
  })
  test('[dose/over-maximum] over its profile it is refused, and so is the cartridge too many', () => {
    const two = { ...LIDOCAINE, tenthsOfCartridge: 20 }
    expect(refusals(ask(child, 'anaesthetic.plan', { planned: [two], profile: 'AAPD-2023' }))).toEqual([
      'dose/over-maximum',
    ])
    const given = done(child, ask(child, 'dose.record', { dose: LIDOCAINE, alreadyGiven: true }))
    expect(refusals(ask(given, 'dose.record', { dose: LIDOCAINE }))).toContain('dose/over-maximum')
  })
  test('[dose/weight-missing] a child’s weight is asked; [dose/weight-line] a grown-up’s is a line', () => {
    const unweighed = { ...child, patient: child.patient.map((each) => ({ ...each, weight: null })) }
    const plan = (world: World) => {
      const decision = ask(world, 'anaesthetic.plan', { planned: [LIDOCAINE] })
      return decision.ok ? decision.value.findings.map(({ rule }) => rule) : refusals(decision)
    }
    expect(plan(unweighed)).toEqual(['dose/weight-missing'])
    expect(plan(ready())).toEqual(['dose/weight-line'])
  })
  /** AAPD: 30 % less under six months (MEMORY). 7 kg × 4.4 mg = 30.8 mg, less 30 % 21.5 mg; 0.7 of 34 mg is 23.8 mg. */
  test('[dose/over-maximum] the months of an infant reach the check from the birth date', () => {
    const sevenTenths = { planned: [{ ...LIDOCAINE, tenthsOfCartridge: 7 }], profile: 'AAPD-2023' }
    const infant = (born: string) => refusals(ask(weighed(ready(), 7, born), 'anaesthetic.plan', sevenTenths))
    expect(infant('2026-06-25')).toEqual(['dose/over-maximum'])
    expect(infant('2026-05-24')).toEqual([])
    expect(infant('2026-05-25')).toEqual(['dose/over-maximum'])
  })
  test('[dose/weight-old] a child’s or a light patient’s weight of long ago is no weight', () => {
    const plan = (world: World) => {
      const decision = ask(world, 'anaesthetic.plan', { planned: [{ ...LIDOCAINE, tenthsOfCartridge: 1 }] })
      return decision.ok ? decision.value.findings.map(({ rule }) => rule) : refusals(decision)
    }
    const monthsAgo = (world: World, months: number): World => ({
      ...world,
      patient: world.patient.map((each) => ({
        ...each,
        weight: each.weight && { ...each.weight, at: instant(Date.UTC(2026, 10 - months, 24, 9)) },
      })),
    })
    expect(plan(monthsAgo(child, 5))).not.toContain('dose/weight-old')
    expect(plan(monthsAgo(child, 6))).toContain('dose/weight-old')
    expect(plan(monthsAgo(weighed(ready(), 49, '1980-01-01'), 6))).toContain('dose/weight-old')
    const [policy] = child.policySet
    const anaesthesia = policy && { ...policy.anaesthesia, weightMonths: 3 }
    const strict = anaesthesia ? having(child, 'policySet', { ...policy, anaesthesia }) : child
    expect(plan(monthsAgo(strict, 3))).toContain('dose/weight-old')
  })
  test('[dose/weight-line] a grown-up’s weight of years ago is told, not used; what is over even by it is over', () => {
    const aged = (tenths: number, months: number, more: object = {}) => {
      const world = weighed(ready(), 50, '1980-01-01')
      const patient = world.patient.map((each) => ({
        ...each,
        weight: each.weight && { ...each.weight, at: instant(Date.UTC(2026, 10 - months, 24, 9)) },
      }))
      const policySet = world.policySet.map((each) => ({
        ...each,
        anaesthesia: { ...each.anaesthesia, ...more },
      }))
      const dose = { ...LIDOCAINE, tenthsOfCartridge: tenths }
      const decision = ask({ ...world, patient, policySet }, 'anaesthetic.plan', { planned: [dose] })
      return decision.ok ? decision.value.findings.map(({ rule }) => rule) : refusals(decision)
    }
    expect(aged(10, 23)).toEqual([])
    expect(aged(10, 24)).toEqual(['dose/weight-line'])
    expect(aged(10, 108)).toEqual(['dose/weight-line'])
    expect(aged(10, 12, { adultWeightMonths: 12 })).toEqual(['dose/weight-line'])
    // US label: 7 mg/kg, 350 mg at 50 kg (READ); 11 of 34 mg are 374 mg.
    expect(aged(110, 108)).toContain('dose/over-maximum')
  })
  test('[dose/not-for-blocks] the house’s own rule is told with a block of that agent, and bars nothing', () => {
    const plan = (world: World, more: object = {}) => {
      const decision = ask(world, 'anaesthetic.plan', { planned: [{ ...LIDOCAINE, ...more }] })
      return decision.ok ? decision.value.findings.map(({ rule }) => rule) : refusals(decision)
    }
    const [policy] = ready().policySet
    const anaesthesia = policy && { ...policy.anaesthesia, notForBlocks: ['lidocaine' as const] }
    const world = anaesthesia ? having(ready(), 'policySet', { ...policy, anaesthesia }) : ready()
    expect(plan(world)).toContain('dose/not-for-blocks')
    expect(plan(world, { technique: 'infiltration' })).not.toContain('dose/not-for-blocks')
    expect(plan(ready())).not.toContain('dose/not-for-blocks')
  })
  test('nothing entered is nothing to check', () => {
    const { anaesthetic: _, ...rest } = { anaesthetic: null }
    expect(
      judgeDose({
        ...rest,
        appointmentId: VISITED,
        anaesthetic: null,
        given: [],
        patient: null,
        day: '2026-11-24' as Day,
        zone: 'Europe/Dublin' as Zone,
        allergies: null,
        policy: null,
        worked: [],
        sedated: false,
      }),
    ).toEqual([])
  })
  test('no injection by intent keeps its reason and drops what was planned', () => {
    const world = done(
      ready(),
      ask(ready(), 'anaesthetic.none-by-intent', { reason: 'necrotic', topicalAtClamp: true }),
    )
    expect(world.anaesthetic[0]).toMatchObject({ intent: { kind: 'none', reason: 'necrotic' }, planned: [] })
  })
})

describe('answers', () => {
  test('each is kept with place, method, who and when', () => {
    const place = { kind: 'gum', tooth: '46', side: 'cheek' }
    const world = done(
      ready(),
      ask(ready(), 'numbness.record', { place, answer: 'numb', method: 'probe' }, ASSISTANT),
    )
    expect(world.numbness).toMatchObject([{ place, answer: 'numb', method: 'probe', by: ASSISTANT.id }])
  })
  test('[numbness/not-seated] nobody in the chair, no answer', () =>
    expect(
      refusals(
        ask(scene(), 'numbness.record', {
          place: { kind: 'tooth', tooth: '46' },
          answer: 'numb',
          method: 'cold',
        }),
      ),
    ).toEqual(['numbness/not-seated']))
  test('the hand-out is given to someone', () => {
    const world = done(ready(), ask(ready(), 'aftercare.give', { to: 'carer' }, ASSISTANT))
    expect(world.visit[0]?.aftercare).toMatchObject({ to: 'carer', by: ASSISTANT.id })
  })
})
