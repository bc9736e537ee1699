import fc from 'fast-check'
import { expect, it } from 'vitest'
import { differOf } from '#shared/trays/kit-difference.ts'
import type { KitLine } from '#shared/trays/tray.ts'

const line = (item: string, more: Partial<KitLine> = {}): KitLine => ({
  item,
  name: item,
  count: 1,
  class: 'single-use',
  packKind: null,
  contents: { latex: 'free' },
  countedBack: false,
  ...more,
})

it('says what a dentist adds, leaves out and wants otherwise, and nothing of what is the same', () => {
  const clinics = [line('gloves'), line('floss', { count: 2 }), line('paper')]
  const own = [line('gloves'), line('floss', { count: 3 }), line('ring')]
  expect(differOf(own, clinics)).toEqual({ added: ['ring'], leftOut: ['paper'], otherwise: ['floss'] })
  expect(differOf(clinics, clinics)).toEqual({ added: [], leftOut: [], otherwise: [] })
})

it('the clinic’s list, less what is left out and with what is added, has the dentist’s own items', () => {
  const lists = fc
    .uniqueArray(fc.constantFrom('a', 'b', 'c', 'd', 'e'))
    .map((items) => items.map((item) => line(item)))
  fc.assert(
    fc.property(lists, lists, (own, clinics) => {
      const { added, leftOut } = differOf(own, clinics)
      const made = [...clinics.map(({ item }) => item).filter((item) => !leftOut.includes(item)), ...added]
      expect(made.sort()).toEqual(own.map(({ item }) => item).sort())
    }),
    { numRuns: 300 },
  )
})
