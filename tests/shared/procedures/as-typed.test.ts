import { describe, expect, test } from 'vitest'
import { recogniseWork, saysWork } from '#shared/procedures/recognise.ts'
import { PHRASES } from '#tests/shared/procedures/phrases.ts'

describe('work as it is typed', () => {
  const all = Object.entries(PHRASES).flatMap(([kind, texts]) => texts.map((text) => [text, kind] as const))
  test.each(all)('“%s”: %s', (text, kind) => expect(recogniseWork(text, 'iso').kind).toBe(kind))
})

describe('a word beside the work that no rule knows', () => {
  test.each(['comp 36', 'RCT 36', 'fissure sealants 16 26', 'ext 38', 'GIC 75', 'crown prep 16'])(
    '[work/undetermined] makes “%s” unsure, before and behind it',
    (work) => {
      expect(recogniseWork(work, 'iso').kind).not.toBe('undetermined')
      for (const word of ['zorbed', 'unhappy with', 'awaiting', 'DNA', 'flare up'])
        expect(recogniseWork(`${word} ${work}`, 'iso').kind).toBe('undetermined')
      for (const word of ['zorbed', 'stained', 'awaiting letter', 'warranty'])
        expect(recogniseWork(`${work} ${word}`, 'iso').kind).toBe('undetermined')
    },
  )
  test('but for a name, what lies behind a comma, and what it is done with', () => {
    for (const text of ['Ada Lind RCT 36', 'RCT 36, zorbed', 'zorbed: RCT 36', 'RCT 36 with Dr Lind'])
      expect(recogniseWork(text, 'iso').kind).toBe('root-canal')
  })
})

test('a text that speaks of work, be it today’s or not, is no name', () => {
  expect(['Lind, RCT', 'check filling', 'no sealant today'].map(saysWork)).toEqual([true, true, true])
  expect(['Ada Lind', 'Lind, Ada'].map(saysWork)).toEqual([false, false])
})
