import { describe, expect, test } from 'vitest'
import { ACTORS, CHECKS, GATES } from '#shared/base/rule.ts'
import { LAPSE_CAUSES } from '#shared/isolation/isolation-facts.ts'
import { PLANK_STATES, READINESS_STATES } from '#shared/readiness/board-types.ts'
import { VISIT_STAGES } from '#shared/schedule/appointment.ts'
import { LAPSE_WORDS } from '#shared/words/en/readiness.ts'
import {
  ACTOR_WORDS,
  CHECK_WORDS,
  GATE_WORDS,
  STAGE_WORDS,
  STATE_WORDS,
  sayState,
} from '#shared/words/en/states.ts'
import { filesUnder, textOf } from './tree.ts'

/**
 * What the product never says of a patient or a plan (the caution of the design: it checks a plan against a
 * source; it never says safe, approved or recommended dose).
 */
const FORBIDDEN = [
  { words: 'safe', pattern: /(?<![-\w])safe(?![-\w])/i },
  { words: 'safely', pattern: /\bsafely\b/i },
  { words: 'recommended dose', pattern: /recommended dose/i },
  { words: 'approved', pattern: /\bapproved\b/i },
] as const

/** Text that a person reads: string literals and JSX text, without comments, class names and imports. */
function spokenIn(path: string): string[] {
  const text = textOf(path)
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/^\s*\/\/.*$/gm, '')
    .replace(/^\s*(import|export)\b[^\n]*from\s+'[^']*'/gm, '')
  const literals = [...text.matchAll(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g)].map(
    ([each]) => each,
  )
  const jsx = path.endsWith('.tsx')
    ? [...text.matchAll(/>([^<>{}]*[A-Za-z][^<>{}]*)</g)].map(([each]) => each)
    : []
  return [...literals, ...jsx].filter((each) => /\s/.test(each.trim()))
}

const SPOKEN = [
  ...filesUnder('shared/words'),
  ...filesUnder('app'),
  ...filesUnder('server/command-line'),
  ...filesUnder('server/imports'),
  ...filesUnder('server/exports'),
]

describe('words', () => {
  test.each(FORBIDDEN)('nothing a person reads says “$words”', ({ pattern }) => {
    const said = SPOKEN.flatMap((path) =>
      spokenIn(path)
        .filter((each) => pattern.test(each))
        .map((each) => `${path}: ${each}`),
    )
    expect(said).toEqual([])
  })

  test('there is text to look at, so the above can fail', () => {
    expect(SPOKEN.flatMap(spokenIn).length).toBeGreaterThan(100)
    expect(FORBIDDEN[0].pattern.test('this plan is safe.')).toBe(true)
    expect(FORBIDDEN[0].pattern.test('a latex-safe room')).toBe(false)
  })

  test('every state, plank, gate, stage, actor and lapse has a word', () => {
    expect(PLANK_STATES.filter((state) => !STATE_WORDS[state])).toEqual([])
    expect(CHECKS.filter((check) => !CHECK_WORDS[check])).toEqual([])
    expect(GATES.filter((gate) => !GATE_WORDS[gate])).toEqual([])
    expect(VISIT_STAGES.filter((stage) => !STAGE_WORDS[stage])).toEqual([])
    expect(ACTORS.filter((actor) => !ACTOR_WORDS[actor])).toEqual([])
    expect(LAPSE_CAUSES.filter((cause) => !LAPSE_WORDS[cause])).toEqual([])
  })

  test('no two states share a word, and Ready says for which gate', () => {
    const words = READINESS_STATES.map((state) => sayState(state, 'seat'))
    expect(new Set(words).size).toBe(READINESS_STATES.length)
    expect(GATES.map((gate) => sayState('ready', gate))).toEqual([
      'Ready to seat',
      'Ready to inject',
      'Ready to clamp',
      'Ready to start',
      'Ready to leave',
    ])
  })
})
