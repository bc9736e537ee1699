import type { Day } from '#shared/base/moment.ts'
import type { TrayFinding } from '#shared/trays/findings.ts'
import { KIT_LINES } from '#shared/trays/kits.ts'
import { isPastDate, judgeStock } from '#shared/trays/stock.ts'
import { KIT_KEYS, type Kit, type StockLine } from '#shared/trays/tray.ts'

/** The shelf with the kits that are laid out from it, today: a lot is past its date from the day after. */
export interface StockSeen {
  lines: readonly StockLine[]
  kits: readonly Kit[]
  today: Day
}

/** One item of the shelf with its lots, the one to be used first on top. */
export interface ShelfItem {
  item: string
  name: string
  lots: StockLine[]
  /** What is in date. */
  left: number
  reorderAt: number
  /** Set where it is to be ordered. */
  finding: TrayFinding | null
}

export function shelfOf({ lines, today }: Pick<StockSeen, 'lines' | 'today'>): ShelfItem[] {
  const findings = judgeStock(lines, today)
  return [...new Set(lines.map(({ item }) => item))]
    .map((item): ShelfItem => {
      const lots = lines.filter((line) => line.item === item).sort(byDate)
      return {
        item,
        name: lots[0]?.name ?? item,
        lots,
        left: lots.reduce((sum, lot) => sum + (isPastDate(lot, today) ? 0 : lot.count), 0),
        reorderAt: Math.max(...lots.map(({ reorderAt }) => reorderAt)),
        finding: findings.find(({ about }) => about === `stock:${item}`) ?? null,
      }
    })
    .sort((a, b) => a.name.localeCompare(b.name))
}

const dated = ({ expires }: StockLine): string => expires ?? '9999-12-31'
const byDate = (a: StockLine, b: StockLine): number =>
  dated(a).localeCompare(dated(b)) || a.lot.localeCompare(b.lot)

/** What kits take from the shelf, by item, each once: the clinic's own lists, and the general one where it has none. */
export const itemsOfKits = ({ kits }: Pick<StockSeen, 'kits'>): { item: string; name: string }[] => {
  const found = new Map<string, string>()
  const general = KIT_KEYS.filter((key) => !kits.some((kit) => kit.key === key && kit.dentistId === null))
  const lists = [...kits.map(({ lines }) => lines), ...general.map((key) => KIT_LINES[key].lines)]
  for (const line of lists.flat()) {
    if (line.class !== 'reusable-set' && !found.has(line.item)) found.set(line.item, line.name)
  }
  return [...found].map(([item, name]) => ({ item, name })).sort((a, b) => a.name.localeCompare(b.name))
}

/** Items that trays want and of which no lot was ever listed: how much is left is not known. */
export const neverListed = (stock: Pick<StockSeen, 'lines' | 'kits'>): string[] =>
  itemsOfKits(stock)
    .filter(({ item }) => !stock.lines.some((line) => line.item === item))
    .map(({ name }) => name)

export type LotState = 'in-date' | 'past-date' | 'used-up'
export const stateOfLot = (lot: StockLine, today: Day): LotState =>
  lot.count === 0 ? 'used-up' : isPastDate(lot, today) ? 'past-date' : 'in-date'
