import { z } from 'zod'
import { SUBSTANCES } from '../allergies/substance.ts'
import { parseDay } from '../base/moment.ts'
import { refuse } from '../base/result.ts'
import { putting, removing } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { KitId, MemberId, StockLineId } from '../ids.ts'
import { PACK_KINDS } from '../sterility/sterility-facts.ts'
import { done } from './decide.ts'
import { KIT_LINES } from './kits.ts'
import { judgeStock } from './stock.ts'
import { type Contents, KIT_KEYS, type Kit, LINE_CLASSES, type StockLine } from './tray.ts'

const stockLineId = z.uuid().transform((id) => id as StockLineId)
const count = z.number().int().min(0).max(100_000)
const contents = z
  .partialRecord(z.enum(SUBSTANCES), z.enum(['free', 'contains', 'unknown']))
  .transform((known) => known as Contents)

/** A lot as it stands from now on, and whether its item is to be ordered, all its lots taken together. */
function put(world: World, line: StockLine, { today }: CommandContext): Decision {
  const others = world.stockLine.filter(({ id, item }) => id !== line.id && item === line.item)
  return done(putting('stockLine', line), judgeStock([...others, line], today))
}

/** Counted by hand; where a level is named, the item is ordered again from there on. */
function counted(
  world: World,
  {
    stockLineId: id,
    count: counts,
    reorderAt,
  }: { stockLineId: StockLineId; count: number; reorderAt: number | null },
  context: CommandContext,
): Decision {
  const line = findFact(world, 'stockLine', id)
  return line
    ? put(world, { ...line, count: counts, reorderAt: reorderAt ?? line.reorderAt }, context)
    : refuse({ rule: 'stock/not-found', level: 'stop', about: `stock:${id}`, id })
}

const kitLine = z.object({
  item: z.string().trim().min(1).max(60),
  name: z.string().trim().min(1).max(80),
  count: z.number().int().min(1).max(200),
  class: z.enum(LINE_CLASSES),
  packKind: z.enum(PACK_KINDS).nullable(),
  contents: contents.transform((known): Contents => ({ latex: 'unknown', ...known })),
  countedBack: z.boolean(),
})

/** The clinic's own kit, or a dentist's variant of it: put in place of the one that stands. */
function changeKit(
  world: World,
  given: Pick<Kit, 'key' | 'dentistId' | 'lines'>,
  { clinicId, newId }: CommandContext,
): Decision {
  const standing = world.kit.find((kit) => kit.key === given.key && kit.dentistId === given.dentistId)
  const id = standing?.id ?? newId<KitId>()
  return done(putting('kit', { clinicId, id, name: KIT_LINES[given.key].name, ...given }))
}

export const STOCK_COMMANDS = {
  'kit.change': commandRule({
    kind: 'kit.change',
    needs: 'clinic:set',
    input: z.object({
      key: z.enum(KIT_KEYS),
      dentistId: z
        .uuid()
        .transform((id) => id as MemberId)
        .nullable(),
      lines: z.array(kitLine).min(1).max(60),
    }),
    // Every tray still to come is drawn anew from the list.
    reach: () => ({ upcoming: true }),
    decide: changeKit,
  }),
  /** The dentist's own list goes; from now on the clinic's is laid out for them too. */
  'kit.drop': commandRule({
    kind: 'kit.drop',
    needs: 'clinic:set',
    input: z.object({ kitId: z.uuid().transform((id) => id as KitId) }),
    reach: () => ({ upcoming: true }),
    decide: (world, { kitId }) => {
      const kit = findFact(world, 'kit', kitId)
      return kit && kit.dentistId !== null
        ? done(removing('kit', kitId))
        : refuse({ rule: 'kit/not-found', level: 'stop', about: `kit:${kitId}`, id: kitId })
    },
  }),
  'stock.count': commandRule({
    kind: 'stock.count',
    needs: 'stock:count',
    input: z.object({ stockLineId, count, reorderAt: count.nullable().default(null) }),
    reach: () => ({ stock: true as const }),
    decide: counted,
  }),
  /** A new lot on the shelf. What its label does not say of latex is unknown. */
  'stock.receive': commandRule({
    kind: 'stock.receive',
    needs: 'stock:count',
    input: z.object({
      item: z.string().trim().min(1).max(60),
      name: z.string().trim().min(1).max(80),
      lot: z.string().trim().min(1).max(60),
      expires: z
        .string()
        .refine((text) => parseDay(text) !== null, 'A day is written YYYY-MM-DD.')
        .transform((text) => parseDay(text))
        .nullable(),
      count,
      reorderAt: count,
      contents,
    }),
    reach: () => ({ stock: true as const }),
    decide: (world, input, context) =>
      put(
        world,
        {
          clinicId: context.clinicId,
          id: context.newId<StockLineId>(),
          ...input,
          contents: { latex: 'unknown', ...input.contents },
        },
        context,
      ),
  }),
}
