import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import type { World } from '../facts.ts'
import { countMoved, undoing } from './undo.ts'

/** Others' facts and words rest on these; undoing one would pull the floor away. */
const NEVER: readonly string[] = ['clinic.found', 'clock.move', 'journal.undo']

const undo = z.object({ revision: z.int().min(1) })

function decideUndo(world: World, { revision }: z.infer<typeof undo>, context: CommandContext): Decision {
  const about = `revision:${revision}`
  const entry = context.journal
  if (entry === null) return refuse({ rule: 'undo/no-entry', level: 'stop', about, revision })
  if (NEVER.includes(entry.kind))
    return refuse({ rule: 'undo/not-this', level: 'stop', about, kind: entry.kind })
  const facts = countMoved(world, entry)
  if (facts > 0) return refuse({ rule: 'undo/moved-since', level: 'stop', about, facts })
  return ok({ change: undoing(world, entry, context.now), findings: [] })
}

export const JOURNAL_COMMANDS = {
  /** Puts back what one step changed, as a step of its own. */
  'journal.undo': commandRule({
    kind: 'journal.undo',
    needs: 'journal:undo',
    input: undo,
    reach: ({ revision }) => ({ journal: revision }),
    decide: decideUndo,
  }),
}
