import { z } from 'zod'
import { SUBSTANCES } from '../allergies/substance.ts'
import { parseDay } from '../base/moment.ts'
import { refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { StockLineId } from '../ids.ts'
import { done } from './decide.ts'
import { judgeStock } from './stock.ts'
import type { Contents, StockLine } from './tray.ts'

const stockLineId = z.uuid().transform((id) => id as StockLineId)
const count = z.number().int().min(0).max(100_000)
const contents = z
  .partialRecord(z.enum(SUBSTANCES), z.enum(['free', 'contains', 'unknown']))
  .transform((known) => known as Contents)

const put = (line: StockLine): Decision => done(putting('stockLine', line), judgeStock([line]))

function counted(world: World, id: StockLineId, counts: number): Decision {
  const line = findFact(world, 'stockLine', id)
  return line
    ? put({ ...line, count: counts })
    : refuse({ rule: 'stock/not-found', level: 'stop', about: `stock:${id}`, id })
}

export const STOCK_COMMANDS = {
  'stock.count': commandRule({
    kind: 'stock.count',
    needs: 'stock:count',
    input: z.object({ stockLineId, count }),
    reach: () => ({ stock: true as const }),
    decide: (world, input) => counted(world, input.stockLineId, input.count),
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
    decide: (_, input, context) =>
      put({
        clinicId: context.clinicId,
        id: context.newId<StockLineId>(),
        ...input,
        contents: { latex: 'unknown', ...input.contents },
      }),
  }),
}
