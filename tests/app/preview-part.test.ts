import { createElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { PreviewPart } from '#app/day/import/_parts/preview-part.tsx'
import type { Preview } from '#server/trpc/exchange-router.ts'

const preview = {
  counts: { new: 0, changed: 0, cancelled: 0, unchanged: 1, older: 2, vanished: 0, problems: 0 },
  assumed: [],
  vanished: [],
  problems: [],
  passedOver: [
    { line: 3, why: 'VTODO is not read here' },
    { line: 5, why: 'Organization is not read here', rows: 4 },
  ],
} as unknown as Preview

it('a preview says how many rows are older than what is known, and what is passed over', () => {
  const html = renderToStaticMarkup(
    createElement(PreviewPart, { preview, busy: false, taken: false, onTake: () => {} }),
  )
  expect(html).toContain('<strong>2</strong> older than what is known')
  expect(html).toContain('5 lines are passed over')
  expect(html.replace(/<[^>]+>/g, ' ')).toMatch(/Line 5\s+Organization is not read here\s*, and 3 more/)
})
