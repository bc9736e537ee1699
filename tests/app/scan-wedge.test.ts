import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openWedge, WEDGE_GAP_MS, type WedgeKey } from '#app/_ui/scan-wedge.ts'
import { makePackCode } from '#shared/sterility/pack-code.ts'

/** Keys one after another, so many milliseconds apart, ended by one that a scanner is set to. */
function keysOf(
  text: string,
  { gap, from = 0, end = 'Enter' }: { gap: number; from?: number; end?: string },
): WedgeKey[] {
  return [...text, end].map((key, index) => ({ key, at: from + index * gap }))
}
const heard = (keys: readonly WedgeKey[]): string[] => {
  const hear = openWedge()
  return keys.flatMap((key) => hear(key) ?? [])
}
const code = fc.uuid().map(makePackCode)

describe('a hand scanner that plays keyboard', () => {
  it('is heard at any pace of a scanner, with Enter or Tab behind', () => {
    fc.assert(
      fc.property(
        code,
        fc.integer({ min: 0, max: WEDGE_GAP_MS }),
        fc.constantFrom('Enter', 'Tab'),
        (text, gap, end) => {
          expect(heard(keysOf(text, { gap, end }))).toEqual([text])
        },
      ),
    )
  })
  it('is told from fingers, whatever they type and however long', () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 30 }),
        fc.integer({ min: WEDGE_GAP_MS + 1, max: 900 }),
        (text, gap) => {
          expect(heard(keysOf(text, { gap }))).toEqual([])
        },
      ),
    )
  })
  it('two scans in a row are two, and what fingers typed just before belongs to neither', () => {
    fc.assert(
      fc.property(code, code, fc.string({ maxLength: 8 }), (first, second, typed) => {
        const fingers = keysOf(typed, { gap: 200, end: 'a' })
        const began = 200 * fingers.length + 500
        const scans = [
          ...keysOf(first, { gap: 8, from: began }),
          ...keysOf(second, { gap: 8, from: began + 700 }),
        ]
        expect(heard([...fingers, ...scans])).toEqual([first, second])
      }),
    )
  })
  it('keys that write nothing, such as Shift before a capital, do not cut a scan in two', () => {
    expect(
      heard(
        [...'AB3DE']
          .flatMap((key, index) => [
            { key: 'Shift', at: index * 10 },
            { key, at: index * 10 + 3 },
          ])
          .concat([
            { key: 'Q', at: 52 },
            { key: 'Enter', at: 58 },
          ]),
      ),
    ).toEqual(['AB3DEQ'])
  })
})
