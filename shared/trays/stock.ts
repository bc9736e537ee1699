import type { Day } from '../base/moment.ts'
import type { TrayFinding } from './findings.ts'
import type { StockLine } from './tray.ts'

/** Lots of one item at or below the level at which it is ordered again; lots past their date are no stock. */
export function judgeStock(lines: readonly StockLine[], today: Day | null = null): TrayFinding[] {
  const byItem = new Map<string, { name: string; left: number; reorderAt: number }>()
  for (const line of lines) {
    const good = today !== null && line.expires !== null && line.expires < today ? 0 : line.count
    const sum = byItem.get(line.item)
    byItem.set(line.item, {
      name: line.name,
      left: (sum?.left ?? 0) + good,
      reorderAt: Math.max(sum?.reorderAt ?? 0, line.reorderAt),
    })
  }
  return [...byItem]
    .filter(([, { left, reorderAt }]) => left <= reorderAt)
    .map(([item, { name, left }]) => ({
      rule: 'stock/reorder',
      level: 'note',
      about: `stock:${item}`,
      name,
      left,
    }))
}
