import type { Row } from './figures.ts'

const HEADS = ['figure', 'ours', 'reference', 'ratio', 'limit', 'reached']

const short = (value: number): string =>
  Number.isInteger(value) ? `${value}` : value.toPrecision(value < 1000 ? 3 : 6).replace(/\.$/, '')
const cell = (value: number | null, unit = ''): string =>
  value === null ? '–' : `${short(value)} ${unit}`.trim()

function cellsOf(row: Row): string[] {
  if ('notBuilt' in row) return [row.figure, 'not built', '–', '–', row.limit, '–']
  const { figure, unit, ours, reference, ratio, limit, reached } = row
  return [figure, cell(ours, unit), cell(reference, unit), cell(ratio), limit, reached ? 'yes' : 'NO']
}

/** All rows as a table for the terminal. */
export function tableOf(rows: readonly Row[]): string {
  const lines = [HEADS, ...rows.map(cellsOf)]
  const widths = HEADS.map((_, column) => Math.max(...lines.map((line) => (line[column] ?? '').length)))
  const text = (line: string[]) =>
    line
      .map((each, column) => each.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd()
  const [heads = '', ...rest] = lines.map(text)
  return [heads, widths.map((width) => '─'.repeat(width)).join('  '), ...rest].join('\n')
}
