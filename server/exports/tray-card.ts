import { PDFDocument, type PDFFont, StandardFonts } from '@cantoo/pdf-lib'
import { clockTimeOf } from '#shared/base/moment.ts'
import { findFact, type World } from '#shared/facts.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { rankClamps } from '#shared/isolation/clamp-stock.ts'
import type { StockClamp } from '#shared/isolation/isolation-facts.ts'
import { planFor } from '#shared/isolation/plan-for.ts'
import type { PlannedSheet } from '#shared/isolation/plan-types.ts'
import { CATALOGUE } from '#shared/procedures/catalogue.ts'
import { makePalmer, makeUniversal, nameTooth } from '#shared/teeth/notation.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { sayClamp } from '#shared/words/en/plan.ts'
import {
  box,
  drawCode,
  line,
  newPage,
  type Paper,
  type Pen,
  printable,
  type Spot,
  shorten,
  write,
} from './pen.ts'

/** Half a sheet, upright, in mm. */
export const CARD_MM: Record<Paper, { width: number; height: number }> = {
  a4: { width: 148, height: 210 },
  letter: { width: 139.7, height: 215.9 },
}
/** The code with its quiet zone, top right, in mm. */
export const CARD_CODE_MM = 30
const EDGE = 8

/** What stands on a tray's card. No patient is named: operatory, time and code say whose it is. */
export interface TrayCard {
  code: string
  where: string
  teeth: string
  other: string
  words: string
  /** Above all else, in capitals: what is known of latex. */
  latex: string
  allergies: string[]
  plan: string[]
  /** `2 × floss`, in the order in which the tray is laid out. */
  lines: { text: string; isCountedBack: boolean }[]
}

const LATEX_WORDS: Record<World['allergyRecord'][number]['latex'], string> = {
  confirmed: 'LATEX ALLERGY: nothing with latex on this tray, gloves too',
  suspected: 'LATEX ALLERGY SUSPECTED: nothing with latex on this tray',
  'asked-unknown': 'LATEX NOT KNOWN: nothing with latex until it is',
  'not-asked': 'LATEX NOT ASKED: nothing with latex until it is',
  'none-known': 'Latex: none known, as asked',
}

/** The card of an appointment's tray; null where it has none. `address` opens the tray on a screen. */
export function trayCardOf(world: World, appointmentId: AppointmentId, address: string): TrayCard | null {
  const appointment = findFact(world, 'appointment', appointmentId)
  const tray = world.tray.find((one) => one.appointmentId === appointmentId)
  const plan = planFor(world, appointmentId)
  if (!appointment || !tray || !plan) return null
  const notation = world.clinic[0]?.notation ?? 'iso'
  const work = world.work.filter((one) => one.appointmentId === appointmentId)
  const teeth = [...new Set(work.flatMap((one) => one.teeth))]
  const record = world.allergyRecord.find((one) => one.patientId === appointment.patientId)
  const room = findFact(world, 'operatory', appointment.operatoryId)
  const time = clockTimeOf(appointment.start, appointment.zone)
  return {
    code: address,
    where: `${room ? `Operatory ${room.name}` : 'No operatory yet'} · ${appointment.day} ${time}`,
    teeth: said(teeth, notation) || 'no tooth named',
    other: notation === 'universal' ? `ISO ${teeth.join(' ')}` : `Univ ${teeth.map(makeUniversal).join(' ')}`,
    words: [
      work.map(({ kind, text }) => (kind === 'undetermined' ? `"${text}"` : CATALOGUE[kind].name)).join(', '),
      teeth.map(nameTooth).join(', '),
    ]
      .filter(Boolean)
      .join(': '),
    latex: LATEX_WORDS[record?.latex ?? 'not-asked'],
    allergies: (record?.allergies ?? [])
      .filter(({ certainty, substance }) => certainty !== 'refuted' && substance !== 'latex')
      .map(({ text, certainty }) => `${certainty}: ${text}`),
    plan: [
      planWords(world, appointmentId, plan.state),
      ...plan.sheets.flatMap((sheet) =>
        sheetWords(sheet, {
          notation,
          stock: world.policySet[0]?.clamps ?? [],
          material: plan.sheetMaterial,
        }),
      ),
    ],
    lines: world.trayLine
      .filter((one) => one.trayId === tray.id && one.omitted === null)
      .sort((a, b) => a.position - b.position)
      .map(({ name, count, countedBack }) => ({ text: `${count} × ${name}`, isCountedBack: countedBack })),
  }
}

const said = (teeth: readonly Tooth[], notation: Notation): string =>
  teeth
    .map((tooth) =>
      notation === 'universal' ? makeUniversal(tooth) : notation === 'palmer' ? makePalmer(tooth) : tooth,
    )
    .join(' ')

function planWords(world: World, appointmentId: AppointmentId, state: string): string {
  const number = world.plan.find((one) => one.appointmentId === appointmentId)?.number ?? 0
  return state === 'planned'
    ? `Plan ${number}`
    : `Plan ${number}, ${state.replaceAll('-', ' ')}: look at the screen`
}

interface Said {
  notation: Notation
  stock: readonly StockClamp[]
  material: string | null
}

function sheetWords(sheet: PlannedSheet, { notation, stock, material }: Said): string[] {
  const { field, clamps, holes, widthMm, heightMm, grade } = sheet
  return [
    `Expose ${said(field, notation)} · ${holes.length === 1 ? 'one hole' : `${holes.length} holes`}`,
    ...clamps.map((clamp) => {
      const [best] = rankClamps(clamp, stock)
      const own = best ? `, take ${best.clamp.mark}` : ''
      return `Clamp ${said([clamp.tooth], notation)}: ${sayClamp(clamp.family)}${own}`
    }),
    `Sheet ${widthMm} × ${heightMm} mm, ${grade}, ${material ?? 'material not settled'}`,
    `Holes ${holes.map(({ tooth, size }) => `${said([tooth], notation)}:${size}`).join('  ')}`,
  ]
}

/** The card as a PDF at true size, more pages where the tray is long. */
export async function makeTrayCard(card: TrayCard, paper: Paper): Promise<Uint8Array> {
  const pdf = await PDFDocument.create()
  pdf.setTitle('Tray card')
  const font = await pdf.embedFont(StandardFonts.Helvetica)
  const bold = await pdf.embedFont(StandardFonts.HelveticaBold)
  const size = CARD_MM[paper]
  const pen = newPage(pdf, font, size)
  const heavy = { ...pen, font: bold }
  drawCode(pen, card.code, { x: size.width - EDGE - CARD_CODE_MM, y: EDGE, side: CARD_CODE_MM })
  const beside = size.width - EDGE * 3 - CARD_CODE_MM
  say(pen, card.where, { y: 13, size: 4, widthMm: beside })
  say(heavy, card.teeth, { y: 26, size: 10, widthMm: beside })
  say(pen, card.other, { y: 32, size: 4, widthMm: beside })
  say(pen, card.words, { y: 42, size: 3.8, widthMm: size.width - 2 * EDGE })
  box(pen, { x: EDGE, y: 45 }, { width: size.width - 2 * EDGE, height: 9 })
  say(heavy, card.latex, { x: EDGE + 2, y: 51, size: 4, widthMm: size.width - 2 * EDGE - 4 })
  const rows = [...card.allergies, ...card.plan]
  for (const [row, text] of rows.entries()) {
    say(pen, text, { y: 60 + row * 5, size: 3.6, widthMm: size.width - 2 * EDGE })
  }
  const top = 62 + rows.length * 5
  line(pen, [
    { x: EDGE, y: top - 3 },
    { x: size.width - EDGE, y: top - 3 },
  ])
  drawLines(card.lines, { size, first: pen, top, more: () => newPage(pdf, font, size) })
  return pdf.save()
}

const say = (pen: Pen, text: string, at: { x?: number; y: number; size: number; widthMm: number }): void =>
  write(pen, shorten(text, { font: pen.font, size: at.size, widthMm: at.widthMm }), { x: EDGE, ...at })

const ROW_MM = 4.8
const TEXT_MM = 3.2
const COLUMNS = 2

interface Room {
  size: { width: number; height: number }
  first: Pen
  top: number
  more: () => Pen
}

/** Lines with a square to tick, in one column where they fit and in two where not, in words of full length. */
function drawLines(lines: TrayCard['lines'], { size, first, top, more }: Room): void {
  const wholeMm = size.width - 2 * EDGE
  const rowsFrom = (from: number) => Math.max(1, Math.floor((size.height - EDGE - 6 - from) / ROW_MM))
  const isOne = entriesOf(lines, { font: first.font, widthMm: wholeMm - 6 }).flat().length <= rowsFrom(top)
  const columns = isOne ? 1 : COLUMNS
  let [pen, from, left] = [first, top, entriesOf(lines, { font: first.font, widthMm: wholeMm / columns - 6 })]
  while (left.length > 0) {
    const rows = Math.min(rowsFrom(from), Math.ceil(left.flat().length / columns) + 2)
    for (let column = 0; column < columns; column++) {
      const here = left.slice(0, howManyFit(left, rows))
      left = left.slice(here.length)
      drawColumn(pen, here, { x: EDGE + (column * wholeMm) / columns, y: from })
    }
    write(pen, 'An aid to licensed practice. Count out what is marked before the patient leaves.', {
      x: EDGE,
      y: size.height - EDGE,
      size: 2.6,
    })
    if (left.length > 0) [pen, from] = [more(), EDGE + 4]
  }
}

/** Whole lines that fit so many rows, at least one. */
function howManyFit(entries: readonly string[][], rows: number): number {
  let taken = 0
  for (const [at, entry] of entries.entries()) {
    taken += entry.length
    if (taken > rows) return Math.max(1, at)
  }
  return entries.length
}

function drawColumn(pen: Pen, entries: readonly string[][], { x, y }: Spot): void {
  const rows = entries.flatMap((entry) => entry.map((text, at) => ({ text, isFirst: at === 0 })))
  for (const [at, { text, isFirst }] of rows.entries()) {
    const top = y + at * ROW_MM
    if (isFirst) box(pen, { x, y: top - 0.2 }, { width: 3, height: 3 })
    write(pen, text, { x: x + 4.5, y: top + 2.6, size: TEXT_MM })
  }
}

interface Width {
  font: PDFFont
  widthMm: number
}

/** Each line broken between its words into as many rows as it needs. */
const entriesOf = (lines: TrayCard['lines'], width: Width): string[][] =>
  lines.map(({ text, isCountedBack }) =>
    wrap(printable(isCountedBack ? `${text} (count back)` : text, width.font), width),
  )

function wrap(text: string, { font, widthMm }: Width): string[] {
  const rows: string[] = []
  for (const word of text.split(' ')) {
    const longer = rows.length === 0 ? word : `${rows.at(-1)} ${word}`
    if (rows.length === 0 || font.widthOfTextAtSize(longer, TEXT_MM) > widthMm) rows.push(word)
    else rows[rows.length - 1] = longer
  }
  return rows.map((row) => shorten(row, { font, size: TEXT_MM, widthMm }))
}
