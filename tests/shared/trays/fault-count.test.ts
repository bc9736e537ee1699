import fc from 'fast-check'
import { expect, it } from 'vitest'
import type { Day } from '#shared/base/moment.ts'
import { countFaults } from '#shared/trays/fault-count.ts'

const found = (of: string, why: string, day: string) => ({ of, why, day: day as Day })

it('case 68: faults are counted by week and kind of kit, the latest week first, the most frequent on top', () => {
  expect(
    countFaults([
      found('composite-set', 'debris on opening', '2026-11-24'),
      found('bonding-agent', 'expired', '2026-11-29'),
      found('composite-set', 'debris on opening', '2026-11-23'),
      // The Sunday before belongs to the week before.
      found('composite-set', 'debris on opening', '2026-11-22'),
    ]),
  ).toEqual([
    { monday: '2026-11-23', of: 'composite-set', why: 'debris on opening', count: 2 },
    { monday: '2026-11-23', of: 'bonding-agent', why: 'expired', count: 1 },
    { monday: '2026-11-16', of: 'composite-set', why: 'debris on opening', count: 1 },
  ])
})

it('none is lost and none counted twice', () => {
  const one = fc.record({
    of: fc.constantFrom('a', 'b'),
    why: fc.constantFrom('torn', 'wet'),
    day: fc.constantFrom('2026-11-22', '2026-11-23', '2026-12-01').map((day) => day as Day),
  })
  fc.assert(
    fc.property(fc.array(one), (all) => {
      expect(countFaults(all).reduce((sum, { count }) => sum + count, 0)).toBe(all.length)
    }),
    { numRuns: 200 },
  )
})
