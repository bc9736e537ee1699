import fc from 'fast-check'
import loadHighs from 'highs'
import { beforeAll, describe, expect, it } from 'vitest'
import { addMinutes, type Instant, instant, MINUTE } from '#shared/base/moment.ts'
import { type ForecastRequest, forecastSets, type SetNeed, setsNeeded } from '#shared/sterility/forecast.ts'

const minute = (at: number): Instant => instant(at * MINUTE)
const need = fc.record({
  start: fc.integer({ min: 0, max: 240 }),
  minutes: fc.integer({ min: 5, max: 90 }),
  sets: fc.integer({ min: 1, max: 2 }),
})
const day = fc.record({
  needs: fc
    .array(need, { maxLength: 9 })
    .map((all) =>
      all.map(({ start, ...rest }, index): SetNeed => ({ id: `${index}`, start: minute(start), ...rest })),
    ),
  sets: fc.nat(5),
  turnaroundMinutes: fc.integer({ min: 0, max: 90 }),
  returning: fc.array(fc.nat(120).map(minute), { maxLength: 2 }),
})

const FOUND: ForecastRequest = {
  needs: [
    { id: '0', start: minute(7), minutes: 5, sets: 2 },
    { id: '1', start: minute(7), minutes: 5, sets: 1 },
  ],
  sets: 1,
  turnaroundMinutes: 0,
  returning: [minute(8)],
}

/** Walks the day minute by minute with a shelf of numbered sets: another way to the same answer. */
function simulate({ needs, sets, turnaroundMinutes, returning }: ForecastRequest) {
  if (turnaroundMinutes === null) throw new Error('the simulation knows a steriliser that serves')
  const shelf: (number | null)[] = Array.from({ length: sets }, () => null)
  for (const back of returning) shelf.push(back)
  const short: { id: string; at: number; by: number }[] = []
  const order = [...needs].sort((a, b) => a.start - b.start || (a.id < b.id ? -1 : 1))
  const last = Math.max(0, ...needs.map(({ start }) => start / MINUTE))
  for (let now = 0; now <= last; now++) {
    for (let at = 0; at < shelf.length; at++) {
      const back = shelf[at]
      if (back !== null && back !== undefined && back <= now * MINUTE) shelf[at] = null
    }
    for (const each of order.filter(({ start }) => start === now * MINUTE)) {
      const free = shelf.flatMap((back, at) => (back === null ? [at] : []))
      if (free.length < each.sets) short.push({ id: each.id, at: each.start, by: each.sets - free.length })
      else
        for (const at of free.slice(0, each.sets))
          shelf[at] = addMinutes(each.start, each.minutes + turnaroundMinutes)
    }
  }
  return short
}

describe('the forecast of sets', () => {
  it('equals a minute-by-minute simulation', () => {
    fc.assert(
      fc.property(day, (request) => {
        const { shortages, first, covered } = forecastSets(request)
        const walked = simulate(request)
        expect(shortages.map(({ id, at, short }) => ({ id, at, by: short }))).toEqual(walked)
        expect(first?.id ?? null).toBe(walked[0]?.id ?? null)
        expect(covered).toBe(request.needs.length - walked.length)
      }),
      { numRuns: 1000 },
    )
  })
  it('names the earliest start that mends the first shortage and leaves nobody else short, minute by minute', () => {
    fc.assert(
      fc.property(day, (request) => {
        const { first, shortages } = forecastSets(request)
        if (first === null) return
        const known = new Set(shortages.map(({ id }) => id))
        const mends = (start: Instant): boolean => {
          const needs = request.needs.map((each) => (each.id === first.id ? { ...each, start } : each))
          return simulate({ ...request, needs }).every(({ id }) => id !== first.id && known.has(id))
        }
        const last = Math.max(
          first.at,
          ...request.returning,
          ...request.needs.map(({ start, minutes }) =>
            addMinutes(start, minutes + (request.turnaroundMinutes ?? 0)),
          ),
        )
        let walked: Instant | null = null
        for (let at = addMinutes(first.at, 1); at <= last && walked === null; at = addMinutes(at, 1)) {
          if (mends(at)) walked = at
        }
        expect(first.back).toBe(walked)
      }),
      // The example was found: another at the very minute takes the set that the first one cannot use alone.
      { numRuns: 500, examples: [[FOUND]] },
    )
  })
  it('interval law: with the sets needed nothing is short, with one fewer something is', () => {
    fc.assert(
      fc.property(day, ({ needs, turnaroundMinutes }) => {
        const needed = setsNeeded(needs, turnaroundMinutes)
        const request = { needs, turnaroundMinutes, returning: [] }
        expect(forecastSets({ ...request, sets: needed }).shortages).toEqual([])
        if (needed > 0) expect(forecastSets({ ...request, sets: needed - 1 }).first).not.toBeNull()
      }),
      { numRuns: 500 },
    )
  })
  it('one set more never brings the first shortage forward', () => {
    fc.assert(
      fc.property(day, (request) => {
        const fewer = forecastSets(request).first?.at ?? Number.POSITIVE_INFINITY
        const more =
          forecastSets({ ...request, sets: request.sets + 1 }).first?.at ?? Number.POSITIVE_INFINITY
        expect(more).toBeGreaterThanOrEqual(fewer)
      }),
      { numRuns: 500 },
    )
  })
  it('so many sets more and nobody is short, with one fewer somebody is', () => {
    fc.assert(
      fc.property(day, (request) => {
        const order = forecastSets(request).mends.find((mend) => mend.kind === 'order')
        expect(order === undefined).toBe(forecastSets(request).first === null)
        if (order?.kind !== 'order') return
        const withMore = (more: number) => simulate({ ...request, sets: request.sets + more })
        expect(withMore(order.sets)).toEqual([])
        expect(withMore(order.sets - 1)).not.toEqual([])
      }),
      { numRuns: 500 },
    )
  })
  it('with the steriliser down the shelf covers the next so many: a set once used is gone', () => {
    fc.assert(
      fc.property(day, ({ needs, sets }) => {
        const down = forecastSets({ needs, sets, turnaroundMinutes: null, returning: [] })
        const order = [...needs].sort((a, b) => a.start - b.start || (a.id < b.id ? -1 : 1))
        const takenBy = (index: number) => order.slice(0, index + 1).reduce((sum, each) => sum + each.sets, 0)
        const until = order.findIndex((_, index) => takenBy(index) > sets)
        expect(down.coversNext).toBe(until < 0 ? needs.length : until)
        expect(down.shortages.every(({ back }) => back === null)).toBe(true)
        expect(down.mends.some(({ kind }) => kind === 'move' || kind === 'sooner')).toBe(false)
        expect(down.needed).toBe(needs.reduce((sum, each) => sum + each.sets, 0))
      }),
      { numRuns: 500 },
    )
  })
  it('in service or not, it covers all before the first that goes short', () => {
    fc.assert(
      fc.property(day, (request) => {
        const [first] = simulate(request)
        const order = [...request.needs].sort((a, b) => a.start - b.start || (a.id < b.id ? -1 : 1))
        const until = first ? order.findIndex(({ id }) => id === first.id) : order.length
        expect(forecastSets(request).coversNext).toBe(until)
      }),
      { numRuns: 500 },
    )
  })
})

describe('against a MILP solver', () => {
  type Highs = Awaited<ReturnType<typeof loadHighs>>
  let highs: Highs
  beforeAll(async () => {
    highs = await loadHighs()
  })

  /** The fewest sets with which each appointment has its own, solved as an assignment of numbered sets. */
  function fewestSets(needs: readonly SetNeed[], turnaroundMinutes: number): number {
    const most = needs.reduce((sum, { sets }) => sum + sets, 0)
    if (most === 0) return 0
    const units = needs.flatMap((each) => Array.from({ length: each.sets }, () => each))
    const x = (unit: number, set: number) => `x_${unit}_${set}`
    const sets = Array.from({ length: most }, (_, set) => set)
    const rows = units.map((_, unit) => `u${unit}: ${sets.map((set) => x(unit, set)).join(' + ')} = 1`)
    units.forEach((a, i) => {
      units.forEach((b, j) => {
        if (j <= i) return
        const [first, second] = a.start <= b.start ? [a, b] : [b, a]
        const overlaps = addMinutes(first.start, first.minutes + turnaroundMinutes) > second.start
        if (!overlaps) return
        for (const set of sets) rows.push(`o${i}_${j}_${set}: ${x(i, set)} + ${x(j, set)} <= 1`)
      })
      for (const set of sets) rows.push(`y${i}_${set}: ${x(i, set)} - used_${set} <= 0`)
    })
    const binaries = [
      ...units.flatMap((_, unit) => sets.map((set) => x(unit, set))),
      ...sets.map((set) => `used_${set}`),
    ]
    const model = `Minimize\n obj: ${sets.map((set) => `used_${set}`).join(' + ')}\nSubject To\n ${rows.join('\n ')}\nBinary\n ${binaries.join(' ')}\nEnd`
    const solved = highs.solve(model)
    expect(solved.Status).toBe('Optimal')
    return Math.round(solved.ObjectiveValue)
  }

  it('the sets needed, and the first appointment that cannot be served, are the solver’s own', () => {
    const small = fc.record({
      needs: fc
        .array(
          need.map((each) => ({ ...each, sets: 1 })),
          { maxLength: 5 },
        )
        .map((all) =>
          all.map(
            ({ start, ...rest }, index): SetNeed => ({ id: `${index}`, start: minute(start), ...rest }),
          ),
        ),
      sets: fc.integer({ min: 0, max: 3 }),
      turnaroundMinutes: fc.integer({ min: 0, max: 90 }),
    })
    fc.assert(
      fc.property(small, ({ needs, sets, turnaroundMinutes }) => {
        expect(setsNeeded(needs, turnaroundMinutes)).toBe(fewestSets(needs, turnaroundMinutes))
        const order = [...needs].sort((a, b) => a.start - b.start || (a.id < b.id ? -1 : 1))
        const served = order.findIndex(
          (_, index) => fewestSets(order.slice(0, index + 1), turnaroundMinutes) > sets,
        )
        const { first } = forecastSets({ needs, sets, turnaroundMinutes, returning: [] })
        expect(first?.id ?? null).toBe(served < 0 ? null : (order[served]?.id ?? null))
      }),
      { numRuns: 500 },
    )
  }, 120_000)
})
