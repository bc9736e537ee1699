import { describe, expect, test } from 'vitest'
import { parseDay } from '#shared/base/moment.ts'
import { judgeClampSites } from '#shared/isolation/past.ts'
import type { ClampSite, GumState } from '#shared/teeth/mouth-chart.ts'
import { at, DENTIST } from '#tests/shared/readiness/scene.ts'

const site = (gum: GumState): ClampSite => ({
  gum,
  day: parseDay('2026-11-10') as ClampSite['day'],
  by: DENTIST.id,
  at: at(0),
})

/** Cervenka, J Endod 2023: the gum is looked at after removal (READ). */
describe('[anchor/gum-before] what an earlier clamp left behind', () => {
  test('[anchor/gum-before] is told where a clamp is to sit again, with its day', () => {
    expect(judgeClampSites({ 46: site('injured') }, ['46'])).toMatchObject([
      { rule: 'anchor/gum-before', level: 'note', tooth: '46', gum: 'injured', day: '2026-11-10' },
    ])
  })

  test.each([
    ['sound', 0],
    ['marked', 1],
    ['injured', 1],
  ] as const)('a gum left %s gives %i notes', (gum, notes) => {
    expect(judgeClampSites({ 46: site(gum) }, ['46'])).toHaveLength(notes)
  })

  test('nothing is told of another tooth, nor where no clamp ever sat', () => {
    expect(judgeClampSites({ 46: site('injured') }, ['36', '47'])).toEqual([])
    expect(judgeClampSites(null, ['46'])).toEqual([])
  })
})
