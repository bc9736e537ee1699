import { isDeepStrictEqual } from 'node:util'
import { type Rows, rowsOf } from '#db/rows.ts'
import type { WorldTexts } from '#db/select.ts'
import { type Change, isEmpty, standingBefore } from '#shared/change.ts'
import type { Command, CommandContext, Reach } from '#shared/command.ts'
import { decide } from '#shared/decide.ts'
import { FACT_NAMES, type World } from '#shared/facts.ts'
import type { Finding } from '#shared/finding.ts'
import { type Departure, departuresOf } from './departures.ts'
import { type Content, type ContentTexts, sealContent } from './journal.ts'
import { appointmentsOf } from './reach-of-entry.ts'

/**
 * A decision as it will be kept. The megabytes of a long one are texts already, so it can be made in another thread
 * and kept from this one.
 */
export type Made =
  | { kind: 'refused'; findings: Finding[] }
  | { kind: 'nothing'; findings: Finding[] }
  | {
      kind: 'made'
      findings: Finding[]
      rows: Rows
      /** Which appointments it touches. */
      appointments: string[]
      /** What it takes from operatories and dentists. */
      departures: Departure[]
      content: ContentTexts
      /** What whoever asked is told of the change: all of it, or of a long import the record of its run. */
      told: Change
    }

/** All that a decision rests on but the facts; new ids are made where it is decided. */
export type Around = Omit<CommandContext, 'newId'>

/** How a command is decided: what must be read for it, and what comes of it; a long one in another thread, on texts. */
export type Deciding = { reach: Reach } & (
  | { decide: (world: World, around: Around) => Made }
  | { decideApart: (texts: WorldTexts, around: Around) => Promise<Made> }
)

/** Decides a parsed command. */
export function makeMade(
  world: World,
  command: Command,
  { tells = (change) => change, ...context }: CommandContext & { tells?: (change: Change) => Change },
): Made {
  const decision = decide(world, command, context)
  if (!decision.ok) return { kind: 'refused', findings: decision.reasons }
  const { findings } = decision.value
  const change = moving(world, decision.value.change)
  if (isEmpty(change)) return { kind: 'nothing', findings }
  const before = standingBefore(world, change)
  const content: Content = { command, change, before }
  return {
    kind: 'made',
    findings,
    rows: rowsOf(change, before),
    appointments: appointmentsOf(world, change),
    departures: departuresOf(change, before),
    content: sealContent(content, findings),
    told: tells(change),
  }
}

type Row = { id: string }

/** The change as JSON, without what stands so already. */
function moving(world: World, change: Change): Change {
  const plain = JSON.parse(JSON.stringify(change)) as {
    put: Record<string, Row[]>
    remove: Record<string, string[]>
  }
  for (const name of FACT_NAMES) {
    const stood = new Map((world[name] as Row[]).map((fact) => [fact.id, fact]))
    const put = (plain.put[name] ?? []).filter((fact) => !isDeepStrictEqual(stood.get(fact.id), fact))
    const remove = (plain.remove[name] ?? []).filter((id) => stood.has(id))
    if (put.length > 0) plain.put[name] = put
    else delete plain.put[name]
    if (remove.length > 0) plain.remove[name] = remove
    else delete plain.remove[name]
  }
  return plain as unknown as Change
}
