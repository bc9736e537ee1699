import { expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { PlacingPick } from '#shared/isolation/isolation-facts.ts'
import { DEFAULT_PLACING } from '#shared/isolation/placing-policy.ts'
import { listPlacement, stepsFor } from '#shared/isolation/steps.ts'
import { sayStep } from '#shared/words/en/plan.ts'
import { say } from '#shared/words/en.ts'
import { type Asked, planned } from './asking.ts'

/** Kirk p 673 (READ): a field of primary teeth is held by the second primary molar; 36 and 46 are not needed. */
test.each([
  [
    '46 is out already',
    { age: 8, mouth: { 85: ['present'], 84: ['present'], 46: ['present'] } },
    '46 behind 85',
  ],
  [
    '46 is not out yet',
    { age: 5, mouth: { 85: ['present'], 46: ['unerupted'] } },
    'No tooth stands behind 85',
  ],
  ['46 is lost', { age: 9, mouth: { 85: ['present'], 46: ['missing'] } }, 'No tooth stands behind 85'],
] satisfies [string, Asked, string][])(
  '[anchor/working-tooth] only the teeth needed, %s: why the treated 85 is clamped is said as it is',
  (_, asked, says) => {
    const plan = planned({ ...asked, teeth: '85 MO', policy: 'PAED_MIN' })
    const [note] = plan.findings.filter(({ rule }) => rule === 'anchor/working-tooth')
    expect(note && say(note)).toContain(says)
  },
)

/** Case 39 (READ; the cord MEMORY): where latex is an allergy the elastic cord gives way to floss. */
test.each([
  ['none-known', 'cord', 'far-end-first'],
  ['not-asked', 'cord', 'far-end-first'],
  ['suspected', 'ligature', 'far-end-tied'],
  ['confirmed', 'ligature', 'far-end-tied'],
] as const)('latex %s: the far end is held by %s', (latex, hold, step) => {
  const plan = planned({ teeth: '46 MO', policy: 'LIMITED_1D2M', rest: { latex } })
  const sheet = must(plan.sheets[0], 'a sheet')
  expect(sheet.ends).toContainEqual({ tooth: '44', hold })
  expect(listPlacement(stepsFor(plan, sheet)).map(({ name }) => name)).toContain(step)
})

/**
 * The three sequences: one carry Dental Update pt 2, Carrotte 2004 (READ); clamp first Scolavino & Paolone (READ); rubber
 * first Carrotte 2004 (READ). Wings carry the sheet; a wingless clamp cannot.
 */
test.each([
  ['together', '46 MO', 'LIMITED_1D2M', 'together'],
  ['clamp-first', '46 MO', 'LIMITED_1D2M', 'clamp-first'],
  ['dam-first', '46 MO', 'LIMITED_1D2M', 'dam-first'],
  ['together', '45 MO', 'STURDEVANT_WIDE', 'clamp-first'],
  ['dam-first', '45 MO', 'STURDEVANT_WIDE', 'dam-first'],
  ['clamp-first', '12 M', 'ASSIST_ANT', 'dam-first'],
] as const)('a clinic that places %s: %s under %s goes %s', (sequence, teeth, policy, goes) => {
  const mouth = teeth === '45 MO' ? ({ 46: ['missing'], 47: ['missing'] } satisfies Asked['mouth']) : {}
  const plan = planned({ teeth, policy, mouth, clinic: { placing: { ...DEFAULT_PLACING.value, sequence } } })
  expect(plan.sheets[0]?.sequence).toBe(goes)
})

/** Everyday grade: medium Romero 2019, heavy restatement of Sturdevant (READ); a retractor takes heavy in either. */
test.each([
  ['medium', '46 MO', 'medium'],
  ['heavy', '46 MO', 'heavy'],
  ['medium', '23 V', 'heavy'],
] as const)('everyday %s: %s takes a %s sheet, and what is agreed to stays', (grade, teeth, takes) => {
  const clinic = { placing: { ...DEFAULT_PLACING.value, grade } }
  const plan = planned({ teeth, clinic })
  expect(plan.sheets[0]?.grade).toBe(takes)
  expect(plan.version).toBe(planned({ teeth }).version)
})

/** Floss of 30 cm round the bow (Hottel Q&A, READ) or 50 cm through the holes alone (Carrotte, READ). */
test('the step says how long the floss is and which way it goes', () => {
  const said = (some: Partial<PlacingPick>): string => {
    const plan = planned({ teeth: '46 MO', clinic: { placing: { ...DEFAULT_PLACING.value, ...some } } })
    const sheet = must(plan.sheets[0], 'a sheet')
    return listPlacement(stepsFor(plan, sheet))
      .map((step) => sayStep(step))
      .join(' ')
  }
  expect(said({})).toContain(
    'Double the floss, 30 cm, and tie it through both holes of the clamp, round its bow.',
  )
  expect(said({ flossCm: 50, flossPath: 'holes-only' })).toContain(
    'Double the floss, 50 cm, and tie it through both holes of the clamp.',
  )
})

/**
 * Lower front teeth hang from the clamp and are raised until 40 mm are kept (COMMON), or two inches, as assisting books
 * have it (MEMORY, low).
 */
test.each([
  [null, 40],
  [40, 40],
  [50, 50],
] as const)('lower front teeth keep what the clinic picked to the bottom edge: %s', (lowerFrontMm, kept) => {
  const placing = { ...DEFAULT_PLACING.value, lowerFrontMm }
  const least = (['31 M', '41 D', '32 M'] as const).map((teeth) => {
    const sheet = must(planned({ teeth, policy: 'ASSIST_ANT', clinic: { placing } }).sheets[0], 'a sheet')
    return sheet.heightMm - Math.max(...sheet.holes.map(({ yMm }) => yMm))
  })
  for (const left of least) expect(left).toBeGreaterThanOrEqual(kept - 0.05)
})
test('a clinic that picked before there was a choice keeps 40 mm', () => {
  const { lowerFrontMm: _, ...older } = DEFAULT_PLACING.value
  const asked = { teeth: '41 D', policy: 'ASSIST_ANT' } as const
  const before = planned({ ...asked, clinic: { placing: older as PlacingPick } })
  expect(before.sheets).toEqual(planned(asked).sheets.map((sheet) => ({ ...sheet, placing: older })))
})
