import { digestOfText } from '../base/digest.ts'
import type { Cited } from '../base/source.ts'
import { needOf } from '../procedures/catalogue.ts'
import { fieldClassOf } from '../procedures/field-class.ts'
import type { NeedOfIsolation } from '../procedures/work.ts'
import type { Mouth } from '../teeth/mouth.ts'
import { isAnterior, predecessorOf, type Tooth } from '../teeth/tooth.ts'
import { fieldOf, isEndodontic, isSealant, joinFields, type WorkingTooth } from './field.ts'
import type { IsolationFinding } from './findings.ts'
import type { Agreed, FieldPolicyId, SheetMaterial } from './isolation-facts.ts'
import { type NoteSigns, readNotes } from './notes.ts'
import { listCautions } from './plan-cautions.ts'
import { planSheet } from './plan-sheet.ts'
import type { Assumption, IsolationPlan, PlannedSheet, PlanRequest, PlanWork } from './plan-types.ts'
import { SILENT_POLICY } from './policy.ts'
import { answerTo, isAnsweredRule } from './questions.ts'

/** From strongest to weakest: what is not known outweighs only what needs nothing. */
const WEAKNESS: Record<NeedOfIsolation, number> = {
  required: 0,
  'strongly-advised': 1,
  preferred: 2,
  barrier: 3,
  optional: 4,
  undetermined: 5,
  'not-needed': 6,
}

/**
 * The plan of one visit: pure and total. What is not known is assumed and listed, or asked: a plan with an open
 * question is a draft. Work that is not named leaves the visit undetermined, with what can be planned planned.
 */
export function planIsolation(request: PlanRequest): IsolationPlan {
  const { alternative } = request.choice
  const need = needOfAll(request.work)
  const hasUnnamed = request.work.length === 0 || request.work.some(isUndetermined)
  if (need.value === 'not-needed' && !hasUnnamed) {
    return finish(request, NOTHING, { need, state: 'not-needed', alternative: null })
  }
  const drawn = drawSheets(request, request.work.filter(wantsField))
  if (alternative !== null) {
    const findings = judgeAlternative(request, drawn.findings)
    const dry = { ...drawn, findings, sheets: [] }
    const state = hasUnnamed ? 'undetermined' : isOpen(findings) ? 'draft' : 'alternative'
    return finish(request, dry, { need, state, alternative })
  }
  const state = hasUnnamed ? 'undetermined' : isOpen(drawn.findings) ? 'draft' : 'planned'
  return finish(request, drawn, { need, state, alternative })
}

const isOpen = (findings: readonly IsolationFinding[]): boolean =>
  findings.some(({ level }) => level !== 'note')

const needOfWork = (work: PlanWork): Cited<NeedOfIsolation> => needOf(work.kind, work.teeth)
const isUndetermined = (work: PlanWork): boolean => needOfWork(work).value === 'undetermined'
const wantsField = (work: PlanWork): boolean => {
  const { value } = needOfWork(work)
  return value !== 'not-needed' && value !== 'undetermined'
}

/** The strictest need of all the work; undetermined where none is named. */
function needOfAll(work: readonly PlanWork[]): Cited<NeedOfIsolation> {
  const [first, ...more] = work.map(needOfWork)
  return more.reduce(stricter, first ?? needOf('undetermined', []))
}

/** Of equals the first one's source stands. */
const stricter = (a: Cited<NeedOfIsolation>, b: Cited<NeedOfIsolation>): Cited<NeedOfIsolation> =>
  WEAKNESS[b.value] < WEAKNESS[a.value] ? b : a

interface Drawn {
  sheets: PlannedSheet[]
  findings: IsolationFinding[]
  assumed: Assumption[]
  signs: NoteSigns
}

const NO_SIGNS = readNotes([])

const NOTHING: Drawn = { sheets: [], findings: [], assumed: [], signs: NO_SIGNS }

function drawSheets(request: PlanRequest, work: readonly PlanWork[]): Drawn {
  const { mouth, policy, choice } = request
  const signs = request.notes.length === 0 ? NO_SIGNS : readNotes(request.notes)
  const working = work.flatMap((one) => workingTeeth(one, request))
  const standing = working.filter(({ tooth }) => isThere(tooth, mouth))
  const context = { mouth, thirdMolars: policy.includeThirdMolar, wide: policy.widerEnd ?? false }
  const fields = joinFields(
    standing.map((one) => fieldOf(one, context)),
    mouth,
  )
  const plans = fields.map((field) => planSheet(field, { request, signs }))
  const sheets = plans.map(({ sheet }) => sheet)
  const findings = [
    ...judgeNamed(work, working, standing),
    ...plans.flatMap((plan) => plan.findings),
    ...judgeCharted(sheets, request),
    ...judgeBreathing(signs, request),
    ...judgeLatex(request),
  ].filter((finding) => !isAnswered(finding, request))
  return {
    sheets,
    findings: [...findings, ...judgeRefusals(sheets, request, signs)],
    assumed: [
      ...assume(request, { working, sheets }),
      ...plans.flatMap((plan) => plan.assumed),
      ...(choice.policy === null ? policiesUsed(sheets) : []),
    ],
    signs,
  }
}

/** A tooth nobody has charted, whose predecessor still stands in its place, is not taken as there. */
function isThere(tooth: Tooth, mouth: Mouth): boolean {
  if (!mouth.isStanding(tooth)) return false
  const predecessor = predecessorOf(tooth)
  return mouth.conditionsOf(tooth).length > 0 || predecessor === null || !mouth.isStanding(predecessor)
}

function workingTeeth(work: PlanWork, request: PlanRequest): WorkingTooth[] {
  const { kind } = work
  if (kind === 'undetermined') return []
  return work.teeth.map((tooth) => {
    const surfaces = work.surfaces[tooth] ?? []
    return { tooth, kind, surfaces, policy: policyFor({ work, tooth }, request) }
  })
}

/** A policy named for this visit is used as named; else the clinic's for this class of work. */
function policyFor({ work, tooth }: { work: PlanWork; tooth: Tooth }, request: PlanRequest): FieldPolicyId {
  if (request.choice.policy !== null) return request.choice.policy
  const fieldClass = fieldClassOf(work.kind, [tooth], work.surfaces)
  if (fieldClass !== null) return request.policy.field[fieldClass]
  return SILENT_POLICY[isAnterior(tooth) ? 'front' : 'back']
}

function judgeNamed(
  work: readonly PlanWork[],
  working: readonly WorkingTooth[],
  standing: readonly WorkingTooth[],
): IsolationFinding[] {
  const unnamed = work.flatMap(({ kind, teeth }): IsolationFinding[] =>
    teeth.length > 0 || kind === 'undetermined'
      ? []
      : [{ rule: 'field/no-tooth', level: 'ask', about: 'work', kind }],
  )
  const absent = working
    .filter((one) => !standing.includes(one))
    .map(
      ({ tooth }): IsolationFinding => ({
        rule: 'field/tooth-not-standing',
        level: 'ask',
        about: `tooth:${tooth}`,
        tooth,
      }),
    )
  return [...unnamed, ...absent]
}

/** Nobody has looked: a plan of several teeth stays a draft until they are counted. */
function judgeCharted(sheets: readonly PlannedSheet[], { mouth }: PlanRequest): IsolationFinding[] {
  if (mouth.charted) return []
  const teeth = sheets.filter(({ field }) => field.length > 1).flatMap(({ field }) => field)
  return teeth.length === 0 ? [] : [{ rule: 'mouth/not-charted', level: 'ask', about: 'mouth', teeth }]
}

const judgeBreathing = ({ breathing }: NoteSigns, { choice }: PlanRequest): IsolationFinding[] =>
  breathing === null || answerTo(choice.answers, { rule: 'breathing/choice', about: 'patient' }) !== null
    ? []
    : [{ rule: 'breathing/choice', level: 'ask', about: 'patient', why: breathing }]

const isLatexKnownNone = ({ latex }: PlanRequest): boolean => latex === 'none-known'
const latexOf = ({ latex }: PlanRequest): 'confirmed' | 'suspected' | 'not-known' =>
  latex === 'confirmed' || latex === 'suspected' ? latex : 'not-known'

/** Latex only where it was asked and none is known. */
const materialFor = (request: PlanRequest): SheetMaterial =>
  isLatexKnownNone(request) ? (request.choice.sheetMaterial ?? request.policy.sheetMaterial) : 'non-latex'

function judgeLatex(request: PlanRequest): IsolationFinding[] {
  if (isLatexKnownNone(request)) return []
  const latex = latexOf(request)
  if (request.choice.sheetMaterial === 'latex') {
    return [{ rule: 'sheet/latex-refused', level: 'stop', about: 'sheet', latex }]
  }
  const isTold = latex !== 'not-known' || request.policy.sheetMaterial === 'latex'
  return isTold ? [{ rule: 'sheet/made-non-latex', level: 'note', about: 'sheet', why: latex }] : []
}

/** A question that has its answer is closed; rules without a list are answered by what their command changes. */
const isAnswered = ({ rule, about, level }: IsolationFinding, { choice }: PlanRequest): boolean =>
  level === 'ask' && isAnsweredRule(rule) && answerTo(choice.answers, { rule, about }) !== null

const REFUSALS: readonly string[] = ['no-dam', 'defer']

/** An answer that rules the dam out asks for another way, or for another day. */
function judgeRefusals(
  sheets: readonly PlannedSheet[],
  { choice }: PlanRequest,
  { breathing }: NoteSigns,
): IsolationFinding[] {
  if (choice.answers.length === 0) return []
  const teeth = new Set(sheets.flatMap(({ field }) => field.map((tooth): string => `tooth:${tooth}`)))
  const isAbout = (about: string): boolean =>
    about === 'patient'
      ? breathing !== null
      : about === 'field' || about.startsWith('teeth:') || teeth.has(about)
  const refusal = choice.answers.find(
    ({ rule, about, answer }) =>
      isAnsweredRule(rule) &&
      REFUSALS.includes(answer) &&
      isAbout(about) &&
      answerTo(choice.answers, { rule, about }) === answer,
  )
  return refusal && sheets.length > 0
    ? [{ rule: 'alternative/needed', level: 'ask', about: 'plan', because: refusal.rule }]
    : []
}

/** With another way chosen the questions of the sheet fall away; those of the work stay. */
function judgeAlternative({ choice }: PlanRequest, findings: IsolationFinding[]): IsolationFinding[] {
  const kept = findings.filter(({ rule }) => rule === 'field/no-tooth' || rule === 'field/tooth-not-standing')
  const { alternative } = choice
  return alternative === null || alternative.reason.trim() !== ''
    ? kept
    : [...kept, { rule: 'alternative/no-reason', level: 'stop', about: 'plan', method: alternative.method }]
}

function assume(
  { mouth, latex, sheet }: PlanRequest,
  { working, sheets }: { working: readonly WorkingTooth[]; sheets: readonly PlannedSheet[] },
): Assumption[] {
  const assumed: Assumption[] = []
  if (sheets.length === 0) return assumed
  if (!mouth.charted) {
    const unseen = new Set(mouth.assumed)
    const teeth = sheets.flatMap(({ field }) => field).filter((tooth) => unseen.has(tooth))
    assumed.push({ kind: 'mouth-not-charted', teeth })
  }
  if (mouth.ageYears === null) assumed.push({ kind: 'age-unknown' })
  if (latex === 'not-asked' || latex === 'asked-unknown') assumed.push({ kind: 'latex-unknown' })
  for (const { tooth, surfaces, kind } of working) {
    const matters = !isEndodontic(kind) && !isSealant(kind) && kind !== 'in-office-bleaching'
    if (matters && surfaces.length === 0) assumed.push({ kind: 'surfaces-unknown', tooth })
  }
  const [first] = sheets
  if (sheet === null && first) {
    assumed.push({ kind: 'sheet-by-age', sheet: { widthMm: first.widthMm, heightMm: first.heightMm } })
  }
  return assumed
}

const policiesUsed = (sheets: readonly PlannedSheet[]): Assumption[] =>
  [...new Set(sheets.map(({ policy }) => policy))].map((policy) => ({ kind: 'policy-of-clinic', policy }))

function finish(
  request: PlanRequest,
  { sheets, findings, assumed, signs }: Drawn,
  { need, state, alternative }: Pick<IsolationPlan, 'need' | 'state' | 'alternative'>,
): IsolationPlan {
  const sheetMaterial = sheets.length > 0 ? materialFor(request) : null
  const agreed = makeAgreed(request, { alternative, need, sheets, sheetMaterial, state, findings })
  return {
    need,
    state,
    sheets,
    sheetMaterial,
    alternative,
    assumed,
    findings,
    cautions: listCautions({ request, signs, plan: { sheets, findings, state } }),
    agreed,
    version: `sha256:${digestOfText(JSON.stringify(agreed))}`,
  }
}

/**
 * Made in the order of its keys, so that its plain JSON is its canonical JSON (RFC 8785) and the digest is quick;
 * a test holds the two equal.
 */
function makeAgreed(
  { work }: PlanRequest,
  plan: Pick<IsolationPlan, 'alternative' | 'need' | 'sheets' | 'sheetMaterial' | 'state' | 'findings'>,
): Agreed {
  return {
    alternative: plan.alternative?.method ?? null,
    need: plan.need.value,
    open: openRules(plan.findings),
    policy: plan.sheets[0]?.policy ?? null,
    sheetMaterial: plan.sheetMaterial,
    sheets: plan.sheets.map(({ field, anchor, clamps, holes, slit }) => ({
      anchor,
      clamps: clamps.map(({ tooth, family, role }) => ({ family, role, tooth })),
      field,
      holes: holes.map(({ tooth, size }) => ({ size, tooth })),
      slit,
    })),
    state: plan.state,
    work: work.map(({ kind, teeth, surfaces }) => ({
      kind,
      surfaces: inKeyOrder(surfaces),
      teeth: [...teeth],
    })),
  }
}

const openRules = (findings: IsolationPlan['findings']): string[] => {
  const open = findings.filter(({ level }) => level !== 'note').map(({ rule }) => rule)
  return open.length < 2 ? open : [...new Set(open)].sort()
}

const inKeyOrder = (surfaces: PlanWork['surfaces']): Agreed['work'][number]['surfaces'] =>
  Object.fromEntries(
    Object.entries(surfaces)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([tooth, list]) => [tooth, [...list]]),
  )
