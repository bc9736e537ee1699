import { decodePDFRawStream, PDFArray, PDFDocument, PDFRawStream } from '@cantoo/pdf-lib'
import { describe, expect, test } from 'vitest'
import { PAPER_MM, PAPERS, type Paper, POINTS_PER_MM } from '#server/exports/pen.ts'
import { makePunchTemplate } from '#server/exports/punch-template.ts'
import type { IsolationPlan } from '#shared/isolation/plan-types.ts'
import { type Asked, planned } from '#tests/shared/isolation/asking.ts'

/** Each path of a page as its points in mm from the top left, and each text matrix, read back from the file. */
interface ReadPage {
  widthMm: number
  heightMm: number
  paths: { points: [x: number, y: number][]; isCurved: boolean }[]
  matrices: number[][]
  turned: string[]
}

async function readBack(bytes: Uint8Array): Promise<ReadPage[]> {
  const pdf = await PDFDocument.load(bytes)
  return pdf.getPages().map((page) => {
    const { width, height } = page.getSize()
    const contents = page.node.Contents()
    const streams =
      contents instanceof PDFArray ? contents.asArray().map((ref) => pdf.context.lookup(ref)) : [contents]
    const text = streams
      .map((stream) => {
        if (!(stream instanceof PDFRawStream)) throw new Error('not a raw stream')
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

function readOperators(text: string, height: number): Pick<ReadPage, 'paths' | 'matrices' | 'turned'> {
  const read: Pick<ReadPage, 'paths' | 'matrices' | 'turned'> = { paths: [], matrices: [], turned: [] }
  let stack: number[] = []
  let path: ReadPage['paths'][number] = { points: [], isCurved: false }
  const toMm = (x: number, y: number): [number, number] => [x / POINTS_PER_MM, (height - y) / POINTS_PER_MM]
  for (const token of text.split(/\s+/)) {
    if (/^-?[\d.]+$/.test(token)) {
      stack.push(Number(token))
      continue
    }
    const [a = 0, b = 0] = stack.slice(-2)
    if (token === 'm') path = { points: [toMm(a, b)], isCurved: false }
    if (token === 'l') path.points.push(toMm(a, b))
    if (token === 'c') {
      path.points.push(toMm(a, b))
      path.isCurved = true
    }
    if (token === 'S' || token === 's') read.paths.push(path)
    if (token === 'Tm') read.matrices.push(stack.slice(-6))
    if (token === 'cm') read.turned.push(stack.slice(-6).join(' '))
    stack = []
  }
  return read
}

const extent = (values: number[]): { middle: number; size: number } => ({
  middle: (Math.max(...values) + Math.min(...values)) / 2,
  size: Math.max(...values) - Math.min(...values),
})

async function templateOf(asked: Asked, paper: Paper): Promise<{ plan: IsolationPlan; pages: ReadPage[] }> {
  const plan = planned(asked)
  return { plan, pages: await readBack(await makePunchTemplate(plan, { paper, notation: 'iso' })) }
}

describe.each(PAPERS)('the punch template on %s', (paper) => {
  test('prints every hole at its place and in its size, to a hundredth of a millimetre', async () => {
    const { plan, pages } = await templateOf({ teeth: '46 MO' }, paper)
    const [sheet] = plan.sheets
    const circles = pages[0]?.paths.filter(({ isCurved }) => isCurved) ?? []
    expect(circles).toHaveLength(10)
    const left = (PAPER_MM[paper].width - 150) / 2
    const read = circles.map(({ points }) => ({
      x: extent(points.map(([x]) => x)),
      y: extent(points.map(([, y]) => y)),
    }))
    for (const [place, hole] of (sheet?.holes ?? []).entries()) {
      expect(read[place]?.x.middle).toBeCloseTo(left + hole.xMm, 2)
      expect(read[place]?.y.middle).toBeCloseTo(26 + hole.yMm, 2)
      expect(read[place]?.x.size).toBeCloseTo(hole.diameterMm, 2)
      expect(read[place]?.y.size).toBeCloseTo(hole.diameterMm, 2)
    }
  })

  test('carries its proof: the sheet’s edge, a ruler of 100 mm, a square of 40 mm, in the paper’s size', async () => {
    const { pages } = await templateOf({ teeth: '46 MO' }, paper)
    const [page] = pages
    expect(page?.widthMm).toBeCloseTo(PAPER_MM[paper].width, 3)
    expect(page?.heightMm).toBeCloseTo(PAPER_MM[paper].height, 3)
    const straight = page?.paths.filter(({ isCurved }) => !isCurved) ?? []
    const boxes = straight
      .filter(({ points }) => points.length === 5)
      .map(({ points }) => [extent(points.map(([x]) => x)).size, extent(points.map(([, y]) => y)).size])
    expect(boxes.map(([w = 0, h = 0]) => [w.toFixed(2), h.toFixed(2)])).toEqual([
      ['150.00', '150.00'],
      ['40.00', '40.00'],
    ])
    const rulers = straight.filter(
      ({ points }) => points.length === 2 && Math.abs(extent(points.map(([x]) => x)).size - 100) < 0.005,
    )
    expect(rulers).toHaveLength(1)
  })

  test('stays on the paper, its text upright and nothing turned or mirrored', async () => {
    for (const asked of [
      { teeth: '46 MO' },
      { teeth: '84 DO, 85 MO' },
      { teeth: '16 MO, 46 MO' },
    ] satisfies Asked[]) {
      const { pages } = await templateOf(asked, paper)
      for (const page of pages) {
        const spots = page.paths.flatMap(({ points }) => points)
        expect(Math.min(...spots.map(([x]) => x))).toBeGreaterThan(5)
        expect(Math.max(...spots.map(([x]) => x))).toBeLessThan(page.widthMm - 5)
        expect(Math.max(...spots.map(([, y]) => y))).toBeLessThan(page.heightMm - 5)
        expect(page.turned).toEqual([])
        expect(page.matrices.length).toBeGreaterThan(5)
        expect(page.matrices.every(([a, b, c, d]) => a === 1 && b === 0 && c === 0 && d === 1)).toBe(true)
      }
    }
  })

  test('has one page for each sheet, and says so where there is none', async () => {
    expect((await templateOf({ teeth: '16 MO, 46 MO' }, paper)).pages).toHaveLength(2)
    const { pages } = await templateOf({ kind: 'exam', teeth: '' }, paper)
    expect([pages.length, pages[0]?.paths.length, pages[0]?.matrices.length]).toEqual([1, 0, 1])
  })
})
