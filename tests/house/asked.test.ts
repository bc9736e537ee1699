import { describe, expect, test } from 'vitest'
import { COMMANDS } from '#shared/commands.ts'
import { filesUnder, textOf } from './tree.ts'

/** What happened is named there, nothing is asked for. */
const NAMED_ONLY = new Set(['app/_ui/step-words.ts'])

const SOURCES = ['app', 'server']
  .flatMap((folder) => filesUnder(folder))
  .filter((path) => !NAMED_ONLY.has(path))
  .map(textOf)
  .join('\n')

const isAskedFor = (kind: string): boolean => SOURCES.includes(`'${kind}'`) || SOURCES.includes(`"${kind}"`)

describe('what can be done can be reached', () => {
  test('every command is asked for by a screen, a route or a job', () => {
    expect(Object.keys(COMMANDS).filter((kind) => !isAskedFor(kind))).toEqual([])
  })
  test('a command that nothing asks for is found', () => {
    expect(isAskedFor('nobody.asks')).toBe(false)
  })
})
