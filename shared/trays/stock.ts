import type { Day } from '../base/moment.ts'
import type { TrayFinding } from './findings.ts'
import type { StockLine, TrayLine } from './tray.ts'

/** Past its date from the day after. */
export const isPastDate = ({ expires }: Pick<StockLine, 'expires'>, today: Day): boolean =>
  expires !== null && expires < today

/** Lots of one item at or below the level at which it is ordered again; lots past their date are no stock. */
export function judgeStock(lines: readonly StockLine[], today: Day | null = null): TrayFinding[] {
  const byItem = new Map<string, { name: string; left: number; reorderAt: number }>()
  for (const line of lines) {
    const good = today !== null && isPastDate(line, today) ? 0 : line.count
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

/**
 * Lots that may answer a line of a tray, the one to be used first on top: in date before past its date, the earliest
 * date first, what carries no date last. A line made of a kit's line (`cartridge/…`) takes that one's lots too.
 */
export function lotsFor(
  { item, packKind, swapped }: Pick<TrayLine, 'item' | 'packKind' | 'swapped'>,
  lines: readonly StockLine[],
  today: Day,
): StockLine[] {
  if (packKind !== null || swapped !== null) return []
  const rank = (line: StockLine): string =>
    `${isPastDate(line, today) ? 1 : 0} ${line.expires ?? '9999-12-31'} ${line.lot}`
  return lines
    .filter((line) => line.count > 0 && (line.item === item || line.item === item.split('/')[0]))
    .sort((a, b) => (rank(a) < rank(b) ? -1 : 1))
}
