import { decodePDFRawStream, PDFArray, PDFDocument, PDFRawStream } from '@cantoo/pdf-lib'
import { readBarcodes } from 'zxing-wasm/reader'

const POINTS_PER_MM = 72 / 25.4

export interface Box {
  x: number
  y: number
  width: number
  height: number
}
export interface ReadSheet {
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
export async function readBack(bytes: Uint8Array): Promise<ReadSheet[]> {
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

/** The boxes drawn at eight points a millimetre, and read. */
export async function readPicture(boxes: readonly Box[]): Promise<string | undefined> {
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
