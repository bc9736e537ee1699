import { z } from 'zod'
import { AGENTS, LIMIT_PROFILE_IDS, VASOCONSTRICTORS } from '#shared/anaesthesia/anaesthetic.ts'
import { checkDoses } from '#shared/anaesthesia/dose.ts'
import { type CheckedDose, COMBINE_RULES, type DoseAnswer } from '#shared/anaesthesia/dose-question.ts'
import type { DoseFinding } from '#shared/anaesthesia/findings.ts'
import { BARS } from '#shared/anaesthesia/gates.ts'
import { CEILING_STATES } from '#shared/anaesthesia/limits.ts'
import { floorDivide, type Grams, grams, gramsOfPounds, microlitres } from '#shared/base/amount.ts'
import { say } from '#shared/words/en.ts'
import { badUsage, type VerbAnswer } from './answer.ts'
import { explain } from './teeth.ts'

const dose = z.object({
  agent: z.enum(AGENTS),
  percent: z.number().positive().max(25),
  vasoconstrictor: z.enum(VASOCONSTRICTORS).nullish(),
  ratio: z.int().min(1000).max(1_000_000).nullish(),
  cartridgeMl: z.number().positive().max(10).nullish(),
  cartridges: z.number().min(0).max(100).default(0),
  by: z.string().nullish(),
  at: z.string().nullish(),
})
const request = z.object({
  profile: z.enum(LIMIT_PROFILE_IDS).nullish(),
  weight: z
    .object({ value: z.number().positive().max(1000), unit: z.enum(['kg', 'lb']).nullish() })
    .nullish(),
  ageYears: z.int().min(0).max(130).nullish(),
  ageMonths: z.int().min(0).max(1600).nullish(),
  vasoconstrictorCeiling: z.enum(CEILING_STATES).default('unknown'),
  /** Left out: nobody has said. */
  contraindications: z.array(z.enum(BARS)).nullish(),
  combine: z.enum(COMBINE_RULES).default('lower-of-two'),
  doses: z.array(dose).max(50).default([]),
})
type Request = z.infer<typeof request>

/** `dose`: an entered plan against one named profile. Reference only; the clinician decides. */
export function answerDose(input: unknown): VerbAnswer {
  const parsed = request.safeParse(input)
  if (!parsed.success) return badUsage(explain(parsed.error))
  const asked = parsed.data
  const answer = checkDoses({
    profile: asked.profile ?? null,
    weight: weightOf(asked),
    ageYears: asked.ageYears ?? (asked.ageMonths == null ? null : Math.floor(asked.ageMonths / 12)),
    ageMonths: asked.ageMonths ?? null,
    ceiling: asked.vasoconstrictorCeiling,
    bars: asked.contraindications ?? [],
    unsaid: asked.contraindications == null ? BARS : [],
    combine: asked.combine,
    doses: asked.doses.map(doseOf),
  })
  return { body: bodyOf({ ...answer, findings: nameUnit(answer.findings, asked) }), exit: 0 }
}

/** Beyond the last place that any scale shows, so that 20.4 kg is 20,400 g and not a gram less. */
const SLIP = 1e-6

function weightOf({ weight }: Request): Grams | null {
  if (!weight?.unit) return null
  return weight.unit === 'lb' ? gramsOfPounds(weight.value) : grams(Math.floor(weight.value * 1000 + SLIP))
}

function doseOf(entered: Request['doses'][number]): CheckedDose {
  const vasoconstrictor = entered.vasoconstrictor ?? 'none'
  return {
    agent: entered.agent,
    milliPercent: Math.round(entered.percent * 1000),
    vasoconstrictor,
    ratio: vasoconstrictor === 'none' ? null : (entered.ratio ?? null),
    cartridge: microlitres(Math.round((entered.cartridgeMl ?? 0) * 1000)),
    tenthsOfCartridge: Math.ceil(entered.cartridges * 10 - SLIP),
    by: entered.by ?? null,
  }
}

/** A number without a unit is asked for its unit, not for a weight. */
function nameUnit(findings: readonly DoseFinding[], { weight }: Request): DoseFinding[] {
  if (!weight || weight.unit) return [...findings]
  const unit: DoseFinding = {
    rule: 'dose/weight-unit',
    level: 'ask',
    about: 'patient',
    value: String(weight.value),
    gramsIfPounds: gramsOfPounds(weight.value),
  }
  return findings.map((finding) => (finding.rule === 'dose/weight-missing' ? unit : finding))
}

const bodyOf = ({ result, perAgent, combinedBy, usedPermille, findings }: DoseAnswer) => ({
  result,
  perAgent: perAgent.map((agent) => ({
    agent: agent.agent,
    limitMicrograms: floorDivide(agent.limit, 1000),
    wholeCartridges: agent.wholeCartridges,
    tenthsOfCartridges: agent.tenthsOfCartridges,
    limitedBy: agent.limitedBy,
    leftMicrograms: floorDivide(agent.left, 1000),
    leftTenthsOfCartridge: agent.leftTenthsOfCartridge,
    by: agent.by,
  })),
  combinedBy,
  usedPercent: usedPermille === null ? null : usedPermille / 10,
  findings: findings.map((finding) => ({ ...finding, text: say(finding) })),
})
