import { grams } from '../base/amount.ts'
import { CHILD_BELOW } from '../people/child.ts'
import { type Agent, isOnlyTopical, type LimitProfileId } from './anaesthetic.ts'
import { labelOf } from './cartridge.ts'
import {
  type AgentRow,
  type CheckedDose,
  type DoseAnswer,
  type DoseQuestion,
  giversOf,
  type Known,
  sum,
} from './dose-question.ts'
import { ceilingPermille, combine, finish, isCounted, judgeCeilings } from './dose-together.ts'
import type { DoseFinding } from './findings.ts'
import { HEAVIEST_GRAMS, isBarred, isPlausibleWeight, mustBeSaid, YOUNGEST } from './gates.ts'
import { findLimit, formulaAt, INFANT_MONTHS, mostAt, reduceForInfant, vasoconstrictorAt } from './limits.ts'
import { agentGiven, isSold, vasoconstrictorGiven } from './solution.ts'

/** Checks entered doses against one named profile. It never proposes a dose, and what is not known is not checked. */
export function checkDoses(question: DoseQuestion): DoseAnswer {
  const blocked = findUnknowns(question)
  const { profile, weight, ageYears } = question
  if (profile === null || ageYears === null || isContradictory(question)) {
    const bars = agentsOf(question.doses).flatMap((agent) => judgeBars(agent, question))
    return cannotCheck(question, [...blocked, ...bars])
  }
  if (weight === null) {
    return cannotCheck(question, [...blocked, ...openForAnyone({ ...question, profile, ageYears })])
  }
  const known: Known = { ...question, profile, weight, ageYears }
  const rows = agentsOf(question.doses).map((agent) => rowOf(agent, known))
  const refused = [...blocked, ...rows.flatMap((row) => ('refused' in row ? row.refused : []))]
  const checked = rows.flatMap((row) => ('refused' in row ? [] : [row]))
  const ceiling = judgeCeilings(known)
  const combined = combine(checked, known)
  const findings = [
    ...refused,
    ...combined.findings,
    ...ceiling,
    ...checked.flatMap((row) => judgeOver(row, known)),
    ...judgeUnsaid(known),
  ]
  return {
    result: resultOf(findings),
    perAgent: checked.map((row) => finish(row, { rows: checked, question: known, rule: combined.rule })),
    combinedBy: combined.rule,
    usedPermille:
      refused.length > 0 && checked.length === 0
        ? null
        : Math.max(combined.permille, ceilingPermille(known, checked)),
    findings,
  }
}

/**
 * Without a weight: what is open whatever it is. What bars an agent or leaves it without a row hangs on no weight;
 * and what is over even for the heaviest, by its cap or its vasoconstrictor, is over for every grown-up.
 */
function openForAnyone(
  question: DoseQuestion & { profile: LimitProfileId; ageYears: number },
): DoseFinding[] {
  const isGrown = question.ageYears >= CHILD_BELOW
  const { findings } = checkDoses({ ...question, weight: grams(HEAVIEST_GRAMS) })
  return findings.filter(
    ({ rule, level }) =>
      rule !== 'dose/weight-implausible' && (level === 'ask' || (level === 'stop' && isGrown)),
  )
}

const about = (agent: string): string => `agent:${agent}`

const cannotCheck = (question: DoseQuestion, findings: DoseFinding[]): DoseAnswer => ({
  result: findings.some(({ level }) => level === 'stop') ? 'over-profile' : 'cannot-check',
  perAgent: [],
  combinedBy: question.combine,
  usedPermille: null,
  findings,
})

/** Over is over, whatever else is not known; anything asked leaves it unchecked. */
export const resultOf = (findings: readonly DoseFinding[]): DoseAnswer['result'] => {
  if (findings.some(({ level }) => level === 'stop')) return 'over-profile'
  return findings.some(({ level }) => level === 'ask') ? 'cannot-check' : 'within-profile'
}

/** Years and months of one age that cannot both be true. */
const isContradictory = ({ ageYears, ageMonths }: DoseQuestion): boolean =>
  ageYears !== null && ageMonths !== null && Math.floor(ageMonths / 12) !== ageYears

function findUnknowns(question: DoseQuestion): DoseFinding[] {
  const { profile, weight, ageYears, ageMonths } = question
  const found: DoseFinding[] = []
  if (profile === null) found.push({ rule: 'dose/no-profile', level: 'ask', about: 'profile' })
  if (ageYears === null) found.push({ rule: 'dose/age-unknown', level: 'ask', about: 'patient' })
  if (ageYears !== null && ageMonths !== null && isContradictory(question)) {
    const said = { years: ageYears, months: ageMonths }
    found.push({ rule: 'dose/age-contradicts', level: 'ask', about: 'patient', ...said })
  }
  if (weight === null) found.push({ rule: 'dose/weight-missing', level: 'ask', about: 'patient' })
  else if (ageYears !== null && !isPlausibleWeight(weight, ageYears)) {
    found.push({ rule: 'dose/weight-implausible', level: 'ask', about: 'patient', grams: weight, ageYears })
  }
  return found
}

const agentsOf = (doses: readonly CheckedDose[]): Agent[] => [...new Set(doses.map(({ agent }) => agent))]

/** An agent with its maximum, or why there is none to check against. */
function rowOf(agent: Agent, known: Known): AgentRow | { refused: DoseFinding[] } {
  const doses = known.doses.filter((dose) => dose.agent === agent)
  const refused = [...judgeAgent(agent, known), ...doses.flatMap((dose) => judgeRow(dose, known))]
  const [first] = refused
  const solution = doses.at(-1)
  if (first || !solution) return { refused: distinctBy(refused, ({ rule }) => rule) }
  const most = doses
    .map((dose) => findLimit(known.profile, dose, known.ageYears))
    .flatMap((row) => (typeof row === 'string' ? [] : [{ row, ...mostAt(row, known.weight) }]))
    .sort((a, b) => a.amount - b.amount)[0]
  if (!most) return { refused: [] }
  const isInfant =
    known.profile === 'AAPD-2023' && known.ageMonths !== null && known.ageMonths < INFANT_MONTHS
  return {
    agent,
    doses,
    solution,
    limit: isInfant ? reduceForInfant(most.amount) : most.amount,
    limitedBy: most.limitedBy,
    used: sum(doses.map(agentGiven)),
    epinephrine: vasoconstrictorAt(most.row, known.weight),
    formula: formulaAt(most.row, known.weight),
  }
}

const distinctBy = <T>(some: readonly T[], key: (each: T) => string): T[] => [
  ...new Map(some.map((each) => [key(each), each])).values(),
]

/** Gates of age and of what the patient has. */
function judgeAgent(agent: Agent, known: Known): DoseFinding[] {
  const { ageYears, ageMonths, profile } = known
  const youngest = YOUNGEST[agent]
  const found: DoseFinding[] = []
  if (youngest && ageYears < youngest.years) {
    found.push({ rule: 'dose/age-gate', level: 'ask', about: about(agent), agent, years: youngest.years })
  }
  // In the first year the AAPD's reduction hangs on the months.
  if (profile === 'AAPD-2023' && ageYears === 0 && ageMonths === null) {
    found.push({ rule: 'dose/age-unknown', level: 'ask', about: about(agent) })
  }
  return [...found, ...judgeBars(agent, known)]
}

/** What the patient has that bars an agent, and what nobody has said: neither hangs on weight or age. */
function judgeBars(agent: Agent, { bars, unsaid, doses }: DoseQuestion): DoseFinding[] {
  const barred = bars.filter((bar) => doses.some((dose) => dose.agent === agent && isBarred(dose, bar)))
  const open = unsaid.filter((bar) => mustBeSaid(agent, bar))
  const level = 'ask'
  return [
    ...barred.map((bar): DoseFinding => ({ rule: 'dose/barred', level, about: about(agent), agent, bar })),
    ...open.map((bar): DoseFinding => ({ rule: 'dose/bar-unknown', level, about: about(agent), agent, bar })),
  ]
}

/** What bars a cartridge and nobody has said: told, since it is asked of the patient and not worked out. */
function judgeUnsaid({ unsaid, doses }: Known): DoseFinding[] {
  const bars = unsaid.filter((bar) =>
    doses.some((dose) => isBarred(dose, bar) && !mustBeSaid(dose.agent, bar)),
  )
  return bars.length === 0 ? [] : [{ rule: 'dose/bar-unsaid', level: 'note', about: 'patient', bars }]
}

function judgeRow(dose: CheckedDose, { profile, ageYears }: Known): DoseFinding[] {
  const { agent } = dose
  const level = 'ask'
  // No profile prints an ester, of whatever strength, and none says how it counts beside the amides.
  if (isOnlyTopical(agent)) return [{ rule: 'dose/no-row', level, about: about(agent), agent, profile }]
  const isUncounted = isCounted(dose.vasoconstrictor) && dose.ratio === null
  if (!(dose.cartridge > 0) || isUncounted)
    return [{ rule: 'dose/cartridge-unknown', level, about: about(agent), agent }]
  if (!isSold(dose))
    return [{ rule: 'dose/solution-unknown', level, about: about(agent), label: labelOf(dose) }]
  const row = findLimit(profile, dose, ageYears)
  if (row === 'no-row') return [{ rule: 'dose/no-row', level, about: about(agent), agent, profile }]
  if (row === 'not-for-age')
    return [{ rule: 'dose/not-for-age', level, about: about(agent), agent, profile, ageYears }]
  if (row === 'not-confirmed')
    return [{ rule: 'dose/row-not-confirmed', level, about: about(agent), agent, profile }]
  return []
}

function judgeOver(row: AgentRow, { profile, doses }: Known): DoseFinding[] {
  const { agent, used, limit } = row
  const found: DoseFinding[] = []
  if (used > limit) {
    found.push({
      rule: 'dose/over-maximum',
      level: 'stop',
      about: about(agent),
      agent,
      used,
      limit,
      profile,
      by: giversOf(row.doses),
    })
  }
  if (used <= limit && row.formula !== null && used > row.formula) {
    const than = { used, limit: row.formula, profile }
    found.push({ rule: 'dose/over-formula', level: 'ask', about: about(agent), agent, ...than })
  }
  return [...found, ...judgeLabelCeiling(row, doses)]
}

/** The epinephrine that the agent's own label allows; whether that of other agents counts in, the label leaves open. */
function judgeLabelCeiling(row: AgentRow, doses: readonly CheckedDose[]): DoseFinding[] {
  const { agent } = row
  const epinephrine = sum(row.doses.map(vasoconstrictorGiven))
  if (row.epinephrine !== null && epinephrine > row.epinephrine) {
    const than = { which: 'epinephrine', used: epinephrine, limit: row.epinephrine }
    return [{ rule: 'dose/over-vasoconstrictor', level: 'stop', about: about(agent), ...than }]
  }
  const all = sum(doses.filter((dose) => dose.vasoconstrictor === 'epinephrine').map(vasoconstrictorGiven))
  if (row.epinephrine === null || all <= row.epinephrine) return []
  const than = { agent, used: all, limit: row.epinephrine }
  return [{ rule: 'dose/label-ceiling-mixed', level: 'ask', about: about(agent), ...than }]
}
