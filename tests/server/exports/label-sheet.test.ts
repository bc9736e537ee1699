import { decodePDFRawStream, PDFArray, PDFDocument, PDFRawStream, StandardFonts } from '@cantoo/pdf-lib'
import { beforeAll, describe, expect, it } from 'vitest'
import { readBarcodes } from 'zxing-wasm/reader'
import { LABEL_MM, makeLabelSheet, type SheetLabel } from '#server/exports/label-sheet.ts'
import { makePackCode } from '#shared/sterility/pack-code.ts'
import { prepareBarcodeReader } from '../../support/barcodes.ts'

const POINTS_PER_MM = 72 / 25.4
const A4 = { width: 210, height: 297 }

interface Box {
  x: number
  y: number
  width: number
  height: number
}
interface ReadSheet {
  widthMm: number
  heightMm: number
  /** Filled boxes and the left end of each line of text, in mm from the top left. */
  boxes: Box[]
  texts: { x: number; y: number; sizeMm: number; words: string }[]
}

type Matrix = [number, number, number, number, number, number]
const times = (a: Matrix, b: Matrix): Matrix => [
  a[0] * b[0] + a[1] * b[2],
  a[0] * b[1] + a[1] * b[3],
  a[2] * b[0] + a[3] * b[2],
  a[2] * b[1] + a[3] * b[3],
  a[4] * b[0] + a[5] * b[2] + b[4],
  a[4] * b[1] + a[5] * b[3] + b[5],
]

/** Reads the drawing operators of every page, with the transformations that stand when they are drawn. */
async function readBack(bytes: Uint8Array): Promise<ReadSheet[]> {
  const pdf = await PDFDocument.load(bytes)
  return pdf.getPages().map((page) => {
    const { width, height } = page.getSize()
    const contents = page.node.Contents()
    const streams =
      contents instanceof PDFArray ? contents.asArray().map((ref) => pdf.context.lookup(ref)) : [contents]
    const text = streams
      .map((stream) => {
        if (!(stream instanceof PDFRawStream)) return ''
        return Buffer.from(decodePDFRawStream(stream).decode()).toString('latin1')
      })
      .join('\n')
    return {
      widthMm: width / POINTS_PER_MM,
      heightMm: height / POINTS_PER_MM,
      ...readOperators(text, height),
    }
  })
}

function readOperators(text: string, height: number): Pick<ReadSheet, 'boxes' | 'texts'> {
  const read: Pick<ReadSheet, 'boxes' | 'texts'> = { boxes: [], texts: [] }
  const kept: Matrix[] = []
  let matrix: Matrix = [1, 0, 0, 1, 0, 0]
  let numbers: number[] = []
  let points: [number, number][] = []
  let size = 0
  const toMm = (x: number, y: number): [number, number] => {
    const [, , , , px, py] = times([1, 0, 0, 1, x, y], matrix)
    return [px / POINTS_PER_MM, (height - py) / POINTS_PER_MM]
  }
  for (const token of text.split(/\s+/)) {
    if (/^-?[\d.]+$/.test(token)) {
      numbers.push(Number(token))
      continue
    }
    const last = numbers.slice(-6)
    if (token === 'q') kept.push(matrix)
    if (token === 'Q') matrix = kept.pop() ?? matrix
    if (token === 'cm') matrix = times(last as Matrix, matrix)
    if (token === 'm' || token === 'l') points.push(toMm(numbers.at(-2) ?? 0, numbers.at(-1) ?? 0))
    if (token === 'f') {
      const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)]
      const [x, y] = [Math.min(...xs), Math.min(...ys)]
      read.boxes.push({ x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y })
      points = []
    }
    if (token === 'Tf') size = numbers.at(-1) ?? 0
    if (token === 'Tm') {
      const [x, y] = toMm(last[4] ?? 0, last[5] ?? 0)
      read.texts.push({ x, y, sizeMm: size / POINTS_PER_MM, words: '' })
    }
    const hex = /^<([0-9A-Fa-f]*)>$/.exec(token)?.[1]
    const line = read.texts.at(-1)
    if (hex !== undefined && line) line.words += Buffer.from(hex, 'hex').toString('latin1')
    numbers = []
  }
  return read
}

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

/** The boxes drawn at eight points a millimetre, and read. */
async function readPicture(boxes: readonly Box[]): Promise<string | undefined> {
  const SCALE = 8
  const side = 40 * SCALE
  const data = new Uint8ClampedArray(side * side * 4).fill(255)
  for (const { x, y, width, height } of boxes) {
    for (let row = Math.round(y * SCALE); row < Math.round((y + height) * SCALE); row++) {
      for (let column = Math.round(x * SCALE); column < Math.round((x + width) * SCALE); column++) {
        data.fill(0, (row * side + column) * 4, (row * side + column) * 4 + 3)
      }
    }
  }
  const [read] = await readBarcodes({ data, width: side, height: side, colorSpace: 'srgb' } as ImageData, {
    formats: ['QRCode'],
  })
  return read?.text
}
