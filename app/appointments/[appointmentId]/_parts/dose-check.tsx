import type { Seen } from '#app/_live/seen.ts'
import { Why } from '#app/_ui/why.tsx'
import type { AgentCheck, DoseAnswer } from '#shared/anaesthesia/dose-question.ts'
import { checkSight, judgeDose, profileOf } from '#shared/anaesthesia/judge-dose.ts'
import { LIMIT_PROFILES } from '#shared/anaesthesia/limits.ts'
import { doseSightOf } from '#shared/readiness/judges.ts'
import { sayDown, sayUp } from '#shared/words/en/anaesthesia.ts'
import { say } from '#shared/words/en.ts'
import styles from './plan.module.css'

/** All of the day, given and planned, against one named profile; limits rounded down, what is used rounded up. */
export function DoseCheck({ seen }: { seen: Seen }) {
  const sight = doseSightOf(seen.facts)
  const answer = checkSight(sight)
  const profile = profileOf(sight)
  if (answer === null) return null
  const why = answer.result === 'cannot-check' ? judgeDose(sight)[0] : undefined
  return (
    <div className={styles.act}>
      <p>
        <strong>
          {RESULT_WORDS[answer.result]}
          {profile === null ? '' : ` ${profile}`}
        </strong>
        {why === undefined ? '' : `: ${say(why)}`}
        {answer.usedPermille === null
          ? ''
          : `: ${Math.ceil(answer.usedPermille) / 10} % of it used or planned`}
      </p>
      <ul className={styles.findings}>
        {answer.perAgent.map((agent) => (
          <li key={agent.agent}>
            {agentWords(agent, seen)}
            {profile === null
              ? null
              : LIMIT_PROFILES[profile]
                  .filter((row) => row.agent === agent.agent)
                  .slice(0, 1)
                  .map(({ source }) => <Why key={source.where} rule={profile} source={source} />)}
          </li>
        ))}
      </ul>
      <p className={styles.aside}>Reference only: it checks what was entered. The dentist decides.</p>
    </div>
  )
}

const RESULT_WORDS: Record<DoseAnswer['result'], string> = {
  'within-profile': 'Within',
  'over-profile': 'Over',
  'cannot-check': 'Cannot check by',
}
const LIMITED_WORDS: Record<AgentCheck['limitedBy'], string> = {
  weight: 'by weight',
  cap: 'by its cap',
  vasoconstrictor: 'by the vasoconstrictor',
}

function agentWords(
  { agent, used, limit, limitedBy, leftTenthsOfCartridge, by }: AgentCheck,
  seen: Seen,
): string {
  const names = by.map((id) => seen.nameOf(id as Parameters<Seen['nameOf']>[0]))
  const givers = names.length === 0 ? '' : `, given by ${names.join(' and ')}`
  return `${agent}: ${sayUp(used)} of ${sayDown(limit)}, limited ${LIMITED_WORDS[limitedBy]}; ${leftTenthsOfCartridge / 10} of a cartridge left${givers}`
}
