import type { FieldPolicyId } from '#shared/isolation/isolation-facts.ts'
import { planIsolation } from '#shared/isolation/plan.ts'
import type { IsolationPlan, PlanRequest, PlanWork } from '#shared/isolation/plan-types.ts'
import { DEFAULT_ISOLATION_POLICY } from '#shared/isolation/policy.ts'
import type { ProcedureKind } from '#shared/procedures/work.ts'
import { mouthFrom } from '#shared/teeth/mouth.ts'
import type { ToothCondition } from '#shared/teeth/mouth-chart.ts'
import { isTooth, SURFACES, type Surface, type Tooth } from '#shared/teeth/tooth.ts'

/** A visit in short: `'46 MO'` or `'36'` lines of one kind. */
export interface Asked {
  kind?: ProcedureKind | 'undetermined'
  /** Teeth with their surfaces: `'84 DO, 85 MO'`. */
  teeth?: string
  work?: PlanWork[]
  /** Left out: charted, all standing but third molars. Null: not charted. */
  mouth?: Partial<Record<Tooth, ToothCondition[]>> | null
  age?: number | null
  policy?: FieldPolicyId | null
  anchors?: Tooth[]
  answers?: [rule: string, about: string, answer: string][]
  notes?: string[]
  clinic?: Partial<PlanRequest['policy']>
  rest?: Partial<Omit<PlanRequest, 'choice'>>
  choice?: Partial<PlanRequest['choice']>
}

/** The chapter's convention for worked cases: holes by five sizes, the clamped tooth always the largest. */
const CONVENTION = { holeScheme: 'S5', anchorHole: 'fixed-5' } as const

export function workOf(kind: PlanWork['kind'], text: string): PlanWork {
  const parts = text === '' ? [] : text.split(',').map((part) => part.trim().split(' '))
  const teeth = parts.map(([tooth = '']) => tooth).filter(isTooth)
  const surfaces = Object.fromEntries(
    parts.flatMap(([tooth, letters]) => (letters ? [[tooth, [...letters].filter(isSurface)]] : [])),
  )
  return { kind, teeth, surfaces }
}
const isSurface = (letter: string): letter is Surface => SURFACES.some((surface) => surface === letter)

export function asking(asked: Asked): PlanRequest {
  const work = asked.work ?? [workOf(asked.kind ?? 'direct-composite', asked.teeth ?? '')]
  return {
    work,
    mouth: mouthFrom(asked.mouth === undefined ? {} : asked.mouth, {
      ageYears: asked.age ?? null,
      worked: work.flatMap(({ teeth }) => teeth),
    }),
    policy: { ...DEFAULT_ISOLATION_POLICY, ...CONVENTION, ...asked.clinic },
    latex: 'none-known',
    choice: {
      policy: asked.policy ?? null,
      anchors: asked.anchors ?? [],
      sheetMaterial: null,
      alternative: null,
      answers: (asked.answers ?? []).map(([rule, about, answer]) => ({ rule, about, answer })),
      ...asked.choice,
    },
    notes: asked.notes ?? [],
    sheet: null,
    measure: 1,
    ...asked.rest,
  }
}

export const planned = (asked: Asked): IsolationPlan => planIsolation(asking(asked))
export const rulesOf = (plan: IsolationPlan): string[] => plan.findings.map(({ rule }) => rule)
export const asksOf = (plan: IsolationPlan): string[] =>
  plan.findings.filter(({ level }) => level !== 'note').map(({ rule }) => rule)
/** `'36:5 35:3'`, in the order in which the field is listed. */
export const holesOf = (plan: IsolationPlan, sheet = 0): string =>
  (plan.sheets[sheet]?.holes ?? []).map(({ tooth, size }) => `${tooth}:${size}`).join(' ')
export const fieldOf = (plan: IsolationPlan, sheet = 0): string => (plan.sheets[sheet]?.field ?? []).join(' ')
export const clampsOf = (plan: IsolationPlan, sheet = 0): string =>
  (plan.sheets[sheet]?.clamps ?? [])
    .map(({ tooth, family, role }) =>
      role === 'anchor' ? `${tooth} ${family}` : `${tooth} ${family} ${role}`,
    )
    .join(', ')
