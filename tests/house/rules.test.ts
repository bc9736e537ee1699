import { describe, expect, test } from 'vitest'
import { CHECKS, GATES, NEVER, type Rule } from '#shared/base/rule.ts'
import { COMMANDS } from '#shared/commands.ts'
import { WHY_NEVER } from '#shared/readiness/override.ts'
import { RULES } from '#shared/rules.ts'
import { SENTENCES } from '#shared/words/en.ts'
import { PLANK_SENTENCES } from '#shared/words/planks.ts'
import { filesUnder, textOf } from './tree.ts'

/** A row of an area's RULES.md, its code marks taken off. */
interface Row {
  file: string
  name: string
  level: string
  says: string
  desk: string
  next: string
  answeredBy: string[]
  policy: string
  source: string
}

const HEAD = ['rule', 'level', 'says', 'desk is told', 'next to act', 'answered by', 'policy key', 'source']
const NONE = new Set(['–', '—', '-', ''])

const cellsOf = (line: string): string[] =>
  line
    .trim()
    .replace(/^\||\|$/g, '')
    .split(/(?<!\\)\|/)
    .map((cell) => cell.replaceAll('`', '').trim())

/** The rows of the one table under the fixed heading. */
function rowsOf(file: string): Row[] {
  const lines = textOf(file).split('\n')
  const head = lines.findIndex((line) => `${cellsOf(line)}` === `${HEAD}`)
  if (head < 0) throw new Error(`${file} has no table headed ${HEAD.join(' | ')}`)
  const end = lines.findIndex((line, index) => index > head && !line.startsWith('|'))
  return lines.slice(head + 2, end < 0 ? undefined : end).map((line) => rowOf(file, cellsOf(line)))
}

function rowOf(file: string, cells: string[]): Row {
  const [name = '', level = '', says = '', desk = '', next = '', answered = '', policy = '', source = ''] =
    cells
  const answeredBy = NONE.has(answered) ? [] : answered.split(/,\s*/)
  return { file, name, level, says, desk, next, answeredBy, policy, source }
}

const FILES = filesUnder('shared', ['RULES.md'])
const ROWS = FILES.flatMap(rowsOf)
const rules = Object.entries(RULES) as [string, Rule][]
const ruleOf = (name: string): Rule | undefined => rules.find(([each]) => each === name)?.[1]
const faults = (isWrong: (row: Row, rule: Rule) => boolean): string[] =>
  ROWS.flatMap((row) => {
    const rule = ruleOf(row.name)
    return rule && isWrong(row, rule) ? [`${row.name} (${row.file})`] : []
  })

const wordsOf = (text: string): string[] => text.toLowerCase().match(/[a-z0-9]{3,}/g) ?? []
const namesSameWork = (row: string, where: string): boolean => {
  const named = new Set(wordsOf(row))
  return wordsOf(where).filter((each) => named.has(each)).length > 0
}

describe('a rule has one name everywhere', () => {
  test('every area opens with its RULES.md', () => {
    const areas = new Set(filesUnder('shared', ['/rules.ts', 'rules.ts']).map((path) => path.split('/')[1]))
    const missing = [...areas].filter(
      (area) => area?.endsWith('.ts') === false && !FILES.includes(`shared/${area}/RULES.md`),
    )
    expect(missing).toEqual([])
  })

  test('every rule has a row in one RULES.md, and every row a rule', () => {
    const named = ROWS.map(({ name }) => name)
    expect(rules.map(([name]) => name).filter((name) => !named.includes(name))).toEqual([])
    expect(named.filter((name) => ruleOf(name) === undefined)).toEqual([])
    expect(named.filter((name, index) => named.indexOf(name) !== index)).toEqual([])
  })

  test('every rule has its sentences, and every sentence a rule', () => {
    expect(Object.keys(SENTENCES).sort()).toEqual(rules.map(([name]) => name).sort())
  })

  test('what may lie on a plank is said where a board looks', () => {
    const onPlank = rules.filter(([name, { check }]) => check !== null || name === 'word/not-drawn')
    expect(onPlank.length).toBeGreaterThan(100)
    expect(onPlank.map(([name]) => name).filter((name) => !(name in PLANK_SENTENCES))).toEqual([])
  })

  test('every rule begins the title of at least one test', () => {
    const titles = filesUnder('tests', ['.test.ts', '.test.tsx', '.spec.ts']).map(textOf).join('\n')
    const told = new Set([...titles.matchAll(/\[([a-z0-9-]+\/[a-z0-9-]+)\]/g)].map(([, name]) => name))
    expect(rules.map(([name]) => name).filter((name) => !told.has(name))).toEqual([])
  })
})

describe('RULES.md says what the code does', () => {
  test('level', () => expect(faults((row, rule) => row.level !== rule.level)).toEqual([]))
  test('who is next to act', () => expect(faults((row, rule) => row.next !== rule.next)).toEqual([]))
  test('the commands that answer it', () => {
    const sorted = (names: readonly string[]) => `${[...names].sort()}`
    expect(faults((row, rule) => sorted(row.answeredBy) !== sorted(rule.answeredBy))).toEqual([])
  })
  test('the policy key', () =>
    expect(
      faults((row, rule) => (rule.policy === null ? !NONE.has(row.policy) : row.policy !== rule.policy)),
    ).toEqual([]))
  test('the source: the same work, which a row may name more briefly, and the same mark', () =>
    expect(
      faults(({ source }, { source: { where, mark } }) =>
        where === '' ? !/common/i.test(source) : !source.includes(mark) || !namesSameWork(source, where),
      ),
    ).toEqual([]))
  test('whether the desk is told anything', () =>
    expect(
      faults(({ name, desk }) => {
        const sentences = SENTENCES[name as keyof typeof SENTENCES]
        return (sentences?.desk === null) !== NONE.has(desk)
      }),
    ).toEqual([]))
  test('what is never passed over, and why', () => {
    const said = textOf('shared/readiness/RULES.md').split('## What is never passed over')[1] ?? ''
    const rows = said.split('\n').filter((line) => line.startsWith('|'))
    const marked = NEVER.map((kind) => [
      kind,
      WHY_NEVER[kind],
      rules.filter(([, { never }]) => never === kind).map(([name]) => name),
    ])
    expect(
      rows
        .slice(2)
        .map(cellsOf)
        .map(([kind, why, names = '']) => [kind, why, names.split(/,\s*/)]),
    ).toEqual(marked)
  })
  test('and has a sentence', () => expect(ROWS.filter(({ says }) => NONE.has(says))).toEqual([]))
})

describe('every rule can be answered', () => {
  const kinds = new Set(Object.keys(COMMANDS))

  test('a stop or an ask names a command that answers it', () => {
    expect(rules.filter(([, rule]) => rule.level !== 'note' && rule.answeredBy.length === 0)).toEqual([])
  })

  test('every command named exists', () => {
    const lost = rules.flatMap(([name, rule]) =>
      rule.answeredBy.filter((kind) => !kinds.has(kind)).map((kind) => `${name}: ${kind}`),
    )
    expect(lost).toEqual([])
  })

  test('a rule with a gate lies on a plank, so that it can be seen before it shuts', () => {
    const hidden = rules.filter(([, { check, gate }]) => gate !== null && check === null)
    expect(hidden.map(([name]) => name)).toEqual([])
    expect(rules.every(([, { check }]) => check === null || CHECKS.includes(check))).toBe(true)
    expect(rules.every(([, { gate }]) => gate === null || GATES.includes(gate))).toBe(true)
  })
})
