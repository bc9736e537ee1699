import type { Made } from '../commands/made.ts'

/** So many letters cross between two threads at a time: taking all at once would hold up everybody else. */
const PART = 512 * 1024

/** A message between the threads of a run: a piece of a long text, or an answer whose long texts went before it. */
export type Message<T> = { kind: 'part'; part: string } | { kind: 'whole'; answer: T; lengths: number[] }

type Decided = Extract<Made, { kind: 'made' }>
const isDecided = (answer: unknown): answer is Decided =>
  typeof answer === 'object' && answer !== null && 'kind' in answer && answer.kind === 'made'

const piecesOf = (text: string): string[] =>
  Array.from({ length: Math.ceil(text.length / PART) }, (_, index) =>
    text.slice(index * PART, (index + 1) * PART),
  )

/** An answer as messages: the long texts of a decision in pieces, in a fixed order, then the rest. */
export function messagesOf<T>(answer: T): Message<T>[] {
  if (!isDecided(answer)) return [{ kind: 'whole', answer, lengths: [] }]
  const { rows, content } = answer
  const texts = [...rows.put.map(({ text }) => text), content.command, content.change, content.before].map(
    piecesOf,
  )
  const bare: Decided = {
    ...answer,
    rows: { ...rows, put: rows.put.map((put) => ({ ...put, text: '' })) },
    content: { ...content, command: '', change: '', before: '' },
  }
  return [
    ...texts.flat().map((part): Message<T> => ({ kind: 'part', part })),
    { kind: 'whole', answer: bare as T, lengths: texts.map((pieces) => pieces.length) },
  ]
}

/** The answer again, from its pieces. */
export function joinMessages<T>(
  parts: readonly string[],
  { answer, lengths }: { answer: T; lengths: number[] },
): T {
  if (!isDecided(answer)) return answer
  let taken = 0
  const texts = lengths.map((length) => {
    taken += length
    return parts.slice(taken - length, taken).join('')
  })
  const { rows, content } = answer
  const [command = '', change = '', before = ''] = texts.slice(rows.put.length)
  return {
    ...answer,
    rows: { ...rows, put: rows.put.map((put, index) => ({ ...put, text: texts[index] ?? '' })) },
    content: { ...content, command, change, before },
  }
}
