import { KIT_LINES } from '#shared/trays/kits.ts'
import { type Ask, memberOf, type Telling } from './telling.ts'

/** One lot on our own shelf. Its label says that it is made without latex; a kit knows less than the lot in hand. */
interface Lot {
  item: string
  name: string
  lot: string
  expires: string
  count: number
  reorderAt: number
}

const lot = (
  item: string,
  name: string,
  [code, expires, count, reorderAt]: [string, string, number, number],
): Lot => ({
  item,
  name,
  lot: code,
  expires,
  count,
  reorderAt,
})

/** Two lots of what is used most, one lot past its date, and one item that is down to where it is ordered again. */
const SHELF: readonly Lot[] = [
  lot('cartridge', 'anaesthetic cartridge', ['L100', '2027-11-30', 400, 50]),
  lot('files', 'files with stops', ['L101', '2027-11-30', 400, 50]),
  lot('gutta-percha', 'gutta-percha points', ['L102', '2027-11-30', 60, 12]),
  lot('cord', 'stabilising cord, made without latex', ['L103', '2027-11-30', 400, 50]),
  lot('gloves', 'nitrile gloves', ['L104', '2027-02-28', 120, 100]),
  lot('gloves', 'nitrile gloves', ['L109', '2028-02-28', 400, 100]),
  lot('bonding-agent', 'bonding agent', ['B771', '2026-12-31', 20, 8]),
  lot('bonding-agent', 'bonding agent', ['B802', '2027-08-31', 30, 8]),
  lot('etchant', 'etchant', ['E288', '2026-10-31', 2, 6]),
  lot('etchant', 'etchant', ['E310', '2027-05-31', 40, 6]),
  lot('composite', 'composite', ['K090', '2027-03-31', 60, 10]),
  lot('occlusion-paper', 'occlusion paper', ['P015', '2029-01-31', 26, 30]),
]

export const fillShelf = (): Ask[] =>
  SHELF.map((each) => ({ kind: 'stock.receive', input: { ...each, contents: { latex: 'free' } } }))

/** One dentist has a list of her own for composites: anatomical wedges more, no finishing discs. */
export function ownKit(telling: Telling): Ask[] {
  const wedges = {
    item: 'wedges',
    name: 'anatomical wedges',
    count: 1,
    class: 'single-use',
    packKind: null,
    contents: { latex: 'free' },
    countedBack: false,
  }
  return [
    {
      kind: 'kit.change',
      input: {
        key: 'direct-composite',
        dentistId: memberOf(telling, 'nambiar'),
        lines: [...KIT_LINES['direct-composite'].lines.filter(({ item }) => item !== 'polishing'), wedges],
      },
    },
  ]
}
