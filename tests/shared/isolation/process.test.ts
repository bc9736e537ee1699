import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange, putting } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { World } from '#shared/facts.ts'
import { ISOLATION_COMMANDS } from '#shared/isolation/commands.ts'
import type { Agreed } from '#shared/isolation/isolation-facts.ts'
import { planFor } from '#shared/isolation/plan-for.ts'
import { expectedOf } from '#shared/isolation/process.ts'
import type { Member } from '#shared/people/clinic.ts'
import {
  AGREED,
  ASSISTANT,
  at,
  context,
  DENTIST,
  plan,
  scene,
  VISITED,
  visit,
  work,
} from '#tests/shared/readiness/scene.ts'

type Kind = keyof typeof ISOLATION_COMMANDS
/** Decides a command on a world as an outsider would send it. */
function act(world: World, kind: Kind, input: object, by: Member = DENTIST): Decision {
  const rule = ISOLATION_COMMANDS[kind]
  const decide = rule.decide as (world: World, input: unknown, given: ReturnType<typeof context>) => Decision
  return decide(world, rule.input.parse({ appointmentId: VISITED, ...input }), context(by, at(0), 900))
}
const refusedBy = (decision: Decision): string[] =>
  decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
const worldAfter = (world: World, decision: Decision): World => {
  if (!decision.ok) throw new Error(`refused: ${JSON.stringify(decision.reasons)}`)
  return applyChange(world, decision.value.change)
}

const NINE_TEETH = ['47', '46', '45', '44', '43', '42', '41', '31', '32'] as const
const FILLING: Agreed = {
  ...AGREED,
  work: [{ kind: 'direct-composite', teeth: ['46'], surfaces: { 46: ['M', 'O'] } }],
  policy: 'STURDEVANT_WIDE',
  sheets: [
    {
      field: [...NINE_TEETH],
      anchor: '47',
      clamps: [{ tooth: '47', family: 'MOLAR_W_PASSIVE', role: 'anchor' }],
      holes: NINE_TEETH.map((tooth) => ({ tooth, size: 3 })),
      slit: [],
    },
  ],
}
const seated = (agreed: Agreed = FILLING): World =>
  applyChange(scene(), {
    put: { visit: [visit('seated')], plan: [plan(agreed)] },
    remove: {},
  })

const WINGED = [{ tooth: '47', family: 'MOLAR_W_PASSIVE', role: 'anchor' }]
const sheetOf = (some: object = {}): object => ({
  field: [...NINE_TEETH],
  clamps: WINGED,
  sequence: 'together',
  ...some,
})
const PLACING = {
  planNumber: 1,
  sheets: [sheetOf()],
  tied: true,
  inspected: true,
  bow: 'back',
  minutes: 3,
  outcome: { leak: false, tear: false, retries: 0, gum: 'sound' },
}
const WINGLESS = [{ tooth: '47', family: 'MOLAR_WL', role: 'anchor' }]
const untiedAllowed = (world: World): World => ({
  ...world,
  policySet: world.policySet.map((set) => ({
    ...set,
    isolation: { ...set.isolation, untiedClampAllowed: true },
  })),
})

/** Common practice, built from published placing and removal rules. */
describe('process checks', () => {
  test('P-1 [clamp/untied] clamp first and untied is refused, even where the clinic allows one unit untied', () => {
    const input = { ...PLACING, sheets: [sheetOf({ sequence: 'clamp-first' })], tied: false }
    expect(refusedBy(act(seated(), 'dam.placed', input))).toEqual(['clamp/untied'])
    expect(refusedBy(act(untiedAllowed(seated()), 'dam.placed', input))).toEqual(['clamp/untied'])
  })

  test('P-2 together, winged and untied needs the clinic’s own permission', () => {
    const input = { ...PLACING, tied: false }
    expect(refusedBy(act(seated(), 'dam.placed', input))).toEqual(['clamp/untied'])
    expect(act(untiedAllowed(seated()), 'dam.placed', input).ok).toBe(true)
  })

  test('P-3 [clamp/wingless-together] a wingless clamp cannot carry the sheet', () => {
    const wingless = (sequence: string) => ({
      ...PLACING,
      sheets: [sheetOf({ clamps: WINGLESS, sequence })],
    })
    expect(refusedBy(act(seated(), 'dam.placed', wingless('together')))).toEqual(['clamp/wingless-together'])
    expect(act(seated(), 'dam.placed', wingless('clamp-first')).ok).toBe(true)
  })

  test('P-6 [clamp/bow-forward] a bow to the front is refused', () => {
    expect(refusedBy(act(seated(), 'dam.placed', { ...PLACING, bow: 'front' }))).toEqual([
      'clamp/bow-forward',
    ])
  })

  test('P-9 [dam/wrong-tooth] another tooth than the planned one is a stop, whoever records it', () => {
    const input = {
      ...PLACING,
      sheets: [
        { field: ['36', '35', '34'], clamps: [{ ...WINGLESS[0], tooth: '36' }], sequence: 'clamp-first' },
      ],
    }
    expect(refusedBy(act(seated(), 'dam.placed', input))).toEqual(['dam/wrong-tooth'])
  })

  test('[dam/differs] another field is the dentist’s to record, beside the plan', () => {
    const input = {
      ...PLACING,
      sheets: [
        {
          field: ['46', '45', '44'],
          clamps: [{ tooth: '46', family: 'MOLAR_W_ACTIVE', role: 'anchor' }],
          sequence: 'together',
        },
      ],
    }
    expect(refusedBy(act(seated(), 'dam.placed', input, ASSISTANT))).toEqual(['dam/differs'])
    const world = worldAfter(seated(), act(seated(), 'dam.placed', input, DENTIST))
    expect(world.asPlaced[0]).toMatchObject({ field: ['46', '45', '44'], planNumber: 1 })
    expect(world.plan).toEqual(seated().plan)
  })

  test('[plan/stale] a placing names the plan it saw', () => {
    expect(refusedBy(act(seated(), 'dam.placed', { ...PLACING, planNumber: 2 }))).toEqual(['plan/stale'])
  })

  test('[plan/not-agreeable] nothing is placed on a draft', () => {
    const draft = seated({ ...FILLING, state: 'draft', open: ['field/wire'] })
    expect(refusedBy(act(draft, 'dam.placed', PLACING))).toEqual(['plan/not-agreeable'])
  })

  test('[plan/missing] nothing is placed without a plan', () => {
    expect(refusedBy(act({ ...seated(), plan: [] }, 'dam.placed', PLACING))).toEqual(['plan/missing'])
  })

  const REMOVAL = {
    holesWhole: 9,
    septaCut: 8,
    clamps: 1,
    ligaturesIn: 1,
    ligatures: 1,
    sheetPieces: 1,
    fragment: 'none-missing',
    gum: 'sound',
    needles: 1,
    files: 0,
    blades: 0,
  }
  const placed = (): World => worldAfter(seated(), act(seated(), 'dam.placed', PLACING))

  test('what adds up is kept with the visit', () => {
    const world = worldAfter(placed(), act(placed(), 'dam.removed', { ...REMOVAL, gum: 'marked' }))
    expect(world.visit[0]?.counts).toMatchObject({ clamps: 1, ligatures: 1, needles: 1 })
    expect(world.asPlaced[0]?.outcome.gum).toBe('marked')
  })

  test('[anchor/gum-before] how the gum was left stands with the mouth, and the next plan tells it', () => {
    const marked = worldAfter(placed(), act(placed(), 'dam.removed', { ...REMOVAL, gum: 'marked' }))
    expect(marked.mouthChart[0]?.clampSites).toMatchObject({ 47: { gum: 'marked', by: DENTIST.id } })
    const next: World = { ...marked, work: [work({ teeth: ['47'] })] }
    expect(planFor(next, VISITED)?.findings).toContainEqual(
      expect.objectContaining({ rule: 'anchor/gum-before', tooth: '47', gum: 'marked' }),
    )
    const sound = worldAfter(marked, act(marked, 'dam.removed', REMOVAL))
    expect(planFor({ ...next, mouthChart: sound.mouthChart }, VISITED)?.findings).not.toContainEqual(
      expect.objectContaining({ rule: 'anchor/gum-before' }),
    )
  })

  test('[anchor/passed-over-before] a tooth that did not take its clamp is told when it is planned on again', () => {
    const other = {
      ...PLACING,
      sheets: [
        sheetOf({ field: ['46', '45'], clamps: [{ tooth: '46', family: 'MOLAR_W_ACTIVE', role: 'anchor' }] }),
      ],
    }
    const world = worldAfter(seated(), act(seated(), 'dam.placed', other, DENTIST))
    expect(world.mouthChart[0]?.clampSites).toMatchObject({ 47: { gum: null, instead: ['46'] } })
    const next: World = { ...world, work: [work({ teeth: ['47'] })] }
    expect(planFor(next, VISITED)?.findings).toContainEqual(
      expect.objectContaining({ rule: 'anchor/passed-over-before', tooth: '47', instead: ['46'] }),
    )
    const sat = worldAfter(world, act(world, 'dam.placed', PLACING))
    expect(planFor({ ...next, mouthChart: sat.mouthChart }, VISITED)?.findings).not.toContainEqual(
      expect.objectContaining({ rule: 'anchor/passed-over-before' }),
    )
  })

  test('P-4 [removal/septa] nine holes in one field have eight septa, seven cut are not enough', () => {
    expect(refusedBy(act(placed(), 'dam.removed', { ...REMOVAL, septaCut: 7 }))).toEqual(['removal/septa'])
  })

  test('P-5 [removal/fragment] a missing piece keeps the visit open until the dentist explains it', () => {
    expect(refusedBy(act(placed(), 'dam.removed', { ...REMOVAL, fragment: 'missing' }))).toEqual([
      'removal/fragment',
    ])
    const explained = { ...REMOVAL, fragment: 'explained' }
    expect(refusedBy(act(placed(), 'dam.removed', explained, ASSISTANT))).toEqual(['removal/fragment'])
    expect(act(placed(), 'dam.removed', explained, DENTIST).ok).toBe(true)
  })

  test('[removal/holes] [removal/count] holes, clamps and ligatures are counted out', () => {
    const short = { ...REMOVAL, holesWhole: 8, clamps: 0, ligatures: 0 }
    expect(refusedBy(act(placed(), 'dam.removed', short))).toEqual([
      'removal/holes',
      'removal/count',
      'removal/count',
    ])
  })

  test('[dam/not-placed] nothing is counted out that was not placed', () => {
    expect(refusedBy(act(seated(), 'dam.removed', REMOVAL))).toEqual(['dam/not-placed'])
  })

  test('P-7 [alternative/no-reason] a root canal without a dam needs a reason, and then the word on that plan', () => {
    const choose = (reason: string) =>
      act(scene(), 'isolation.choose', { alternative: { method: 'suction-isolator', reason } })
    expect(refusedBy(choose('  '))).toEqual(['alternative/no-reason'])
    const made = must(planFor(worldAfter(scene(), choose('no tooth can carry a clamp')), VISITED), 'a plan')
    expect(made.state).toBe('alternative')
    expect(made.need.value).toBe('required')
    expect(ISOLATION_COMMANDS['isolation.choose'].needs).toBe('plan:choose')
  })

  test('P-8 a filling without a dam, with its reason, is a plan of its own', () => {
    const world = applyChange(
      scene(),
      putting('work', work({ kind: 'direct-composite', text: 'comp 46 O', surfaces: { 46: ['O'] } })),
    )
    const chosen = act(world, 'isolation.choose', {
      alternative: { method: 'cotton-rolls', reason: 'patient declines' },
    })
    const made = must(planFor(worldAfter(world, chosen), VISITED), 'a plan')
    expect([made.state, made.agreed.alternative, made.sheets]).toEqual(['alternative', 'cotton-rolls', []])
  })
})

describe('several sheets in one sitting', () => {
  const clampOn = (tooth: '47' | '37', family: 'MOLAR_W_PASSIVE' | 'MOLAR_WL') =>
    ({ tooth, family, role: 'anchor' }) as const
  const [RIGHT, LEFT] = [
    { field: ['47', '46', '45'] as const, clamps: [clampOn('47', 'MOLAR_W_PASSIVE')] },
    { field: ['37', '36', '35', '34'] as const, clamps: [clampOn('37', 'MOLAR_WL')] },
  ]
  const TWO: Agreed = {
    ...FILLING,
    work: [{ kind: 'direct-composite', teeth: ['46', '36'], surfaces: {} }],
    sheets: [RIGHT, LEFT].map(({ field, clamps }) => ({
      field: [...field],
      anchor: field[0],
      clamps,
      holes: field.map((tooth) => ({ tooth, size: 3 })),
      slit: [],
    })),
  }
  const going = (right: string, left: string, tied = true) => ({
    ...PLACING,
    tied,
    sheets: [
      { ...RIGHT, sequence: right },
      { ...LEFT, sequence: left },
    ],
  })

  test('each goes on its own way: the wingless one clamp first, the winged one in one carry', () => {
    expect(act(seated(TWO), 'dam.placed', going('together', 'clamp-first')).ok).toBe(true)
    expect(refusedBy(act(seated(TWO), 'dam.placed', going('together', 'together')))).toEqual([
      'clamp/wingless-together',
    ])
    expect(refusedBy(act(seated(TWO), 'dam.placed', going('clamp-first', 'clamp-first', false)))).toEqual([
      'clamp/untied',
      'clamp/untied',
    ])
  })

  test('an untied unit that is allowed does not allow the other sheet its untied clamp', () => {
    const world = untiedAllowed(seated(TWO))
    expect(refusedBy(act(world, 'dam.placed', going('together', 'clamp-first', false)))).toEqual([
      'clamp/untied',
    ])
  })

  test('teeth of two sheets under one are not as planned', () => {
    const one = { field: [...RIGHT.field, ...LEFT.field], clamps: [...RIGHT.clamps, ...LEFT.clamps] }
    const input = { ...PLACING, sheets: [{ ...one, sequence: 'clamp-first' }] }
    expect(refusedBy(act(seated(TWO), 'dam.placed', input, ASSISTANT))).toEqual(['dam/differs'])
  })

  test('holes and septa are counted sheet by sheet, also where one differed', () => {
    const world = worldAfter(seated(TWO), act(seated(TWO), 'dam.placed', going('together', 'clamp-first')))
    const [placed, plan] = [must(world.asPlaced[0], 'placed'), must(world.plan[0], 'planned')]
    expect(expectedOf(placed, plan)).toEqual({ holes: 7, septa: 5, clamps: 2 })
    const shorter = { ...RIGHT, field: ['46', '45'], clamps: [{ ...RIGHT.clamps[0], tooth: '46' }] }
    const differing = {
      ...PLACING,
      sheets: [
        { ...shorter, sequence: 'together' },
        { ...LEFT, sequence: 'clamp-first' },
      ],
    }
    const other = worldAfter(seated(TWO), act(seated(TWO), 'dam.placed', differing, DENTIST))
    expect(expectedOf(must(other.asPlaced[0], 'placed'), plan)).toEqual({ holes: 6, septa: 4, clamps: 2 })
  })
})

describe('choosing and answering', () => {
  test('keys left out stay as they were', () => {
    const once = worldAfter(
      scene(),
      act(scene(), 'isolation.choose', { policy: 'LIMITED_1D2M', anchors: ['47'] }),
    )
    const twice = worldAfter(once, act(once, 'isolation.choose', { sheetMaterial: 'non-latex' }))
    expect(twice.isolationChoice).toMatchObject([
      { policy: 'LIMITED_1D2M', anchors: ['47'], sheetMaterial: 'non-latex' },
    ])
  })

  test('[sheet/latex-refused] a latex sheet is refused unless latex was asked and none is known', () => {
    const suspected: World = {
      ...scene(),
      allergyRecord: scene().allergyRecord.map((record) => ({ ...record, latex: 'suspected' as const })),
    }
    expect(refusedBy(act(suspected, 'isolation.choose', { sheetMaterial: 'latex' }))).toEqual([
      'sheet/latex-refused',
    ])
    const unasked: World = { ...scene(), allergyRecord: [] }
    expect(refusedBy(act(unasked, 'isolation.choose', { sheetMaterial: 'latex' }))).toEqual([
      'sheet/latex-refused',
    ])
    expect(act(scene(), 'isolation.choose', { sheetMaterial: 'latex' }).ok).toBe(true)
  })

  test('[choice/answer-unknown] only the answers of the question are taken', () => {
    const answer = (answer: string) =>
      act(scene(), 'isolation.answer', { rule: 'breathing/choice', about: 'patient', answer })
    expect(refusedBy(answer('cut a hole'))).toEqual(['choice/answer-unknown'])
    expect(answer('fold-edge').ok).toBe(true)
  })

  test('an answer closes its question in the next plan', () => {
    const stuffy: World = {
      ...scene(),
      patient: scene().patient.map((patient) => ({
        ...patient,
        history: [{ text: 'blocked nose today', by: null, at: at(-60) }],
      })),
    }
    expect(planFor(stuffy, VISITED)?.state).toBe('draft')
    const answered = act(stuffy, 'isolation.answer', {
      rule: 'breathing/choice',
      about: 'patient',
      answer: 'fold-edge',
    })
    expect(planFor(worldAfter(stuffy, answered), VISITED)?.state).toBe('planned')
  })

  test('[alternative/needed] an answer that rules the dam out asks for another way', () => {
    const stuffy: World = {
      ...scene(),
      patient: scene().patient.map((patient) => ({
        ...patient,
        history: [{ text: 'panics with the dam', by: null, at: at(-60) }],
      })),
    }
    const answered = act(stuffy, 'isolation.answer', {
      rule: 'breathing/choice',
      about: 'patient',
      answer: 'no-dam',
    })
    expect(planFor(worldAfter(stuffy, answered), VISITED)?.agreed.open).toEqual(['alternative/needed'])
  })
})
