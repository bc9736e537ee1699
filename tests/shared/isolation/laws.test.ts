import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { canonicalJson } from '#shared/base/canonical.ts'
import { digestOf } from '#shared/base/digest.ts'
import { FIELD_POLICY_IDS, HOLE_SCHEMES } from '#shared/isolation/isolation-facts.ts'
import { planIsolation } from '#shared/isolation/plan.ts'
import type { IsolationPlan, PlanRequest, PlanWork } from '#shared/isolation/plan-types.ts'
import { ANSWERS, answersOf, isAnsweredRule } from '#shared/isolation/questions.ts'
import { PROCEDURE_KINDS } from '#shared/procedures/work.ts'
import { mouthFrom } from '#shared/teeth/mouth.ts'
import { TOOTH_CONDITIONS, type ToothCondition } from '#shared/teeth/mouth-chart.ts'
import {
  archOf,
  formOf,
  LOWER_PERMANENT,
  mirrorOf,
  SURFACES,
  TEETH,
  type Tooth,
  UPPER_PERMANENT,
} from '#shared/teeth/tooth.ts'
import { asking } from './asking.ts'

type Recorded = Partial<Record<Tooth, ToothCondition[]>>

const RUNS = { numRuns: 1000 }
const permanent = fc.constantFrom(...UPPER_PERMANENT, ...LOWER_PERMANENT)
const anyTooth = fc.constantFrom(...TEETH)
const conditions = fc.uniqueArray(fc.constantFrom(...TOOTH_CONDITIONS), { maxLength: 2 })
const recorded = (tooth: fc.Arbitrary<Tooth>): fc.Arbitrary<Recorded> =>
  fc
    .uniqueArray(fc.tuple(tooth, conditions), { maxLength: 10, selector: ([one]) => one })
    .map((entries) => Object.fromEntries(entries))
const work = (tooth: fc.Arbitrary<Tooth>): fc.Arbitrary<PlanWork> =>
  fc
    .record({
      kind: fc.constantFrom(...PROCEDURE_KINDS, 'undetermined' as const),
      teeth: fc.uniqueArray(tooth, { maxLength: 4 }),
      surfaces: fc.uniqueArray(fc.constantFrom(...SURFACES), { maxLength: 3 }),
    })
    .map(({ kind, teeth, surfaces }) => ({
      kind,
      teeth,
      surfaces: Object.fromEntries(teeth.map((one) => [one, surfaces])),
    }))

interface Visit {
  work: PlanWork[]
  mouth: Recorded
  age: number | null
  policy: (typeof FIELD_POLICY_IDS)[number] | null
  scheme: (typeof HOLE_SCHEMES)[number]
  anchorHole: 'fixed-5' | 'plus-one' | 'class-plus-one'
  thirds: PlanRequest['policy']['includeThirdMolar']
}
const visit = (tooth: fc.Arbitrary<Tooth>): fc.Arbitrary<Visit> =>
  fc.record({
    work: fc.array(work(tooth), { minLength: 1, maxLength: 3 }),
    mouth: recorded(tooth),
    age: fc.option(fc.integer({ min: 3, max: 90 })),
    policy: fc.option(fc.constantFrom(...FIELD_POLICY_IDS)),
    scheme: fc.constantFrom(...HOLE_SCHEMES),
    anchorHole: fc.constantFrom('fixed-5', 'plus-one', 'class-plus-one'),
    thirds: fc.constantFrom('never', 'distal-surface-only', 'always'),
  })

const requestOf = ({ work, mouth, age, policy, scheme, anchorHole, thirds }: Visit): PlanRequest =>
  asking({
    work,
    mouth,
    age,
    policy,
    clinic: { holeScheme: scheme, anchorHole, includeThirdMolar: thirds },
  })
/** Counter-examples of before, replayed for ever. */
const FOUND_IN = new URL('../../found/', import.meta.url)
const FOUND = readdirSync(FOUND_IN)
  .filter((name) => name.startsWith('isolation-'))
  .map((name): [Visit] => [JSON.parse(readFileSync(new URL(name, FOUND_IN), 'utf8'))])

const planOf = (one: Visit): IsolationPlan => planIsolation(requestOf(one))
const holds = (law: (plan: IsolationPlan, request: PlanRequest) => void): void =>
  fc.assert(
    fc.property(visit(anyTooth), (one) => {
      const request = requestOf(one)
      law(planIsolation(request), request)
    }),
    { ...RUNS, examples: FOUND },
  )

describe('laws of every plan', () => {
  test('a field runs over standing teeth without leaving one out, third molars apart', () =>
    holds((plan, { mouth }) => {
      for (const { field, arch } of plan.sheets) {
        const places = field.map((tooth) => mouth.standingRow(arch).indexOf(tooth)).sort((a, b) => a - b)
        expect(places[0]).toBeGreaterThanOrEqual(0)
        expect((places.at(-1) ?? 0) - (places[0] ?? 0)).toBe(field.length - 1)
      }
    }))

  test('never a hole or a clamp on a tooth that is not there', () =>
    holds((plan, { mouth }) => {
      for (const { holes, clamps } of plan.sheets) {
        for (const { tooth } of [...holes, ...clamps]) expect(mouth.isStanding(tooth)).toBe(true)
      }
    }))

  test('the anchor is in the field, and every treated tooth that stands shows through one sheet', () =>
    holds((plan, { mouth, choice }) => {
      for (const { field, anchor, clamps } of plan.sheets) {
        if (anchor) expect(field).toContain(anchor)
        for (const { tooth } of clamps) expect(field).toContain(tooth)
      }
      if (plan.state === 'not-needed' || choice.alternative) return
      const shown = plan.sheets.flatMap(({ working }) => working)
      for (const tooth of shown) expect(plan.sheets.flatMap(({ field }) => field)).toContain(tooth)
      expect(shown.every((tooth) => mouth.isStanding(tooth))).toBe(true)
    }))

  test('the anchor’s hole is never smaller than an unclamped one of its class', () =>
    holds((plan) => {
      for (const { holes, clamps } of plan.sheets) {
        const held = new Set(clamps.map(({ tooth }) => tooth))
        for (const hole of holes.filter(({ tooth }) => held.has(tooth))) {
          const like = holes.filter(
            ({ tooth }) =>
              !held.has(tooth) &&
              formOf(tooth) === formOf(hole.tooth) &&
              archOf(tooth) === archOf(hole.tooth),
          )
          for (const other of like) {
            if (formOf(hole.tooth) !== 'premolar') expect(hole.size).toBeGreaterThanOrEqual(other.size)
          }
        }
      }
    }))

  test('holes never overlap and never leave the sheet', () =>
    holds((plan) => {
      for (const { holes, widthMm, heightMm } of plan.sheets) {
        for (const [place, a] of holes.entries()) {
          const r = a.diameterMm / 2
          expect(a.xMm - r).toBeGreaterThan(0)
          expect(a.yMm - r).toBeGreaterThan(0)
          expect(a.xMm + r).toBeLessThan(widthMm)
          expect(a.yMm + r).toBeLessThan(heightMm)
          for (const b of holes.slice(place + 1)) {
            expect(Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm)).toBeGreaterThan(
              (a.diameterMm + b.diameterMm) / 2,
            )
          }
        }
      }
    }))

  test('the same input gives the same digest, and the version is the digest of what is agreed', () =>
    holds((plan, request) => {
      expect(planIsolation(request).version).toBe(plan.version)
      expect(plan.version).toBe(`sha256:${digestOf(plan.agreed)}`)
      expect(JSON.stringify(plan.agreed)).toBe(canonicalJson(plan.agreed))
    }))

  test('a plan with an open question is never planned, and a planned one has none', () =>
    holds((plan) => {
      const open = plan.findings.filter(({ level }) => level !== 'note')
      if (plan.state === 'planned') expect(open).toEqual([])
      if (open.length > 0) expect(['draft', 'undetermined']).toContain(plan.state)
      expect(plan.agreed.open).toEqual([...new Set(open.map(({ rule }) => rule))].sort())
    }))

  test('working back teeth on both sides of an arch are two sheets, unless the policy takes the arch', () =>
    holds((plan) => {
      for (const { working, policy } of plan.sheets) {
        if (['FULL_ARCH', 'VENEER_P2_P2', 'BLEACH_ARCH'].includes(policy)) continue
        const sides = new Set(
          working.filter((tooth) => Number(tooth[1]) > 3).map((tooth) => '1458'.includes(tooth.charAt(0))),
        )
        expect(sides.size).toBeLessThan(2)
      }
    }))
})

describe('laws between two plans', () => {
  test('the mirror of the mouth gives the mirror of the plan', () =>
    fc.assert(
      fc.property(visit(anyTooth), (one) => {
        const plan = planOf(one)
        const mirrored = planOf({
          ...one,
          work: one.work.map(({ kind, teeth, surfaces }) => ({
            kind,
            teeth: teeth.map(mirrorOf),
            surfaces: mirrorKeys(surfaces),
          })),
          mouth: mirrorKeys(one.mouth),
        })
        expect(mirrored.state).toBe(plan.state)
        expect(sheetsOf(mirrored)).toEqual(mirrorSheets(sheetsOf(plan)))
      }),
      RUNS,
    ))

  test('one more missing tooth never adds a hole to the sheet of a treated tooth', () =>
    fc.assert(
      fc.property(oneTooth, permanent, (one, tooth) => {
        fc.pre(one.work.every(({ teeth }) => !teeth.includes(tooth)))
        const count = (mouth: Recorded): number =>
          planOf({ ...one, mouth }).sheets.reduce((sum, { holes }) => sum + holes.length, 0)
        const { [tooth]: _, ...rest } = one.mouth
        fc.pre(mouthFrom(rest, { ageYears: one.age }).isStanding(tooth))
        fc.pre(
          !Object.values(rest)
            .flat()
            .some((condition) => REROUTING.has(condition ?? 'present')),
        )
        expect(count({ ...rest, [tooth]: ['missing'] })).toBeLessThanOrEqual(count(rest))
      }),
      RUNS,
    ))
})

const oneTooth: fc.Arbitrary<Visit> = fc.tuple(visit(permanent), permanent).map(([one, tooth]) => ({
  ...one,
  work: one.work.slice(0, 1).map((line) => ({ ...line, teeth: [tooth] })),
}))

/** Conditions that move an anchor, so that a lost tooth may bring a longer field with it. */
const REROUTING: ReadonlySet<ToothCondition> = new Set([
  'implant',
  'mobile',
  'pontic',
  'missing',
  'unerupted',
])

const mirrorKeys = <T>(map: Partial<Record<Tooth, T>>): Partial<Record<Tooth, T>> =>
  Object.fromEntries(
    Object.entries(map).map(([tooth, value]) => [
      mirrorOf(TEETH.find((one) => one === tooth) ?? '11'),
      value,
    ]),
  )

interface Laid {
  width: number
  anchors: string[]
  holes: [tooth: Tooth, size: number, x: number, y: number][]
}
const sheetsOf = ({ sheets }: IsolationPlan): Laid[] =>
  sheets.map(({ widthMm, clamps, holes }) => ({
    width: widthMm,
    anchors: clamps.map(({ tooth }) => tooth).sort(),
    holes: holes
      .map(({ tooth, size, xMm, yMm }): Laid['holes'][number] => [tooth, size, xMm, yMm])
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  }))
const byFirst = (a: Laid, b: Laid): number => (`${a.holes[0]}` < `${b.holes[0]}` ? -1 : 1)
const mirrorSheets = (sheets: Laid[]): unknown =>
  expect.arrayContaining(
    sheets
      .map(({ width, anchors, holes }) => ({
        width,
        anchors: anchors.map((tooth) => mirrorOf(TEETH.find((one) => one === tooth) ?? '11')).sort(),
        holes: holes
          .map(([tooth, size, x, y]): Laid['holes'][number] => [
            mirrorOf(tooth),
            size,
            Math.round((width - x) * 10) / 10,
            y,
          ])
          .sort(([a], [b]) => (a < b ? -1 : 1)),
      }))
      .sort(byFirst),
  )

describe('every question answered ends in a plan or a reasoned refusal', () => {
  /** Answers every open question of the planner, one after the other, by the first or another answer. */
  function answerAll(one: Visit, pick: number): IsolationPlan {
    let request = requestOf(one)
    for (let round = 0; round < 20; round++) {
      const plan = planIsolation(request)
      const question = plan.findings.find(({ rule, level }) => level === 'ask' && rule in ANSWERS)
      if (question && isAnsweredRule(question.rule)) {
        const allowed = answersOf(question.rule)
        const answer = allowed[pick % allowed.length] ?? ''
        const given = { rule: question.rule, about: question.about, answer }
        request = { ...request, choice: { ...request.choice, answers: [...request.choice.answers, given] } }
        continue
      }
      if (plan.findings.some(({ rule }) => rule === 'alternative/needed')) {
        const alternative = { method: 'suction-isolator', reason: 'the dentist ruled the dam out' } as const
        request = { ...request, choice: { ...request.choice, alternative } }
        continue
      }
      return plan
    }
    throw new Error('the questions do not end')
  }

  test('whatever is answered', () =>
    fc.assert(
      fc.property(visit(anyTooth), fc.integer({ min: 0, max: 3 }), (one, pick) => {
        const plan = answerAll(one, pick)
        const left = plan.findings.filter(({ level }) => level !== 'note').map(({ rule }) => rule)
        const ownCommands = ['field/no-tooth', 'field/tooth-not-standing', 'mouth/not-charted']
        expect(left.filter((rule) => !ownCommands.includes(rule))).toEqual([])
        if (left.length === 0)
          expect(['planned', 'alternative', 'not-needed', 'undetermined']).toContain(plan.state)
      }),
      { ...RUNS, examples: FOUND.map(([one]): [Visit, number] => [one, 0]) },
    ))
})
