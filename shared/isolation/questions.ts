import type { IsolationQuestion } from './findings.ts'

/** What each question may be answered with. Those without a list here are answered by their own command. */
export const ANSWERS = {
  'field/policy-silent': ['as-drawn', 'no-dam'],
  'field/wire': ['slit', 'wire-off', 'no-dam'],
  'field/contact-closed': ['one-hole', 'slit', 'passes', 'no-dam'],
  'anchor/ceramic-crown': ['accept', 'move', 'no-dam'],
  'anchor/unsuitable': ['accept', 'no-clamp', 'no-dam'],
  'anchor/distal-of-last': ['extended-jaw', 'wingless-low', 'no-dam'],
  'anchor/broken-down': ['build-up-first', 'band', 'clamp-neighbour', 'no-dam'],
  'breathing/choice': ['fold-edge', 'trim-edge', 'defer', 'no-dam'],
} as const satisfies Partial<Record<IsolationQuestion['rule'], readonly string[]>>
export type AnsweredRule = keyof typeof ANSWERS

export const isAnsweredRule = (rule: string): rule is AnsweredRule => Object.hasOwn(ANSWERS, rule)
export const answersOf = (rule: AnsweredRule): readonly string[] => ANSWERS[rule]

/** A question's answer as a person gave it. */
export interface GivenAnswer {
  rule: string
  about: string
  answer: string
}

/** The last answer to a question, or null. */
export function answerTo(
  answers: readonly GivenAnswer[],
  question: { rule: AnsweredRule; about: string },
): string | null {
  const given = answers.findLast(({ rule, about }) => rule === question.rule && about === question.about)
  return given && answersOf(question.rule).includes(given.answer) ? given.answer : null
}
