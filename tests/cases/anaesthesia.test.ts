import { describe, expect, test } from 'vitest'
import { answerDose } from '#server/command-line/dose.ts'
import { ANAESTHESIA_COMMANDS } from '#shared/anaesthesia/commands.ts'
import { applyChange } from '#shared/change.ts'
import type { Finding } from '#shared/finding.ts'
import { judgeGate } from '#shared/readiness/gate.ts'
import { say, sayToDesk } from '#shared/words/en.ts'
import {
  ASSISTANT,
  answered,
  at,
  context,
  DENTIST,
  having,
  scene,
  VISITED,
  visit,
  word,
} from '#tests/shared/readiness/scene.ts'

const LIDOCAINE = {
  agent: 'lidocaine',
  percent: 2,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
  cartridgeMl: 1.7,
  cartridges: 1,
}
const MEPIVACAINE = { agent: 'mepivacaine', percent: 3, cartridgeMl: 1.7, cartridges: 1 }
const ARTICAINE = { ...LIDOCAINE, agent: 'articaine', percent: 4 }
interface Answer {
  result: string
  perAgent: { agent: string; limitMicrograms: number; tenthsOfCartridges: number; by: string[] }[]
  usedPercent: number | null
  findings: { rule: string; text: string }[]
}
const ask = (doses: object[], more: object = {}): Answer => {
  const { body, exit } = answerDose({
    profile: 'AAPD-2023',
    weight: { value: 15, unit: 'kg' },
    ageYears: 4,
    doses,
    ...more,
  })
  expect(exit).toBe(0)
  return body as Answer
}
const tenths = (answer: Answer) => answer.perAgent.map(({ tenthsOfCartridges }) => tenthsOfCartridges)
const readBack = { teeth: ['46' as const], planNumber: 1, by: DENTIST.id, at: at(-8) }
const seated = (stage: 'seated' | 'injected' | 'clamped' = 'injected') =>
  having({ ...scene(), word: [word()] }, 'visit', visit(stage, { readBack }))
const shut = (world: ReturnType<typeof scene>, gate: 'inject' | 'clamp' | 'start' | 'leave'): Finding[] =>
  judgeGate(world, { appointmentId: VISITED, gate, now: at(5) })
const find = (findings: readonly Finding[], rule: Finding['rule']) =>
  findings.find((each) => each.rule === rule)

describe('numb, or not', () => {
  test('case 42 a numb gum is not a numb tooth: the tooth is asked by itself', () => {
    const gum = (side: 'cheek' | 'tongue') => ({ kind: 'gum', tooth: '46', side }) as const
    const world = having(seated(), 'numbness', answered(90, gum('cheek')), answered(91, gum('tongue')))
    const found = find(shut(world, 'start'), 'numbness/tooth-not-tested')
    expect(found && say(found)).toBe(
      'Gum numb; tooth 46 not tested (cold or electric: no response, response, not suitable).',
    )
    const tested = having(world, 'numbness', answered(92, { kind: 'tooth', tooth: '46' }, 'not-suitable'))
    expect(find(shut(tested, 'start'), 'numbness/tooth-not-tested')).toBeUndefined()
  })

  test('case 43 the clamp waits for the gum where it will sit, cheek and tongue side', () => {
    const found = find(shut(seated(), 'clamp'), 'numbness/not-tested')
    expect(found && say(found)).toBe(
      'Not tested yet: gum at 46, cheek side; gum at 46, tongue side. The clamp will sit there.',
    )
    const [plan] = scene().plan
    if (!plan) throw new Error('no plan')
    const on37 = {
      ...plan,
      agreed: {
        ...plan.agreed,
        sheets: plan.agreed.sheets.map((sheet) => ({
          ...sheet,
          anchor: '37' as const,
          clamps: [{ tooth: '37' as const, family: 'MOLAR_W_PASSIVE' as const, role: 'anchor' as const }],
        })),
      },
    }
    const world = having(seated(), 'plan', on37)
    const both = [
      find(shut(world, 'clamp'), 'numbness/not-tested'),
      find(shut(world, 'start'), 'numbness/tooth-not-tested'),
    ]
    expect(both.map((each) => each && say(each)).join(' ')).toMatch(/gum at 37, cheek side.*tooth 46/i)
  })

  test('case 44 no injection by intent is satisfied with its reason, and keeps its reminder', () => {
    const rule = ANAESTHESIA_COMMANDS['anaesthetic.none-by-intent']
    const input = rule.input.parse({ appointmentId: VISITED, reason: 'necrotic', topicalAtClamp: true })
    const world = seated('seated')
    const decision = rule.decide(world, input, context(DENTIST, at(-20)))
    const intended = decision.ok ? applyChange(world, decision.value.change) : world
    expect(shut(intended, 'start').filter(({ rule: name }) => name.startsWith('numbness/'))).toEqual([])
  })
})

describe('reference only', () => {
  test('case 46 a small child: tenths of a cartridge, always rounded down', () => {
    expect(ask([{ ...LIDOCAINE, cartridges: 0 }]).perAgent[0]).toMatchObject({
      limitMicrograms: 66_000,
      tenthsOfCartridges: 19,
    })
    expect(tenths(ask([{ ...MEPIVACAINE, cartridges: 0 }]))).toEqual([12])
    expect(tenths(ask([{ ...ARTICAINE, cartridges: 0 }]))).toEqual([15])
    expect(tenths(ask([{ ...LIDOCAINE, cartridges: 0, cartridgeMl: 2.2 }]))).toEqual([15])
    expect(ask([ARTICAINE], { ageYears: 3 })).toMatchObject({ result: 'cannot-check' })
    expect(ask([ARTICAINE], { ageYears: null })).toMatchObject({ result: 'cannot-check' })
    expect(ask([{ ...MEPIVACAINE, agent: 'prilocaine', percent: 4 }])).toMatchObject({
      result: 'cannot-check',
    })
    const unweighed = ask([LIDOCAINE], { weight: null })
    expect(unweighed).toMatchObject({ result: 'cannot-check', perAgent: [] })
    expect(unweighed.findings[0]?.text).toContain('Weigh today')
  })

  test('case 47 [dose/weight-unit] a weight without its unit is refused with both readings', () => {
    const answer = ask([LIDOCAINE], { weight: { value: 33 } })
    expect(answer).toMatchObject({ result: 'cannot-check', findings: [{ rule: 'dose/weight-unit' }] })
    expect(answer.findings[0]?.text).toContain('33 kg, or 33 lb (14.9 kg)?')
    // The wrong guess gives 4.2 instead of 1.9 cartridges (COMMON, arithmetic).
    expect(tenths(ask([LIDOCAINE], { weight: { value: 33, unit: 'lb' } }))).toEqual([19])
  })

  test('case 47 two givers, two drugs: one tally, rounded up, both named', () => {
    const one = ask([{ ...LIDOCAINE, cartridges: 0.5, by: 'hygienist' }])
    const other = ask([{ ...MEPIVACAINE, cartridges: 0.5, by: 'dentist' }])
    const both = ask([
      { ...LIDOCAINE, cartridges: 0.5, by: 'hygienist', at: '10:10' },
      { ...MEPIVACAINE, cartridges: 0.5, by: 'dentist', at: '10:40' },
    ])
    expect([one, other, both].map(({ usedPercent }) => usedPercent)).toEqual([25.8, 38.7, 64.4])
    expect(both.perAgent.flatMap(({ by }) => by)).toEqual(['hygienist', 'dentist'])
  })

  test('case 48 the wrong cartridge stops at the scan, and drug, strength and expiry are read back', () => {
    const solution = {
      agent: 'lidocaine',
      milliPercent: 2000,
      vasoconstrictor: 'epinephrine',
      ratio: 100_000,
      cartridge: 1700,
    }
    const planned = { ...solution, technique: 'block', tooth: '46', side: 'right', tenthsOfCartridge: 10 }
    const plan = ANAESTHESIA_COMMANDS['anaesthetic.plan']
    const decided = plan.decide(
      seated('seated'),
      plan.input.parse({ appointmentId: VISITED, planned: [planned] }),
      context(DENTIST, at(-20)),
    )
    const world = decided.ok ? applyChange(seated('seated'), decided.value.change) : seated('seated')
    const record = ANAESTHESIA_COMMANDS['dose.record']
    const scanned = { appointmentId: VISITED, dose: { ...planned, agent: 'articaine', milliPercent: 4000 } }
    const decision = record.decide(world, record.input.parse(scanned), context(DENTIST, at(-5)))
    const found = decision.ok ? undefined : find(decision.reasons, 'dose/not-as-planned')
    expect(found && say(found)).toContain('Read back drug, strength and expiry, two people')
    // Read aloud from its label it shuts the needle for everyone, before anything is drawn up.
    const { technique: _t, tooth: _o, side: _s, tenthsOfCartridge: _c, cartridge: _v, ...label } = planned
    const articaine = { ...label, agent: 'articaine', milliPercent: 4000 }
    const read = ANAESTHESIA_COMMANDS['cartridge.read']
    const heard = read.decide(
      world,
      read.input.parse({ appointmentId: VISITED, label: articaine, expires: '2027-03-31' }),
      context(ASSISTANT, at(-6)),
    )
    const held = heard.ok ? applyChange(world, heard.value.change) : world
    expect(heard.ok && heard.value.findings.map(({ rule }) => rule)).toEqual(['dose/not-as-planned'])
    expect(shut(held, 'inject').map(({ rule }) => rule)).toContain('dose/not-as-planned')
  })

  test('case 50 the written lip warning stays open until it is handed over; the desk sees a hand-out due', () => {
    const rule = ANAESTHESIA_COMMANDS['aftercare.give']
    const dose = {
      ...{
        agent: 'lidocaine',
        milliPercent: 2000,
        vasoconstrictor: 'epinephrine',
        ratio: 100_000,
        cartridge: 1700,
      },
      ...{ technique: 'block', tooth: '46', side: 'right', tenthsOfCartridge: 10 },
    }
    const record = ANAESTHESIA_COMMANDS['dose.record']
    const input = record.input.parse({ appointmentId: VISITED, dose, alreadyGiven: true })
    const given = record.decide(seated(), input, context(DENTIST, at(-5)))
    const world = given.ok
      ? having(applyChange(seated(), given.value.change), 'visit', visit('finished', { readBack }))
      : seated()
    const found = find(shut(world, 'leave'), 'aftercare/not-given')
    expect(found && sayToDesk(found)).toBe('Hand-out due')
    const decision = rule.decide(world, { appointmentId: VISITED, to: 'carer' }, context(DENTIST, at(50)))
    const over = decision.ok ? applyChange(world, decision.value.change) : world
    expect(find(shut(over, 'leave'), 'aftercare/not-given')).toBeUndefined()
  })

  test('bad usage is told in three parts and checks nothing', () => {
    for (const request of [
      null,
      7,
      {},
      { doses: [{ agent: 'cocaine', percent: 4 }] },
      { doses: [{ ...LIDOCAINE, cartridges: -1 }] },
      { profile: 'BEST' },
    ]) {
      const { exit, body } = answerDose(request)
      if (request !== null && typeof request === 'object' && Object.keys(request).length === 0)
        expect(exit).toBe(0)
      else expect({ exit, body }).toMatchObject({ exit: 2, body: { refused: true } })
    }
  })
})
