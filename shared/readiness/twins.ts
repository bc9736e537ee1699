import type { Finding } from '../finding.ts'

/**
 * Questions of the planner that the booked work, or a step of the visit, asks as well, and by which rules. One of
 * the two is enough to read; both shut the same gate and are answered by the same commands.
 */
const TWINS: Readonly<Record<string, readonly string[]>> = {
  'mouth/not-charted': ['plan/uncharted'],
  'field/no-tooth': [
    'work/no-tooth',
    'tooth/ambiguous',
    'tooth/words-contradict',
    'tooth/sources-disagree',
    'tooth/referral-missing',
  ],
  'field/tooth-not-standing': ['tooth/not-standing', 'tooth/predecessor-present'],
}

/** Whether a question of the planner is already asked among what was judged. */
export const isAskedAlready = (rule: string, judged: readonly Finding[]): boolean =>
  judged.some((finding) => TWINS[rule]?.includes(finding.rule))

/** Without the line that counts a plan's open questions where each of them stands there itself. */
export const withoutTwins = (judged: readonly Finding[]): Finding[] =>
  judged.filter(
    (finding) =>
      finding.rule !== 'plan/question' ||
      finding.open.length === 0 ||
      !finding.open.every((rule) => isAskedAlready(rule, judged)),
  )
