import type { Agent } from './anaesthetic.ts'
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
import { isBarred, isPlausibleWeight, YOUNGEST } from './gates.ts'
import { findLimit, INFANT_MONTHS, mostAt, reduceForInfant, vasoconstrictorAt } from './limits.ts'
import { agentGiven, vasoconstrictorGiven } from './solution.ts'

/** Checks entered doses against one named profile. It never proposes a dose, and what is not known is not checked. */
export function checkDoses(question: DoseQuestion): DoseAnswer {
  const blocked = findUnknowns(question)
  const { profile, weight, ageYears } = question
  if (profile === null || weight === null || ageYears === null) return cannotCheck(question, blocked)
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

const about = (agent: string): string => `agent:${agent}`

const cannotCheck = (question: DoseQuestion, findings: DoseFinding[]): DoseAnswer => ({
  result: 'cannot-check',
  perAgent: [],
  combinedBy: question.combine,
  usedPermille: null,
  findings,
})

/** Over is over, whatever else is not known; anything asked leaves it unchecked. */
const resultOf = (findings: readonly DoseFinding[]): DoseAnswer['result'] => {
  if (findings.some(({ level }) => level === 'stop')) return 'over-profile'
  return findings.some(({ level }) => level === 'ask') ? 'cannot-check' : 'within-profile'
}

function findUnknowns({ profile, weight, ageYears }: DoseQuestion): DoseFinding[] {
  const found: DoseFinding[] = []
  if (profile === null) found.push({ rule: 'dose/no-profile', level: 'ask', about: 'profile' })
  if (ageYears === null) found.push({ rule: 'dose/age-unknown', level: 'ask', about: 'patient' })
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
  }
}

const distinctBy = <T>(some: readonly T[], key: (each: T) => string): T[] => [
  ...new Map(some.map((each) => [key(each), each])).values(),
]

/** Gates of age and of what the patient has. */
function judgeAgent(agent: Agent, { ageYears, ageMonths, bars, doses, profile }: Known): DoseFinding[] {
  const youngest = YOUNGEST[agent]
  const found: DoseFinding[] = []
  if (youngest && ageYears < youngest.years) {
    found.push({ rule: 'dose/age-gate', level: 'ask', about: about(agent), agent, years: youngest.years })
  }
  // In the first year the AAPD's reduction hangs on the months.
  if (profile === 'AAPD-2023' && ageYears === 0 && ageMonths === null) {
    found.push({ rule: 'dose/age-unknown', level: 'ask', about: about(agent) })
  }
  const barred = bars.filter((bar) => doses.some((dose) => dose.agent === agent && isBarred(dose, bar)))
  return [
    ...found,
    ...barred.map(
      (bar): DoseFinding => ({ rule: 'dose/barred', level: 'ask', about: about(agent), agent, bar }),
    ),
  ]
}

function judgeRow(dose: CheckedDose, { profile, ageYears }: Known): DoseFinding[] {
  const { agent } = dose
  const level = 'ask'
  const isUncounted = isCounted(dose.vasoconstrictor) && dose.ratio === null
  if (!(dose.cartridge > 0) || isUncounted)
    return [{ rule: 'dose/cartridge-unknown', level, about: about(agent), agent }]
  const row = findLimit(profile, dose, ageYears)
  if (row === 'no-row') return [{ rule: 'dose/no-row', level, about: about(agent), agent, profile }]
  if (row === 'not-for-age')
    return [{ rule: 'dose/not-for-age', level, about: about(agent), agent, profile, ageYears }]
  if (row === 'not-confirmed')
    return [{ rule: 'dose/row-not-confirmed', level, about: about(agent), agent, profile }]
  return []
}

function judgeOver(row: AgentRow, { profile }: Known): DoseFinding[] {
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
  const epinephrine = sum(row.doses.map(vasoconstrictorGiven))
  if (row.epinephrine !== null && epinephrine > row.epinephrine) {
    const which = 'epinephrine'
    found.push({
      rule: 'dose/over-vasoconstrictor',
      level: 'stop',
      about: about(agent),
      which,
      used: epinephrine,
      limit: row.epinephrine,
    })
  }
  return found
}
