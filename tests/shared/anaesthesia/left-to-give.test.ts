import { describe, expect, test } from 'vitest'
import { solutionKey } from '#shared/anaesthesia/cartridge.ts'
import { leftToGive } from '#shared/anaesthesia/left-to-give.ts'
import { BLOCK } from '#tests/shared/readiness/chair.ts'

const ARTICAINE = { ...BLOCK, agent: 'articaine', milliPercent: 4000, technique: 'infiltration' } as const
const of = (dose: typeof BLOCK | typeof ARTICAINE, tenthsOfCartridge: number) => ({
  ...dose,
  tenthsOfCartridge,
})

// A block and an infiltration of another agent beside it: plain arithmetic (COMMON).
describe('what is left of a plan of several injections', () => {
  const planned = [of(BLOCK, 10), of(ARTICAINE, 5)]

  test('nothing given: all of it, in its order', () => expect(leftToGive(planned, [])).toEqual(planned))

  test('each is given for itself, in part or whole', () => {
    expect(leftToGive(planned, [of(BLOCK, 10)])).toEqual([of(ARTICAINE, 5)])
    expect(leftToGive(planned, [of(ARTICAINE, 2)])).toEqual([of(BLOCK, 10), of(ARTICAINE, 3)])
    expect(leftToGive(planned, [of(BLOCK, 10), of(ARTICAINE, 9)])).toEqual([])
  })

  test('another tooth, side or way is another injection; of the solution alone it is the same', () => {
    const elsewhere = [{ ...BLOCK, tooth: '45' as const }]
    expect(leftToGive(planned, elsewhere)).toEqual(planned)
    expect(leftToGive(planned, elsewhere, solutionKey)).toEqual([of(ARTICAINE, 5)])
  })

  test('two at one place are used up one after the other', () =>
    expect(leftToGive([of(BLOCK, 10), of(BLOCK, 10)], [of(BLOCK, 15)])).toEqual([of(BLOCK, 5)]))
})
