import { PDFDocument, type PDFFont, type PDFPage, rgb, StandardFonts } from '@cantoo/pdf-lib'
import type { PackLabel } from './labels.ts'
import { drawCode, PAPER_MM, POINTS_PER_MM, shorten } from './pen.ts'

/** A sheet of 24 self-adhesive labels of 70 × 37 mm on ISO 216 A4: three beside each other, eight below (COMMON). */
export const LABEL_MM = { width: 70, height: 37, across: 3, down: 8 } as const
/** Eight rows leave a millimetre of the paper, half of it above. */
const TOP_MM = (PAPER_MM.a4.height - LABEL_MM.down * LABEL_MM.height) / 2
/** The code with its quiet zone, and where it stands in its label, in mm. */
export const CODE_MM = { side: 29, left: 3, top: 4 } as const
const TEXT_LEFT_MM = CODE_MM.left + CODE_MM.side + 2
const TEXT_WIDTH_MM = LABEL_MM.width - TEXT_LEFT_MM - 2
const BLACK = rgb(0, 0, 0)

/** A label's own words; what a kind of set is called is said by whoever asks. */
export type SheetLabel = Pick<PackLabel, 'code' | 'load' | 'steriliser' | 'day'> & { what: string }

/** Labels as a PDF at true size: printed at 100 %, a label falls on a label. */
export async function makeLabelSheet(labels: readonly SheetLabel[], clinic: string): Promise<Uint8Array> {
  const pdf = await PDFDocument.create()
  pdf.setTitle('Pack labels, true size')
  const pens = {
    plain: await pdf.embedFont(StandardFonts.Helvetica),
    bold: await pdf.embedFont(StandardFonts.HelveticaBold),
  }
  const perPage = LABEL_MM.across * LABEL_MM.down
  for (let from = 0; from < labels.length; from += perPage) {
    const page = pdf.addPage([PAPER_MM.a4.width * POINTS_PER_MM, PAPER_MM.a4.height * POINTS_PER_MM])
    for (const [place, label] of labels.slice(from, from + perPage).entries()) {
      drawLabel({ page, ...pens, ...cornerOf(place) }, label, clinic)
    }
  }
  if (labels.length === 0)
    pdf.addPage([PAPER_MM.a4.width * POINTS_PER_MM, PAPER_MM.a4.height * POINTS_PER_MM])
  return pdf.save()
}

/** Top left corner of a label, in mm from that of the paper. */
const cornerOf = (place: number): { x: number; y: number } => ({
  x: (place % LABEL_MM.across) * LABEL_MM.width,
  y: TOP_MM + Math.floor(place / LABEL_MM.across) * LABEL_MM.height,
})

/** Millimetres from the top left of the paper, y downwards. */
interface Pen {
  page: PDFPage
  plain: PDFFont
  bold: PDFFont
  x: number
  y: number
}

function drawLabel(pen: Pen, label: SheetLabel, clinic: string): void {
  const at = { x: pen.x + CODE_MM.left, y: pen.y + CODE_MM.top, side: CODE_MM.side }
  drawCode({ page: pen.page, font: pen.plain, height: PAPER_MM.a4.height }, label.code, at)
  const lines = [label.what, label.steriliser, `Load ${label.load}`, label.day, clinic]
  write(pen, label.code, { font: pen.bold, row: 0, size: 4 })
  for (const [row, line] of lines.entries()) write(pen, line, { font: pen.plain, row: row + 1, size: 3 })
}

const ROW_MM = 4.8
function write(
  { page, x, y }: Pen,
  text: string,
  { font, row, size }: { font: PDFFont; row: number; size: number },
): void {
  const fitted = shorten(text, { font, size, widthMm: TEXT_WIDTH_MM })
  page.drawText(fitted, {
    x: (x + TEXT_LEFT_MM) * POINTS_PER_MM,
    y: (PAPER_MM.a4.height - y - 8.5 - row * ROW_MM) * POINTS_PER_MM,
    size: size * POINTS_PER_MM,
    font,
    color: BLACK,
  })
}
