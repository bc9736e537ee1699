import {
  appendBezierCurve,
  closePath,
  moveTo,
  PDFDocument,
  type PDFFont,
  type PDFOperator,
  StandardFonts,
  setDashPattern,
  setLineWidth,
  stroke,
} from '@cantoo/pdf-lib'
import { drawSheet, type SheetPicture } from '#shared/isolation/drawing.ts'
import type { IsolationPlan, PlannedSheet } from '#shared/isolation/plan-types.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import {
  box,
  line,
  newPage,
  PAPER_MM,
  type Paper,
  type Pen,
  POINTS_PER_MM,
  points,
  type Spot,
  write,
} from './pen.ts'

/** Lengths printed so that a person can prove the scale with a ruler of their own, in mm. */
export const PROOF = { rulerMm: 100, squareMm: 40 } as const
const TOP_MM = 26
const GAP_MM = 14

export interface TemplateOf {
  paper: Paper
  notation: Notation
}

/**
 * The punch template of a plan as a PDF at true size, one page per sheet, with a ruler and a square to measure.
 * Facing the patient, text upright. No patient is named on it.
 */
export async function makePunchTemplate(plan: IsolationPlan, of: TemplateOf): Promise<Uint8Array> {
  const pdf = await PDFDocument.create()
  pdf.setTitle('Punch template, true size')
  const font = await pdf.embedFont(StandardFonts.Helvetica)
  for (const sheet of plan.sheets) addPage(pdf, { sheet, font, plan, of })
  if (plan.sheets.length === 0) addEmptyPage(pdf, { font, of })
  return pdf.save()
}

interface Page {
  sheet: PlannedSheet
  font: PDFFont
  plan: IsolationPlan
  of: TemplateOf
}

function addEmptyPage(pdf: PDFDocument, { font, of }: Pick<Page, 'font' | 'of'>): void {
  const pen = newPage(pdf, font, PAPER_MM[of.paper])
  write(pen, 'No sheet is planned for this visit, so there is nothing to punch.', { x: 20, y: 20, size: 4 })
}

function addPage(pdf: PDFDocument, { sheet, font, plan, of }: Page): void {
  const pen = newPage(pdf, font, PAPER_MM[of.paper])
  const origin = { x: (PAPER_MM[of.paper].width - sheet.widthMm) / 2, y: TOP_MM }
  const { whole } = drawSheet(sheet, { view: 'facing', notation: of.notation })
  writeHead(pen, { sheet, plan })
  box(pen, origin, { width: sheet.widthMm, height: sheet.heightMm })
  drawInside(pen, { origin, sheet, whole })
  drawProof(pen, { x: origin.x, y: origin.y + sheet.heightMm + GAP_MM })
}

function writeHead(pen: Pen, { sheet, plan }: Pick<Page, 'sheet' | 'plan'>): void {
  const material = plan.sheetMaterial ?? 'material not settled'
  const lines = [
    `Punch template, ${sheet.widthMm} × ${sheet.heightMm} mm, ${sheet.grade}, ${material}. Facing the patient.`,
    `Print at 100 %, not fitted to the page; measure ruler and square. Plan ${plan.version.slice(7, 15)}, ${plan.state}.`,
    sheet.markInMouth
      ? 'Teeth out of line: an outline only. Do not punch ahead, mark in the mouth.'
      : 'An aid to licensed practice. Count the teeth before punching.',
  ]
  for (const [row, line] of lines.entries()) write(pen, line, { x: 15, y: 10 + row * 5, size: 3.2 })
}

interface Inside {
  origin: Spot
  sheet: PlannedSheet
  whole: SheetPicture['whole']
}
function drawInside(pen: Pen, { origin, sheet, whole }: Inside): void {
  const on = ({ x, y }: Spot): Spot => ({ x: origin.x + x, y: origin.y + y })
  const { widthMm, heightMm } = sheet
  line(pen, [on({ x: widthMm / 2, y: 16 }), on({ x: widthMm / 2, y: heightMm - 16 })], { dashed: true })
  line(pen, [on({ x: 8, y: heightMm / 2 }), on({ x: widthMm - 8, y: heightMm / 2 })], { dashed: true })
  line(pen, [...whole.corner, ...whole.corner.slice(0, 1)].map(on), { width: 0.6 })
  line(pen, whole.arch.map(on), { width: 0.1 })
  if (whole.slit.length > 1) line(pen, whole.slit.map(on), { width: 0.5, dashed: true })
  for (const hole of whole.holes) {
    circle(pen, on(hole), { radius: hole.r, width: hole.isWorking ? 0.5 : 0.25 })
    cross(pen, on(hole), Math.min(0.5, hole.r * 0.6))
  }
  for (const label of whole.labels) {
    const { x, y } = on(label)
    const width = pen.font.widthOfTextAtSize(label.text, label.h * POINTS_PER_MM) / POINTS_PER_MM
    write(pen, label.text, { x: x - width / 2, y: y + label.h * 0.35, size: label.h })
  }
}

/** A ruler of 100 mm and a square of 40 mm. */
function drawProof(pen: Pen, { x, y }: Spot): void {
  const end = x + PROOF.rulerMm
  line(pen, [
    { x, y },
    { x: end, y },
  ])
  for (let mm = 0; mm <= PROOF.rulerMm; mm++) {
    const tick = mm % 10 === 0 ? 4 : mm % 5 === 0 ? 2.8 : 1.6
    line(pen, [
      { x: x + mm, y },
      { x: x + mm, y: y + tick },
    ])
    if (mm % 10 === 0) write(pen, `${mm}`, { x: x + mm - 1, y: y + 7.5, size: 3 })
  }
  write(pen, 'mm: this ruler must measure 100 mm', { x, y: y + 12.5, size: 3 })
  const square = { x: end + 10, y }
  box(pen, square, { width: PROOF.squareMm, height: PROOF.squareMm })
  write(pen, 'this square: 40 × 40 mm', { x: square.x + 2, y: square.y + PROOF.squareMm / 2, size: 3 })
}

const cross = (pen: Pen, { x, y }: Spot, arm: number): void => {
  line(
    pen,
    [
      { x: x - arm, y },
      { x: x + arm, y },
    ],
    { width: 0.1 },
  )
  line(
    pen,
    [
      { x, y: y - arm },
      { x, y: y + arm },
    ],
    { width: 0.1 },
  )
}

/** Four Bézier quarters; off a true circle by less than 0.03 percent. */
const KAPPA = 0.5522847498

function circle(pen: Pen, { x, y }: Spot, { radius, width }: { radius: number; width: number }): void {
  const k = radius * KAPPA
  const at = (dx: number, dy: number): [number, number] => points(pen, { x: x + dx, y: y + dy })
  const curve = (...to: [number, number, number, number, number, number]): PDFOperator =>
    appendBezierCurve(...at(to[0], to[1]), ...at(to[2], to[3]), ...at(to[4], to[5]))
  pen.page.pushOperators(
    setLineWidth(width * POINTS_PER_MM),
    setDashPattern([], 0),
    moveTo(...at(radius, 0)),
    curve(radius, k, k, radius, 0, radius),
    curve(-k, radius, -radius, k, -radius, 0),
    curve(-radius, -k, -k, -radius, 0, -radius),
    curve(k, -radius, radius, -k, radius, 0),
    closePath(),
    stroke(),
  )
}
