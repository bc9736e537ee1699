import { z } from 'zod'
import { must } from '#shared/base/assert.ts'
import { instant } from '#shared/base/moment.ts'
import type { Finding } from '#shared/finding.ts'
import {
  type AppointmentId,
  type ClinicId,
  type MemberId,
  type MouthChartId,
  type PatientId,
  parseId,
  type WorkId,
} from '#shared/ids.ts'
import {
  ALTERNATIVE_METHODS,
  ANCHOR_HOLES,
  FIELD_POLICY_IDS,
  HOLE_SCHEMES,
  SHEET_MATERIALS,
  SPACING_MEASURES,
} from '#shared/isolation/isolation-facts.ts'
import { planIsolation } from '#shared/isolation/plan.ts'
import type { IsolationPlan, PlanRequest } from '#shared/isolation/plan-types.ts'
import { DEFAULT_ISOLATION_POLICY } from '#shared/isolation/policy.ts'
import { DEFAULT_SPACING } from '#shared/isolation/sheet-policy.ts'
import { judgeWork } from '#shared/procedures/judge-work.ts'
import { recogniseWork } from '#shared/procedures/recognise.ts'
import { PROCEDURE_KINDS, type ToothMention, type Work } from '#shared/procedures/work.ts'
import { mouthFrom } from '#shared/teeth/mouth.ts'
import { type MouthChart, TOOTH_CONDITIONS, type ToothCondition } from '#shared/teeth/mouth-chart.ts'
import { parseIso, parsePalmer, parseUniversal } from '#shared/teeth/notation.ts'
import { NOTATIONS } from '#shared/teeth/notation-names.ts'
import { SURFACES, type Surface, type Tooth } from '#shared/teeth/tooth.ts'
import { sayAssumption } from '#shared/words/en/plan.ts'
import { say } from '#shared/words/en.ts'
import { badUsage, type VerbAnswer } from './answer.ts'
import { explain } from './teeth.ts'

const text = z.string().max(4000)
const surfaces = z.array(z.enum(SURFACES)).max(7)
const teeth = z.array(z.string().max(8)).max(52)
const kind = z.enum([...PROCEDURE_KINDS, 'undetermined'])
const work = z.object({
  procedure: kind.optional(),
  text: text.optional(),
  teeth: teeth.optional(),
  surfaces: z.union([surfaces, z.record(z.string(), surfaces)]).optional(),
})
type AskedWork = z.infer<typeof work>

const request = work.extend({
  work: z.array(work).max(50).optional(),
  notation: z.enum(NOTATIONS).default('iso'),
  ageYears: z.number().min(0).max(130).nullable().optional(),
  mouth: z.record(z.string(), z.array(z.enum(TOOTH_CONDITIONS))).optional(),
  policy: z.enum(FIELD_POLICY_IDS).optional(),
  holeScheme: z.enum(HOLE_SCHEMES).optional(),
  anchorHole: z.enum(ANCHOR_HOLES).optional(),
  includeThirdMolar: z.enum(['never', 'distal-surface-only', 'always']).optional(),
  sheet: z.object({ widthMm: z.number().min(75).max(300), heightMm: z.number().min(75).max(300) }).optional(),
  allergies: z
    .object({
      latex: z.enum(['not-asked', 'asked-unknown', 'none-known', 'suspected', 'confirmed']).optional(),
    })
    .optional(),
  notes: z.array(text).max(50).default([]),
  anchors: teeth.default([]),
  sheetMaterial: z.enum(SHEET_MATERIALS).optional(),
  alternative: z.object({ method: z.enum(ALTERNATIVE_METHODS), reason: text }).optional(),
  answers: z.array(z.object({ rule: text, about: text, answer: text })).default([]),
  wide: z.boolean().default(false),
  spacing: z.object({ measure: z.enum(SPACING_MEASURES), mm: z.number().min(0).max(50) }).optional(),
})
type Request = z.infer<typeof request>

/** A line of work with its teeth known, or the words that are no teeth. */
type ReadWork = { unknown: string[] } | { unknown: null; work: Work }

/** `plan`: the whole plan of a mouth and its work, without a database. */
export function answerPlan(input: unknown): VerbAnswer {
  const parsed = request.safeParse(input)
  if (!parsed.success) return badUsage(explain(parsed.error))
  const asked = parsed.data
  const lines = asked.work ?? [asked]
  if (asked.work === undefined && asked.procedure === undefined && asked.text === undefined) {
    return badUsage(
      'The request names no work (procedure, work or text). No plan can be made. Add one of them and send it again.',
    )
  }
  const read = lines.map((line, place) => readLine(line, { asked, place }))
  const mouth = readMouth(asked)
  const anchors = readTeeth(asked.anchors, asked)
  const unknown = [...read.flatMap((line) => line.unknown ?? []), ...mouth.unknown, ...anchors.unknown]
  if (unknown.length > 0) {
    return badUsage(
      `Not a tooth in ${asked.notation === 'ask' ? 'any' : asked.notation} notation: ${unknown.join(', ')}. Nothing was planned. Mend it, or say which notation, and send it again.`,
    )
  }
  const works = read.flatMap((line) => (line.unknown === null ? [line.work] : []))
  const plan = planIsolation(makeRequest(asked, { works, recorded: mouth.recorded, anchors: anchors.teeth }))
  const chart = chartOf(mouth.recorded)
  const ageYears = asked.ageYears ?? null
  const asks = works.flatMap((one) => judgeWork(one, { chart, ageYears, sideConfirmed: false }))
  return { body: describePlan(plan, asks), exit: 0 }
}

const PARSERS = {
  iso: parseIso,
  universal: parseUniversal,
  palmer: parsePalmer,
} as const

function parseTooth(name: string, { notation }: Request): Tooth | null {
  return PARSERS[notation === 'ask' ? 'iso' : notation](name.trim())
}

function readTeeth(names: readonly string[], asked: Request): { teeth: Tooth[]; unknown: string[] } {
  const parsed = names.map((name) => ({ name, tooth: parseTooth(name, asked) }))
  return {
    teeth: parsed.flatMap(({ tooth }) => tooth ?? []),
    unknown: parsed.filter(({ tooth }) => tooth === null).map(({ name }) => name),
  }
}

const NOBODY = '00000000-0000-4000-8000-000000000000'
const nobody = <Id extends WorkId | ClinicId | AppointmentId | MemberId | PatientId | MouthChartId>(): Id =>
  must(parseId<Id>(NOBODY), 'a fixed id is an id')

function readLine(line: AskedWork, { asked, place }: { asked: Request; place: number }): ReadWork {
  const words = line.text === undefined ? null : recogniseWork(line.text, asked.notation)
  const named = readTeeth(line.teeth ?? [], asked)
  if (named.unknown.length > 0) return { unknown: named.unknown }
  const worked = line.teeth ? named.teeth : (words?.teeth ?? [])
  const touched =
    line.surfaces === undefined ? (words?.surfaces ?? {}) : readSurfaces(line, { asked, worked })
  if (touched === null) return { unknown: Object.keys(line.surfaces ?? {}) }
  const mentions: ToothMention[] = line.teeth ? [] : (words?.mentions ?? [])
  return {
    unknown: null,
    work: {
      clinicId: nobody(),
      id: nobody(),
      appointmentId: nobody(),
      position: place,
      text: line.text ?? '',
      kind: line.procedure ?? words?.kind ?? 'undetermined',
      teeth: worked,
      surfaces: touched,
      mentions,
    },
  }
}

/** One list holds for every tooth; by tooth each has its own. Null where a key is no tooth. */
function readSurfaces(
  line: AskedWork,
  { asked, worked }: { asked: Request; worked: readonly Tooth[] },
): Partial<Record<Tooth, Surface[]>> | null {
  const given = line.surfaces ?? []
  if (Array.isArray(given)) return Object.fromEntries(worked.map((tooth) => [tooth, given]))
  const entries = Object.entries(given).map(([name, list]) => [parseTooth(name, asked), list] as const)
  return entries.some(([tooth]) => tooth === null) ? null : Object.fromEntries(entries)
}

type Recorded = Partial<Record<Tooth, ToothCondition[]>>

function readMouth(asked: Request): { recorded: Recorded | null; unknown: string[] } {
  if (asked.mouth === undefined) return { recorded: null, unknown: [] }
  const entries = Object.entries(asked.mouth).map(([name, list]) => ({
    name,
    tooth: parseTooth(name, asked),
    list,
  }))
  return {
    recorded: Object.fromEntries(entries.flatMap(({ tooth, list }) => (tooth ? [[tooth, list]] : []))),
    unknown: entries.filter(({ tooth }) => tooth === null).map(({ name }) => name),
  }
}

function chartOf(recorded: Recorded | null): MouthChart | null {
  if (recorded === null) return null
  const stamp = { by: nobody<MemberId>(), at: instant(0) }
  const entries = Object.entries(recorded).map(([tooth, conditions]) => [tooth, { conditions, ...stamp }])
  return {
    clinicId: nobody(),
    id: nobody(),
    patientId: nobody(),
    charted: stamp,
    teeth: Object.fromEntries(entries),
    measure: null,
    clampSites: null,
  }
}

interface Read {
  works: Work[]
  recorded: Recorded | null
  anchors: Tooth[]
}

const makeRequest = (asked: Request, { works, recorded, anchors }: Read): PlanRequest => ({
  work: works,
  mouth: mouthFrom(recorded, {
    ageYears: asked.ageYears ?? null,
    worked: works.flatMap((one) => one.teeth),
  }),
  policy: {
    ...DEFAULT_ISOLATION_POLICY,
    holeScheme: asked.holeScheme ?? DEFAULT_ISOLATION_POLICY.holeScheme,
    anchorHole: asked.anchorHole ?? DEFAULT_ISOLATION_POLICY.anchorHole,
    includeThirdMolar: asked.includeThirdMolar ?? DEFAULT_ISOLATION_POLICY.includeThirdMolar,
    widerEnd: asked.wide,
    spacing: asked.spacing ? { ...DEFAULT_SPACING.value, wanted: asked.spacing } : null,
  },
  latex: asked.allergies?.latex ?? 'not-asked',
  choice: {
    policy: asked.policy ?? null,
    anchors,
    sheetMaterial: asked.sheetMaterial ?? null,
    alternative: asked.alternative ?? null,
    answers: asked.answers,
  },
  notes: [...asked.notes, ...works.map((one) => one.text).filter((line) => line !== '')],
  sheet: asked.sheet ?? null,
  measure: 1,
})

/** The plan as outsiders may rely on it. Keys are added, never renamed. */
function describePlan(plan: IsolationPlan, asks: readonly Finding[]): object {
  return {
    need: { level: plan.need.value, source: sourceText(plan.need.source) },
    state: plan.state,
    version: plan.version,
    sheets: plan.sheets.map((sheet) => ({
      field: sheet.field,
      anchor: sheet.anchor,
      clamps: sheet.clamps,
      holes: sheet.holes.map(({ tooth, size, xMm, yMm, diameterMm }) => ({
        tooth,
        size,
        xMm,
        yMm,
        diameterMm,
      })),
      policy: sheet.policy,
      slit: sheet.slit,
      ends: sheet.ends,
      widthMm: sheet.widthMm,
      heightMm: sheet.heightMm,
      grade: sheet.grade,
      sequence: sheet.sequence,
      markInMouth: sheet.markInMouth,
    })),
    sheetMaterial: plan.sheetMaterial,
    alternative: plan.alternative,
    assumed: plan.assumed.map(sayAssumption),
    cautions: plan.cautions,
    findings: [...asks, ...plan.findings].map((finding) => ({
      rule: finding.rule,
      level: finding.level,
      about: finding.about,
      text: say(finding),
    })),
  }
}

const sourceText = ({ where, mark }: { where: string; mark: string }): string =>
  where === '' ? `common practice (${mark})` : `${where} (${mark})`
