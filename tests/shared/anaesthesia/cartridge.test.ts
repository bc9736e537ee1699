import { describe, expect, test } from 'vitest'
import type { CartridgeReading, Label } from '#shared/anaesthesia/anaesthetic.ts'
import { parseExpiry, solutionKey } from '#shared/anaesthesia/cartridge.ts'
import { ANAESTHESIA_COMMANDS } from '#shared/anaesthesia/commands.ts'
import { microlitres } from '#shared/base/amount.ts'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { World } from '#shared/facts.ts'
import { judgeGate } from '#shared/readiness/gate.ts'
import type { Visit } from '#shared/schedule/appointment.ts'
import { say } from '#shared/words/en.ts'
import {
  ASSISTANT,
  at,
  context,
  DENTIST,
  having,
  READ_LABEL,
  STUDENT,
  scene,
  VISITED,
  visit,
  withLabels,
  word,
} from '../readiness/scene.ts'

const LIDOCAINE: Label = {
  agent: 'lidocaine',
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
}
const WEAKER: Label = { ...LIDOCAINE, ratio: 80_000 }
const ARTICAINE: Label = {
  agent: 'articaine',
  milliPercent: 4000,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
}
const injectionOf = (label: Label) => ({
  ...label,
  cartridge: microlitres(1700),
  technique: 'block' as const,
  tooth: '46' as const,
  side: 'right' as const,
  tenthsOfCartridge: 10,
})
const EXPIRES = '2027-03-31'

const ask = (
  world: World,
  kind: keyof typeof ANAESTHESIA_COMMANDS,
  more: object,
  by = ASSISTANT,
  when = -5,
) => {
  const rule = ANAESTHESIA_COMMANDS[kind]
  const input = rule.input.parse({ appointmentId: VISITED, ...more })
  return rule.decide(world, input as never, context(by, at(when)))
}
const done = (world: World, decision: Decision): World => {
  if (!decision.ok) throw new Error(decision.reasons.map(say).join(' '))
  return applyChange(world, decision.value.change)
}
const refusals = (decision: Decision): string[] =>
  decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
const told = (decision: Decision): string[] =>
  decision.ok ? decision.value.findings.map(({ rule }) => rule) : []
const labels = (world: World): CartridgeReading[] => world.anaesthetic[0]?.readings ?? []
const atNeedle = (world: World): string[] =>
  judgeGate(world, { appointmentId: VISITED, gate: 'inject', now: at(-4) }).map(({ rule }) => rule)

/** Everything before the needle stands but the label; a block of lidocaine is planned. */
function ready(more: Partial<Visit> = {}): World {
  const readBack = { teeth: ['46' as const], planNumber: 1, by: DENTIST.id, at: at(-8) }
  const patient = scene().patient.map((each) => ({
    ...each,
    historyConfirmed: { by: ASSISTANT.id, at: at(-8) },
  }))
  const seated = having(
    { ...scene(), patient, word: [word()] },
    'visit',
    visit('seated', { readBack, ...more }),
  )
  return done(seated, ask(seated, 'anaesthetic.plan', { planned: [injectionOf(LIDOCAINE)] }, DENTIST, -8))
}
const read = (world: World, label: Label, by = ASSISTANT, when = -7) =>
  ask(world, 'cartridge.read', { label, expires: EXPIRES }, by, when)
const answerTo = (world: World, by = DENTIST) =>
  ask(world, 'cartridge.answer', { readAt: labels(world).at(-1)?.read.at ?? 0 }, by, -6)

describe('a label is read by one and answered by another', () => {
  test('[cartridge/not-read-back] nothing is injected before it; who read, who answered, what and when are kept', () => {
    const inject = (world: World) => ask(world, 'dose.record', { dose: injectionOf(LIDOCAINE) }, DENTIST)
    expect(atNeedle(ready())).toEqual(['cartridge/not-read-back'])
    expect(refusals(inject(ready()))).toEqual(['cartridge/not-read-back'])
    const heard = done(ready(), read(ready(), LIDOCAINE))
    expect(refusals(inject(heard))).toEqual(['cartridge/not-read-back'])
    const both = done(heard, answerTo(heard))
    expect(labels(both)).toEqual([
      {
        ...LIDOCAINE,
        expires: EXPIRES,
        read: { by: ASSISTANT.id, at: at(-7) },
        answered: { by: DENTIST.id, at: at(-6) },
      },
    ])
    expect(atNeedle(both)).toEqual([])
    expect(inject(both).ok).toBe(true)
  })

  test('[cartridge/same-person] one person is not two, by whatever station', () => {
    const heard = done(ready(), read(ready(), LIDOCAINE, DENTIST))
    expect(refusals(answerTo(heard, DENTIST))).toEqual(['cartridge/same-person'])
    expect(answerTo(heard, STUDENT).ok).toBe(true)
  })

  test('[cartridge/nothing-read] an answer falls on the label that was heard, once', () => {
    expect(refusals(answerTo(ready()))).toEqual(['cartridge/nothing-read'])
    const first = done(ready(), read(ready(), LIDOCAINE))
    const second = done(first, read(first, LIDOCAINE, ASSISTANT, -6))
    expect(refusals(ask(second, 'cartridge.answer', { readAt: at(-7) }, DENTIST))).toEqual([
      'cartridge/nothing-read',
    ])
    const both = done(second, answerTo(second))
    expect(refusals(answerTo(both))).toEqual(['cartridge/nothing-read'])
  })

  test('[cartridge/expired] a cartridge past its day is refused at reading and not kept; its last day still counts', () => {
    const late = ask(ready(), 'cartridge.read', { label: LIDOCAINE, expires: '2026-11-23' })
    expect(refusals(late)).toEqual(['cartridge/expired'])
    expect(late.ok ? '' : late.reasons.map(say).join()).toContain('2026-11-23')
    expect(ask(ready(), 'cartridge.read', { label: LIDOCAINE, expires: '2026-11-24' }).ok).toBe(true)
  })

  test('[dose/visit-not-seated] nothing is read for an empty chair', () =>
    expect(refusals(read(having(ready(), 'visit', visit('arrived')), LIDOCAINE))).toEqual([
      'dose/visit-not-seated',
    ]))

  test('what was read at another sitting counts no more', () => {
    const earlier = withLabels(ready(), { ...READ_LABEL, read: { by: ASSISTANT.id, at: at(-60) } })
    expect(atNeedle(earlier)).toEqual(['cartridge/not-read-back'])
  })
})

describe('a label that differs from the plan', () => {
  test.each<[string, Label]>([
    ['another drug', ARTICAINE],
    ['another strength of vasoconstrictor', WEAKER],
    ['another concentration', { ...LIDOCAINE, milliPercent: 3000 }],
    ['no vasoconstrictor', { ...LIDOCAINE, vasoconstrictor: 'none', ratio: null }],
  ])('[dose/not-as-planned] %s is kept, told, never answered, and shuts the needle', (_, label) => {
    const decision = read(ready(), label)
    expect(told(decision)).toContain('dose/not-as-planned')
    const world = done(ready(), decision)
    expect(labels(world).map(solutionKey)).toEqual([solutionKey(label)])
    expect(refusals(answerTo(world))).toContain('dose/not-as-planned')
    expect(atNeedle(world)).toEqual(['dose/not-as-planned'])
    for (const given of [label, LIDOCAINE]) {
      const injected = ask(world, 'dose.record', { dose: injectionOf(given) }, DENTIST)
      expect(refusals(injected)).toContain('dose/not-as-planned')
    }
  })

  test('the right one, read and answered, opens the needle again; the wrong one stays in the record', () => {
    const wrong = done(ready(), read(ready(), ARTICAINE))
    const right = done(wrong, read(wrong, LIDOCAINE, ASSISTANT, -6))
    const both = done(right, answerTo(right))
    expect(atNeedle(both)).toEqual([])
    expect(labels(both).map(({ agent }) => agent)).toEqual(['articaine', 'lidocaine'])
  })

  test('after the needle it holds the chair as well: it lies where the next one is drawn from', () => {
    const both = withLabels(ready(), READ_LABEL)
    const given = done(both, ask(both, 'dose.record', { dose: injectionOf(LIDOCAINE) }, DENTIST))
    const wrong = done(given, read(given, ARTICAINE, ASSISTANT, -4))
    const shut = judgeGate(wrong, { appointmentId: VISITED, gate: 'clamp', now: at(-3) })
    expect(shut.map(({ rule }) => rule)).toContain('dose/not-as-planned')
  })

  test('another solution, planned too, wants a reading of its own', () => {
    const planned = [injectionOf(LIDOCAINE), { ...injectionOf(ARTICAINE), technique: 'infiltration' }]
    const two = done(ready(), ask(ready(), 'anaesthetic.plan', { planned }, DENTIST, -8))
    const world = { ...withLabels(two, READ_LABEL), word: [word({ at: at(-7) })] }
    const articaine = ask(world, 'dose.record', { dose: injectionOf(ARTICAINE) }, DENTIST)
    expect(refusals(articaine)).toEqual(['cartridge/not-read-back'])
    expect(ask(world, 'dose.record', { dose: injectionOf(LIDOCAINE) }, DENTIST).ok).toBe(true)
  })

  test('[dose/not-for-blocks] the house’s own rule is told with it where a block is planned', () => {
    const house = ready()
    const policySet = house.policySet.map((each) => ({
      ...each,
      anaesthesia: { ...each.anaesthesia, notForBlocks: ['articaine' as const] },
    }))
    expect(told(read({ ...house, policySet }, ARTICAINE))).toEqual([
      'dose/not-as-planned',
      'dose/not-for-blocks',
    ])
    expect(told(read({ ...house, policySet }, LIDOCAINE))).toEqual([])
  })
})

test('what is in already is kept with what was wrong, and what is only laid on needs no label', () => {
  const dose = injectionOf(LIDOCAINE)
  const kept = ask(ready(), 'dose.record', { dose, alreadyGiven: true }, DENTIST)
  expect(told(kept)).toContain('cartridge/not-read-back')
  expect(kept.ok && kept.value.change.put.dose).toHaveLength(1)
  expect(ask(ready(), 'dose.record', { dose: { ...dose, technique: 'topical' } }, DENTIST).ok).toBe(true)
})

// Calendar arithmetic (COMMON): 2028 is a leap year, 2027 is not.
test.each<[string, string | null]>([
  ['2027-03-31', '2027-03-31'],
  [' 2027-02 ', '2027-02-28'],
  ['2028-02', '2028-02-29'],
  ['03/2027', '2027-03-31'],
  ['04.2027', '2027-04-30'],
  ['03 2027', '2027-03-31'],
  ['2027-13', null],
  ['00/2027', null],
  ['2027-02-30', null],
  ['03/27', null],
  ['27-03', null],
  ['', null],
])('an expiry printed as “%s” is read as %s', (text, day) => expect(parseExpiry(text)).toBe(day))
