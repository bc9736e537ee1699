import { z } from 'zod'
import { makeUniversal, nameTooth } from '#shared/teeth/notation.ts'
import { NOTATIONS } from '#shared/teeth/notation-names.ts'
import { parseTeeth } from '#shared/teeth/parse-teeth.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { badUsage, type VerbAnswer } from './answer.ts'

const request = z.object({
  text: z.string().max(4000),
  // Free text whose numbering nobody has named: a number that is legal in two systems is asked.
  notation: z.enum(NOTATIONS).default('ask'),
})

/** A tooth in both numberings and in words. */
export const describeTooth = (tooth: Tooth) => ({
  iso: tooth,
  universal: makeUniversal(tooth),
  words: nameTooth(tooth),
})

/** `teeth`: the teeth that a note names, or the candidates to be asked. */
export function answerTeeth(input: unknown): VerbAnswer {
  const parsed = request.safeParse(input)
  if (!parsed.success) return badUsage(explain(parsed.error))
  const { mentions, result, teeth } = parseTeeth(parsed.data.text, parsed.data.notation)
  const body = {
    mentions: mentions.map((mention) => ({
      text: mention.text,
      result: mention.result,
      teeth: mention.teeth.map(describeTooth),
    })),
    result,
    teeth: teeth.map(describeTooth),
  }
  return { body, exit: 0 }
}

/** What was wrong with a request, why it matters, what to do. */
export function explain(error: z.ZodError): string {
  const what = error.issues
    .map((issue) => `${issue.path.join('.') || 'the request'}: ${issue.message}`)
    .join('; ')
  return `The request cannot be read (${what}). Nothing was checked. Mend these keys and send it again.`
}
