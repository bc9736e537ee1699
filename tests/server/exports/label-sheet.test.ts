import { PDFDocument, StandardFonts } from '@cantoo/pdf-lib'
import { beforeAll, describe, expect, it } from 'vitest'
import { LABEL_MM, makeLabelSheet, type SheetLabel } from '#server/exports/label-sheet.ts'
import { makePackCode } from '#shared/sterility/pack-code.ts'
import { prepareBarcodeReader } from '../../support/barcodes.ts'
import { type Box, type ReadSheet, readBack, readPicture } from '../../support/read-pdf.ts'

const A4 = { width: 210, height: 297 }

const labelOf = (at: number): SheetLabel => ({
  code: makePackCode(`00000000-0000-4000-8000-${at.toString(16).padStart(12, '0')}`),
  what: 'dam-set 3',
  steriliser: 'Steam 1',
  load: '2026-11-24/2',
  day: '2026-11-24',
})
const sheetOf = async (count: number): Promise<ReadSheet[]> =>
  readBack(
    await makeLabelSheet(
      Array.from({ length: count }, (_, at) => labelOf(at)),
      'Test clinic',
    ),
  )

/** Where label number `at` of a page lies: 70 × 37 mm, three across, eight down, half a millimetre above. */
const labelBox = (at: number): Box => ({
  x: (at % 3) * 70,
  y: 0.5 + Math.floor(at / 3) * 37,
  width: 70,
  height: 37,
})
const isInside = ({ x, y, width, height }: Box, of: Box): boolean =>
  x >= of.x && y >= of.y && x + width <= of.x + of.width && y + height <= of.y + of.height

describe('pack labels as a PDF, read back', () => {
  beforeAll(prepareBarcodeReader)
  it('the paper is A4 and 24 labels fill it, the 25th begins a second', async () => {
    const [one, ...more] = await sheetOf(24)
    expect(one?.widthMm).toBeCloseTo(A4.width, 2)
    expect(one?.heightMm).toBeCloseTo(A4.height, 2)
    expect(more).toEqual([])
    expect(await sheetOf(25)).toHaveLength(2)
    expect(LABEL_MM.across * LABEL_MM.width).toBe(A4.width)
    expect(LABEL_MM.down * LABEL_MM.height).toBeLessThanOrEqual(A4.height)
  })
  it('everything of a label lies within its own 70 × 37 mm, its six lines of text beginning there', async () => {
    const [sheet] = await sheetOf(24)
    const boxes = Array.from({ length: 24 }, (_, at) => labelBox(at))
    for (const box of sheet?.boxes ?? []) expect(boxes.some((label) => isInside(box, label))).toBe(true)
    for (const label of boxes) {
      const own = sheet?.texts.filter(({ x, y }) => isInside({ x, y, width: 0, height: 0 }, label)) ?? []
      expect(own).toHaveLength(6)
      // Words stand to the right of the code: it keeps its quiet zone.
      for (const { x } of own) expect(x - label.x).toBeGreaterThanOrEqual(32)
    }
  })
  it('a code is 29 mm wide with its quiet zone, each module a whole millimetre, and another library reads it', async () => {
    const [sheet] = await sheetOf(1)
    const boxes = sheet?.boxes ?? []
    const left = Math.min(...boxes.map(({ x }) => x))
    const right = Math.max(...boxes.map(({ x, width }) => x + width))
    // A symbol of 21 modules (ISO/IEC 18004, version 1) and four light ones on each side.
    expect(right - left).toBeCloseTo(21, 2)
    expect(left).toBeCloseTo(3 + 4, 2)
    for (const { height } of boxes) expect(height).toBeCloseTo(1, 2)
    expect(await readPicture(boxes)).toBe(labelOf(0).code)
  })
  it('what is too long is shortened, and what the font has not is a question mark: nothing runs over', async () => {
    const odd = { ...labelOf(0), what: 'żółty zestaw do koferdamu numer siedem, duży', steriliser: '' }
    const [sheet] = await readBack(await makeLabelSheet([odd], 'Klinika ąęł'))
    const lines = sheet?.texts ?? []
    expect(lines[1]?.words).toMatch(/^\?ó\?ty zestaw.*\.\.\.$/)
    expect(lines.at(-1)?.words).toBe('Klinika ???')
    const pdf = await PDFDocument.create()
    const [bold, plain] = [
      await pdf.embedFont(StandardFonts.HelveticaBold),
      await pdf.embedFont(StandardFonts.Helvetica),
    ]
    for (const [row, { words, x, sizeMm }] of lines.entries()) {
      const width = (row === 0 ? bold : plain).widthOfTextAtSize(words, sizeMm)
      expect(x + width).toBeLessThanOrEqual(LABEL_MM.width - 1.9)
    }
    expect(lines).toHaveLength(6)
  })
})
