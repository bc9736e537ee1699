import type { ZodError } from 'zod'
import { ok, type Result, refuse } from '#shared/base/result.ts'
import type { Command, CommandRule } from '#shared/command.ts'
import { findCommandRule } from '#shared/decide.ts'
import { parseId } from '#shared/ids.ts'
import type { Trouble } from '../http/reply.ts'

export interface Parsed {
  rule: CommandRule<string, unknown>
  command: Command
}

const NOT_A_COMMAND = 'Nothing was changed.'
const ISSUES_SHOWN = 5

const troubled = (what: string, todo: string): { ok: false; reasons: Trouble[] } =>
  refuse({ what, why: NOT_A_COMMAND, todo })

/** A character that no text of ours holds: the database refuses NUL, and half a surrogate pair is no character. */
const hasBrokenText = (value: unknown): boolean => {
  if (typeof value === 'string') return value.includes('\0') || /\p{Surrogate}/u.test(value)
  if (typeof value !== 'object' || value === null) return false
  return Object.entries(value).some(([key, part]) => hasBrokenText(key) || hasBrokenText(part))
}

/** The outside is parsed once: kind, ids and input; the reasons are troubles in three parts. */
export function parseCommand(command: Command): Result<Parsed, Trouble> {
  const rule = findCommandRule(command.kind)
  if (rule === null) {
    return troubled(
      `There is no command called “${command.kind}”.`,
      'Reload this screen: it may be older than the server.',
    )
  }
  if (parseId(command.id) === null || parseId(command.by) === null) {
    return troubled('The command carries no proper id.', 'Reload this screen and try again.')
  }
  if (hasBrokenText(command.input) || hasBrokenText(command.station)) {
    return troubled(
      'A text holds a character that cannot be kept.',
      'Type it again without special characters.',
    )
  }
  const input = rule.input.safeParse(command.input)
  if (!input.success)
    return troubled(
      `This cannot be taken as it is: ${problemsOf(input.error)}.`,
      'Correct what is named and try again.',
    )
  return ok({ rule, command: { ...command, input: input.data } })
}

const problemsOf = (error: ZodError): string =>
  error.issues
    .slice(0, ISSUES_SHOWN)
    .map((issue) => `${issue.path.join('.') || 'input'}: ${issue.message}`)
    .join('; ')
