import { beforeAll, describe, expect, test } from 'vitest'
import { PAPERS } from '#server/exports/pen.ts'
import { CARD_CODE_MM, CARD_MM, makeTrayCard, type TrayCard, trayCardOf } from '#server/exports/tray-card.ts'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import type { StockClamp } from '#shared/isolation/isolation-facts.ts'
import type { TrayLine } from '#shared/trays/tray.ts'
import { scene, VISITED } from '#tests/shared/readiness/scene.ts'
import { prepareBarcodeReader } from '../../support/barcodes.ts'
import { type Box, readBack, readPicture } from '../../support/read-pdf.ts'

const ADDRESS = `https://clinic.example/trays/${VISITED}`
const lineOf = (world: World, position: number): TrayLine => ({
  ...must(world.tray[0], 'a tray'),
  id: `00000000-0000-4000-8000-0000000001${String(position).padStart(2, '0')}` as TrayLine['id'],
  trayId: must(world.tray[0], 'a tray').id,
  position,
  item: `item-${position}`,
  name: `thing ${position}`,
  count: 2,
  class: 'single-use',
  packKind: null,
  contents: {},
  countedBack: position === 1,
  packId: null,
  stockLineId: null,
  tick: null,
  fault: null,
  swapped: null,
  omitted:
    position === 3
      ? {
          reason: 'not today',
          by: must(world.member[0], 'someone').id,
          at: world.visit[0]?.since ?? (0 as never),
        }
      : null,
})
const laidOut = (lines: number, some: Partial<World> = {}): World => {
  const world = { ...scene(), ...some }
  return { ...world, trayLine: Array.from({ length: lines }, (_, at) => lineOf(world, at + 1)) }
}
const cardOf = (world: World): TrayCard => must(trayCardOf(world, VISITED, ADDRESS), 'a card')

describe('what stands on a tray’s card', () => {
  test('tooth in two notations and words, plan, holes and clamp, lines but for what is left out', () => {
    const card = cardOf(laidOut(4))
    expect([card.teeth, card.other]).toEqual(['46', 'Univ 30'])
    expect(card.words).toContain('lower right first molar')
    expect(card.plan.join(' | ')).toMatch(
      /^Plan 1 \| Expose 46 · one hole \| Clamp 46: .* \| Sheet 150 × 150 mm/,
    )
    expect(card.lines.map(({ text }) => text)).toEqual(['2 × thing 1', '2 × thing 2', '2 × thing 4'])
    expect(card.lines[0]?.isCountedBack).toBe(true)
  })
  test('the clinic’s own clamp is named where one will do', () => {
    const [policy] = scene().policySet
    const own: StockClamp = {
      mark: 'Reed',
      family: 'MOLAR_W_PASSIVE',
      teeth: ['molar'],
      jaw: 'lower',
      metal: true,
      count: 1,
    }
    const world = laidOut(1, { policySet: [{ ...must(policy, 'picks'), clamps: [own] }] })
    expect(cardOf(world).plan.join()).toContain('take Reed')
  })
  test('no patient is named on it', () => {
    const patient = must(scene().patient[0], 'a patient')
    const text = JSON.stringify(cardOf(laidOut(3)))
    expect(text).not.toContain(patient.family)
    expect(text).not.toContain(patient.given)
  })
  // Case 34 (READ): the flag stands on the tray card. Case 36 (READ): blank is not "no".
  test.each([
    ['confirmed', /^LATEX ALLERGY: nothing with latex/],
    ['suspected', /^LATEX ALLERGY SUSPECTED/],
    ['not-asked', /^LATEX NOT ASKED: nothing with latex until/],
    ['asked-unknown', /^LATEX NOT KNOWN: nothing with latex until/],
    ['none-known', /^Latex: none known/],
  ] as const)('latex %s is said first', (latex, words) => {
    const record = must(scene().allergyRecord[0], 'a record')
    expect(cardOf(laidOut(1, { allergyRecord: [{ ...record, latex }] })).latex).toMatch(words)
  })
  test('without a record of allergies latex counts as not asked', () => {
    expect(cardOf(laidOut(1, { allergyRecord: [] })).latex).toMatch(/^LATEX NOT ASKED/)
  })
  test('an appointment without a tray has no card', () => {
    expect(trayCardOf({ ...scene(), tray: [] }, VISITED, ADDRESS)).toBeNull()
  })
})

describe.each(PAPERS)('the card as a PDF on %s, read back', (paper) => {
  beforeAll(prepareBarcodeReader)
  const size = CARD_MM[paper]

  test('is half a sheet; its code is read by another library and opens the tray', async () => {
    const [page] = await readBack(await makeTrayCard(cardOf(laidOut(3)), paper))
    expect([page?.widthMm, page?.heightMm].map((mm) => Math.round((mm ?? 0) * 10) / 10)).toEqual([
      size.width,
      size.height,
    ])
    const code = page?.boxes ?? []
    const left = size.width - 8 - CARD_CODE_MM
    const moved: Box[] = code.map((box) => ({ ...box, x: box.x - left, y: box.y - 8 }))
    expect(await readPicture(moved)).toBe(ADDRESS)
  })

  test('a long name goes on in the next row, its words all there', async () => {
    const world = laidOut(1)
    const name =
      'winged molar clamp, passive jaws, for the tooth that holds the sheet, and a spare one of the same form beside it'
    const long = { ...world, trayLine: world.trayLine.map((each) => ({ ...each, name })) }
    const [page] = await readBack(await makeTrayCard(cardOf(long), paper))
    const words = (page?.texts ?? []).map((each) => each.words).join(' ')
    expect(words).toContain('winged molar clamp')
    expect(words).toContain('beside it (count back)')
  })

  test('every word lies on its page, and a long tray goes on to a second', async () => {
    const pages = await readBack(await makeTrayCard(cardOf(laidOut(90)), paper))
    expect(pages.length).toBeGreaterThan(1)
    const texts = pages.flatMap((page) => page.texts)
    for (const { x, y } of texts) {
      expect(x).toBeGreaterThanOrEqual(7.9)
      expect(x).toBeLessThan(size.width - 8)
      expect(y).toBeGreaterThan(0)
      expect(y).toBeLessThanOrEqual(size.height - 7.9)
    }
    expect(texts.filter(({ words }) => /^2 × thing/.test(words))).toHaveLength(89)
  })
})
