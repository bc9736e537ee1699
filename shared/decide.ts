import { must } from './base/assert.ts'
import { refuse } from './base/result.ts'
import type { Command, CommandContext, CommandRule, Decision } from './command.ts'
import { COMMANDS } from './commands.ts'
import { followThrough } from './consequences.ts'
import type { World } from './facts.ts'
import { can } from './people/role.ts'

type AnyRule = CommandRule<string, unknown>

/** The rule of a kind of command; null where there is no such command. */
export const findCommandRule = (kind: string): AnyRule | null =>
  Object.hasOwn(COMMANDS, kind) ? ((COMMANDS as unknown as Record<string, AnyRule>)[kind] ?? null) : null

/**
 * What comes of a command in a world: whether the person may, what its own rule says, and all that follows from
 * it. `command.input` has been parsed by the rule's own schema. Pure: ids and the moment come with the context.
 */
export function decide(
  world: World,
  command: Pick<Command, 'kind' | 'input'>,
  context: CommandContext,
): Decision {
  const rule = must(findCommandRule(command.kind), `no command is called ${command.kind}`)
  if (!context.by.active || !can(context.by.roles, rule.needs)) {
    return refuse({ rule: 'person/not-allowed', level: 'stop', about: `member:${context.by.id}` })
  }
  const decision = rule.decide(world, command.input, context)
  if (!decision.ok) return decision
  const change = followThrough(world, decision.value.change, context)
  return { ok: true, value: { ...decision.value, change } }
}
