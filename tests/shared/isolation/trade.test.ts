import { describe, expect, test } from 'vitest'
import { listPlacement, stepsFor } from '#shared/isolation/steps.ts'
import { sayStep } from '#shared/words/en/plan.ts'
import { clampsOf, fieldOf, holesOf, planned } from './asking.ts'

/** Check values of the trade: common practice, no source. */
describe('a filling of 46', () => {
  const plan = planned({ teeth: '46 MO', clinic: { anchorHole: 'class-plus-one' } })
  const [sheet] = plan.sheets
  const steps = sheet ? listPlacement(stepsFor(plan, sheet)) : []
  const names = steps.map(({ name }) => name)
  const said = steps.map((step) => sayStep(step)).join('\n')
  const wordsOf = (name: string): string =>
    steps
      .filter((step) => step.name === name)
      .map((step) => sayStep(step))
      .join()
  const isBefore = (a: string, b: string): boolean => said.indexOf(wordsOf(a)) < said.indexOf(wordsOf(b))

  test('the clamp is on 47, the tooth just behind, the field reaches the opposite canine: ten holes', () => {
    expect(fieldOf(plan)).toBe('47 46 45 44 43 42 41 31 32 33')
    expect(clampsOf(plan)).toBe('47 MOLAR_W_PASSIVE')
    expect(sheet?.holes).toHaveLength(10)
  })
  test('the largest hole is the clamped tooth’s', () => {
    expect(holesOf(plan).startsWith('47:5 46:4')).toBe(true)
  })
  test('each hole is cut clean through with no tag, proved by drawing the sheet over the punch', () => {
    expect(said).toMatch(/Draw the sheet over the punch: every hole cut clean through, no tag/)
  })
  test('floss is doubled and tied before the clamp nears the mouth, its tail under the frame on the clamp’s side', () => {
    expect(isBefore('tie-floss', 'try-clamp')).toBe(true)
    expect(said).toMatch(/Double the floss/)
    expect(said).toMatch(/Floss tail under the frame, on the clamp's side/)
  })
  test('lubricant is optional, on the tissue side', () => {
    expect(said).toMatch(/lubricant on the tissue side, if wanted/)
  })
  test('inner jaw first, then the cheek side, no gum caught, bow to the back', () => {
    expect(isBefore('inner-jaw-first', 'no-gum-caught')).toBe(true)
    expect(said).toMatch(/Inner jaw first, on the tongue side, then the cheek side/)
    expect(said).toMatch(/Bow to the back/)
  })
  test('the far end is steadied first, behind 33, then tooth by tooth, edges tucked in', () => {
    expect(said).toMatch(/Steady the far end first: floss behind 33, then elastic cord/)
    expect(isBefore('far-end-first', 'tooth-by-tooth')).toBe(true)
    expect(isBefore('tooth-by-tooth', 'tuck-edges')).toBe(true)
  })
  test('every contact is flossed without force', () => {
    expect(said).toMatch(/Floss every contact, without force/)
  })
  test('the patient is told it will feel tight and raises a hand if it pinches; more anaesthetic is the dentist’s', () => {
    expect(names[0]).toBe('tell-patient')
    expect(said).toMatch(/feel tight. Raise a hand if it pinches/)
    expect(said).toMatch(/tell the dentist: more anaesthetic is theirs to give/)
  })
})
