import {
  lineTo,
  moveTo,
  type PDFDocument,
  type PDFFont,
  type PDFOperator,
  type PDFPage,
  rgb,
  setDashPattern,
  setLineWidth,
  stroke,
} from '@cantoo/pdf-lib'
import { makeCodeRuns } from './labels.ts'

export const PAPERS = ['a4', 'letter'] as const
export type Paper = (typeof PAPERS)[number]

interface Size {
  width: number
  height: number
}

/** Paper in mm: ISO 216 A4, and North American letter. */
export const PAPER_MM: Record<Paper, Size> = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
}
export const POINTS_PER_MM = 72 / 25.4

/** Draws in millimetres from the top left of a page, y downwards. */
export interface Pen {
  page: PDFPage
  font: PDFFont
  height: number
}
export interface Spot {
  x: number
  y: number
}

export const newPage = (pdf: PDFDocument, font: PDFFont, { width, height }: Size): Pen => ({
  page: pdf.addPage([width * POINTS_PER_MM, height * POINTS_PER_MM]),
  font,
  height,
})

export const points = ({ height }: Pen, { x, y }: Spot): [number, number] => [
  x * POINTS_PER_MM,
  (height - y) * POINTS_PER_MM,
]

export function write(pen: Pen, text: string, { x, y, size }: Spot & { size: number }): void {
  const [left, base] = points(pen, { x, y })
  pen.page.drawText(text, { x: left, y: base, size: size * POINTS_PER_MM, font: pen.font })
}

export interface Stroke {
  width?: number
  dashed?: boolean
}

export function line(pen: Pen, spots: readonly Spot[], { width = 0.2, dashed = false }: Stroke = {}): void {
  const path = spots.map((spot, place): PDFOperator => {
    const [x, y] = points(pen, spot)
    return place === 0 ? moveTo(x, y) : lineTo(x, y)
  })
  pen.page.pushOperators(
    setLineWidth(width * POINTS_PER_MM),
    setDashPattern(dashed ? [4, 3] : [], 0),
    ...path,
    stroke(),
  )
}

export function box(pen: Pen, { x, y }: Spot, { width, height }: Size): void {
  line(pen, [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
    { x, y },
  ])
}

/** A square code, its quiet zone counted in, with its top left corner here. */
export function drawCode({ page, height }: Pen, code: string, { x, y, side }: Spot & { side: number }): void {
  const { size, runs } = makeCodeRuns(code)
  const module = side / size
  for (const run of runs) {
    page.drawRectangle({
      x: (x + run.x * module) * POINTS_PER_MM,
      y: (height - y - (run.y + 1) * module) * POINTS_PER_MM,
      width: run.length * module * POINTS_PER_MM,
      height: module * POINTS_PER_MM,
      color: BLACK,
    })
  }
}
const BLACK = rgb(0, 0, 0)

/** What the font has no shape for is a question mark. */
export function printable(text: string, font: PDFFont): string {
  const known = new Set(font.getCharacterSet())
  return [...text].map((letter) => (known.has(letter.codePointAt(0) ?? 0) ? letter : '?')).join('')
}

/** As much as fits a width in mm; what is too long ends in three dots. */
export function shorten(
  text: string,
  { font, size, widthMm }: { font: PDFFont; size: number; widthMm: number },
): string {
  const letters = [...printable(text, font)]
  const isFitting = (line: string): boolean => font.widthOfTextAtSize(line, size) <= widthMm
  if (isFitting(letters.join(''))) return letters.join('')
  while (letters.length > 0 && !isFitting(`${letters.join('')}...`)) letters.pop()
  return `${letters.join('')}...`
}
