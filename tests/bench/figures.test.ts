import { describe, expect, test } from 'vitest'
import { atLeast, atLeastTimes, atMost, atMostTimes, p50, p95, percentile } from './figures.ts'

// Source: nearest-rank percentile, NIST/SEMATECH e-Handbook 7.2.6.2 names it among the definitions; MEMORY.
// The five-number example is the usual one of that definition: 15, 20, 35, 40, 50; COMMON.
describe('percentiles by nearest rank', () => {
  test.each([
    [0.05, 15],
    [0.3, 20],
    [0.4, 20],
    [0.5, 35],
    [1, 50],
  ])('of 15, 20, 35, 40, 50 the share %d gives %d', (share, expected) => {
    expect(percentile([50, 15, 40, 20, 35], share)).toBe(expected)
  })

  test('of a hundred samples p95 leaves five above it, and the samples stay in their order', () => {
    const samples = Array.from({ length: 100 }, (_, index) => 100 - index)
    expect(p95(samples)).toBe(95)
    expect(p50(samples)).toBe(50)
    expect(samples[0]).toBe(100)
  })

  test('of one sample every share is that sample; of none there is no figure', () => {
    expect([p50([7]), p95([7])]).toEqual([7, 7])
    expect(p50([])).toBeNaN()
  })
})

describe('a row is reached or not', () => {
  const of = { figure: 'f', unit: 'ms', ours: 30 }
  test('at the limit it is reached, past it not', () => {
    expect(atMost(of, 30).reached).toBe(true)
    expect(atMost(of, 29.9).reached).toBe(false)
    expect(atLeast(of, 30).reached).toBe(true)
    expect(atLeast(of, 31).reached).toBe(false)
  })

  test('a ratio is ours by the reference', () => {
    expect(atMostTimes({ ...of, reference: 20 }, 1.5)).toMatchObject({ ratio: 1.5, reached: true })
    expect(atMostTimes({ ...of, reference: 10 }, 2)).toMatchObject({ ratio: 3, reached: false })
    expect(atLeastTimes({ ...of, reference: 60 }, 0.5)).toMatchObject({ ratio: 0.5, reached: true })
    expect(atLeastTimes({ ...of, reference: 90 }, 0.5).reached).toBe(false)
  })

  test('what could not be measured is never reached', () => {
    expect(atMost({ ...of, ours: Number.NaN }, 30).reached).toBe(false)
    expect(atMostTimes({ ...of, ours: Number.NaN, reference: 1 }, 2).reached).toBe(false)
    expect(atLeastTimes({ ...of, ours: 1, reference: Number.NaN }, 0).reached).toBe(false)
  })
})
