import { describe, expect, test } from 'vitest'
import { isNotThere, touchCondition } from '#app/_marks/mouth-chart-marks.ts'
import { CHART, CHART_PLACES, CHART_ROWS, outlineOf, stepTo } from '#app/_marks/mouth-chart-places.ts'
import { must } from '#shared/base/assert.ts'
import { TOOTH_CONDITIONS } from '#shared/teeth/mouth-chart.ts'
import { archOf, dentitionOf, mirrorOf, sideOf, TEETH, type Tooth } from '#shared/teeth/tooth.ts'

const placeOf = (tooth: Tooth) => must(CHART_PLACES.get(tooth), `${tooth} has a place`)
/** In the chart's units, which are pixels at its full width: 9 mm on a tablet of 160 px an inch. */
const TOUCH = 9 * 6.3

describe('where the teeth stand on the chart', () => {
  test('all 52 have a place inside it', () => {
    expect(CHART_PLACES.size).toBe(TEETH.length)
    for (const tooth of TEETH) {
      const { x, y } = placeOf(tooth)
      expect(x).toBeGreaterThan(0)
      expect(x).toBeLessThan(CHART.width)
      expect(y).toBeGreaterThan(0)
      expect(y).toBeLessThan(CHART.height)
    }
  })
  test('as seen facing the patient: the right side on the viewer’s left, the upper jaw above', () => {
    for (const tooth of TEETH) {
      expect(placeOf(tooth).x < CHART.width / 2, tooth).toBe(sideOf(tooth) === 'right')
      expect(placeOf(tooth).y < CHART.height / 2, tooth).toBe(archOf(tooth) === 'upper')
    }
  })
  test('law: the mirrored tooth stands mirrored', () => {
    for (const tooth of TEETH) {
      expect(placeOf(mirrorOf(tooth)).x).toBeCloseTo(CHART.width - placeOf(tooth).x, 0)
      expect(placeOf(mirrorOf(tooth)).y).toBeCloseTo(placeOf(tooth).y, 0)
    }
  })
  test('law: no two teeth are nearer than a gloved fingertip is wide', () => {
    for (const a of TEETH) {
      for (const b of TEETH) {
        if (a >= b) continue
        const apart = Math.hypot(placeOf(a).x - placeOf(b).x, placeOf(a).y - placeOf(b).y)
        expect(apart, `${a} ${b}`).toBeGreaterThan(TOUCH * 0.85)
      }
    }
  })
  test('primary and permanent teeth of a place never share an outline', () => {
    const outlines = (dentition: string) =>
      new Set(TEETH.filter((tooth) => dentitionOf(tooth) === dentition).map(outlineOf))
    for (const outline of outlines('primary')) expect(outlines('permanent')).not.toContain(outline)
  })
})

describe('the chart by keyboard', () => {
  const step = (tooth: Tooth, key: Parameters<typeof stepTo>[1]) => stepTo(tooth, key, CHART_ROWS)
  test('left and right walk the row, over the midline too', () => {
    expect(step('46', 'ArrowRight')).toBe('45')
    expect(step('41', 'ArrowRight')).toBe('31')
    expect(step('36', 'ArrowRight')).toBe('37')
    expect(step('46', 'ArrowLeft')).toBe('47')
  })
  test('at the end of a row they stay', () => {
    expect(step('18', 'ArrowLeft')).toBe('18')
    expect(step('38', 'ArrowRight')).toBe('38')
  })
  test('Home and End go to the last teeth of the row', () => {
    expect(step('46', 'Home')).toBe('48')
    expect(step('83', 'End')).toBe('75')
  })
  test('down and up go to the next row on the same side of the mouth', () => {
    for (const tooth of TEETH) {
      expect(sideOf(step(tooth, 'ArrowDown')), tooth).toBe(sideOf(tooth))
      expect(sideOf(step(tooth, 'ArrowUp')), tooth).toBe(sideOf(tooth))
    }
    expect(step('11', 'ArrowDown')).toBe('51')
    expect(step('48', 'ArrowDown')).toBe('48')
  })
  test('hidden primary teeth are stepped over', () => {
    const permanent = CHART_ROWS.filter((row) => row.every((tooth) => dentitionOf(tooth) === 'permanent'))
    expect(stepTo('16', 'ArrowDown', permanent)).toBe('46')
  })
  test('law: every tooth can be reached from every other by keys alone', () => {
    const reached = new Set<Tooth>(['11'])
    for (const tooth of reached) {
      for (const key of ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown'] as const)
        reached.add(step(tooth, key))
    }
    expect(reached.size).toBe(52)
  })
})

describe('what a touch makes of an entry', () => {
  test('on, and off again', () => {
    expect(touchCondition([], 'mobile')).toEqual(['mobile'])
    expect(touchCondition(['mobile'], 'mobile')).toEqual([])
  })
  test('several stand together', () => {
    expect(touchCondition(['ceramic-crown'], 'abutment')).toEqual(['ceramic-crown', 'abutment'])
  })
  test('[mouth/contradicts-itself] law: no two touches make an entry that the command would refuse', () => {
    for (const first of TOOTH_CONDITIONS) {
      for (const second of TOOTH_CONDITIONS) {
        const entry = touchCondition(touchCondition([], first), second)
        expect(isNotThere(entry) && entry.length > 1, `${first} then ${second}`).toBe(false)
      }
    }
  })
})
