import { ceilDivide, type Nanograms, nanograms } from '../base/amount.ts'
import { CHILD_BELOW } from '../people/child.ts'
import type { Vasoconstrictor } from './anaesthetic.ts'
import {
  type AgentCheck,
  type AgentRow,
  type CheckedDose,
  type CombineRule,
  giversOf,
  type Known,
  sum,
} from './dose-question.ts'
import type { DoseFinding } from './findings.ts'
import { VASOCONSTRICTOR_CEILINGS } from './limits.ts'
import {
  agentPerCartridge,
  multiplyDivide,
  tenthsWithin,
  vasoconstrictorGiven,
  vasoconstrictorPerCartridge,
} from './solution.ts'

export const COUNTED = ['epinephrine', 'levonordefrin'] as const
type CountedVasoconstrictor = (typeof COUNTED)[number]
/** Counted by weight: felypressin is printed in units and has no ceiling here. */
export const isCounted = (which: Vasoconstrictor): which is CountedVasoconstrictor =>
  which === 'epinephrine' || which === 'levonordefrin'

/** How much of each vasoconstrictor's most is used, in tenths of a percent, rounded up; the greatest counts. */
export const ceilingPermille = (known: Known, rows: readonly AgentRow[]): number =>
  Math.max(
    0,
    ...COUNTED.map((which) => {
      const limit = ceilingFor(which, known)
      return limit === null ? 0 : ceilDivide(vasoconstrictorUsed(which, known.doses) * 1000, limit)
    }),
    ...rows.map(({ doses, epinephrine }) =>
      epinephrine === null ? 0 : ceilDivide(sum(doses.map(vasoconstrictorGiven)) * 1000, epinephrine),
    ),
  )

/** The most of a vasoconstrictor at this appointment, or null where no figure may be used. */
function ceilingFor(which: CountedVasoconstrictor, { ceiling, ageYears }: Known): Nanograms | null {
  if (ceiling === 'cardiac') return VASOCONSTRICTOR_CEILINGS[which].cardiac.value
  if (ceiling === 'unknown' || ageYears < CHILD_BELOW) return null
  return VASOCONSTRICTOR_CEILINGS[which].healthy.value
}

export const vasoconstrictorUsed = (
  which: CountedVasoconstrictor,
  doses: readonly CheckedDose[],
): Nanograms => sum(doses.filter((dose) => dose.vasoconstrictor === which).map(vasoconstrictorGiven))

export function judgeCeilings(known: Known): DoseFinding[] {
  return COUNTED.filter((which) => known.doses.some((dose) => dose.vasoconstrictor === which)).flatMap(
    (which): DoseFinding[] => {
      const limit = ceilingFor(which, known)
      const used = vasoconstrictorUsed(which, known.doses)
      if (limit !== null) {
        if (used <= limit) return []
        return [{ rule: 'dose/over-vasoconstrictor', level: 'stop', about: which, which, used, limit }]
      }
      return known.ageYears < CHILD_BELOW
        ? [{ rule: 'dose/no-child-ceiling', level: 'note', about: which, which }]
        : [{ rule: 'dose/ceiling-unknown', level: 'ask', about: which, which }]
    },
  )
}

interface Combined {
  rule: CombineRule
  permille: number
  findings: DoseFinding[]
}

/** Several agents count together. A long-acting one among them is for the dentist: the stricter rule would bar it. */
export function combine(rows: readonly AgentRow[], { combine: chosen, profile }: Known): Combined {
  const agents = rows.map(({ agent }) => agent)
  const hasLongActing = agents.length > 1 && agents.includes('bupivacaine')
  const rule = hasLongActing ? 'fractions' : chosen
  const shares = rule === 'fractions' ? sharesOf(rows) : shareOfLowest(rows)
  const permille = shares === null ? 0 : Number(ceilBig(shares.over * 1000n, shares.under))
  const findings: DoseFinding[] = []
  if (hasLongActing) {
    findings.push({ rule: 'dose/long-acting-mixed', level: 'ask', about: 'together', agents })
  }
  if (rows.length > 1 && shares !== null && shares.over > shares.under) {
    findings.push({
      rule: 'dose/over-maximum',
      level: 'stop',
      about: 'together',
      agent: 'together',
      used: sum(rows.map(({ used }) => used)),
      limit: Math.min(...rows.map(({ limit }) => limit)),
      profile,
      by: giversOf(rows.flatMap(({ doses }) => doses)),
    })
  }
  return { rule, permille, findings }
}

interface Share {
  over: bigint
  under: bigint
}
const ceilBig = (over: bigint, under: bigint): bigint => (over + under - 1n) / under

const shareOfLowest = (rows: readonly AgentRow[]): Share | null => {
  const lowest = Math.min(...rows.map(({ limit }) => limit))
  const used = sum(rows.map((row) => row.used))
  return rows.length === 0 || lowest === 0 ? null : { over: BigInt(used), under: BigInt(lowest) }
}

/** The exact sum of used ÷ maximum. */
const sharesOf = (rows: readonly AgentRow[]): Share | null =>
  rows.length === 0 || rows.some(({ limit }) => limit === 0)
    ? null
    : rows.reduce(
        (share: Share, { used, limit }) => ({
          over: share.over * BigInt(limit) + BigInt(used) * share.under,
          under: share.under * BigInt(limit),
        }),
        { over: 0n, under: 1n },
      )

interface Around {
  rows: readonly AgentRow[]
  question: Known
  rule: CombineRule
}

/** What one agent may come to, what is left of it, and what sets it. */
export function finish(row: AgentRow, around: Around): AgentCheck {
  const perCartridge = agentPerCartridge(row.solution)
  const byVasoconstrictor = limitByVasoconstrictor(row, around.question)
  const isBound = byVasoconstrictor !== null && byVasoconstrictor < row.limit
  const limit = isBound ? byVasoconstrictor : row.limit
  const left = leftOf(row, around)
  const tenths = tenthsWithin(limit, perCartridge)
  return {
    agent: row.agent,
    limit: nanograms(limit),
    used: row.used,
    left,
    wholeCartridges: Math.floor(tenths / 10),
    tenthsOfCartridges: tenths,
    leftTenthsOfCartridge: tenthsWithin(left, perCartridge),
    limitedBy: isBound ? 'vasoconstrictor' : row.limitedBy,
    by: giversOf(row.doses),
  }
}

/** The agent in as much solution as holds the vasoconstrictor allowed; null where nothing is allowed or counted. */
function limitByVasoconstrictor({ solution, epinephrine }: AgentRow, question: Known): number | null {
  const { vasoconstrictor } = solution
  if (!isCounted(vasoconstrictor)) return null
  return agentHolding(lowest(ceilingFor(vasoconstrictor, question), epinephrine), solution)
}

const lowest = (a: Nanograms | null, b: Nanograms | null): Nanograms | null =>
  a === null ? b : b === null ? a : a < b ? a : b

const agentHolding = (amount: number | null, solution: CheckedDose): number | null => {
  const perCartridge = vasoconstrictorPerCartridge(solution)
  if (amount === null || perCartridge === 0) return null
  return multiplyDivide(agentPerCartridge(solution), Math.max(0, amount), perCartridge)
}

function leftOf(row: AgentRow, { rows, question, rule }: Around): Nanograms {
  const own = row.limit - row.used
  const together = rows.length > 1 ? leftTogether(row, rows, rule) : own
  const { vasoconstrictor } = row.solution
  if (!isCounted(vasoconstrictor)) return nanograms(Math.max(0, Math.min(own, together)))
  const ceiling = ceilingFor(vasoconstrictor, question)
  const ofCeiling = ceiling === null ? null : ceiling - vasoconstrictorUsed(vasoconstrictor, question.doses)
  const ofRow = row.epinephrine === null ? null : row.epinephrine - sum(row.doses.map(vasoconstrictorGiven))
  const bounds = [ofCeiling, ofRow].map((amount) => agentHolding(amount, row.solution))
  const held = bounds.filter((amount) => amount !== null)
  return nanograms(Math.max(0, Math.min(own, together, ...held)))
}

function leftTogether(row: AgentRow, rows: readonly AgentRow[], rule: CombineRule): number {
  if (rule === 'lower-of-two') {
    return Math.min(...rows.map(({ limit }) => limit)) - sum(rows.map(({ used }) => used))
  }
  const shares = sharesOf(rows)
  if (shares === null || shares.over >= shares.under) return 0
  return Number(((shares.under - shares.over) * BigInt(row.limit)) / shares.under)
}
