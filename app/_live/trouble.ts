/** An error for a person: what happened, why it matters, what to do. */
export interface Trouble {
  what: string
  why: string
  todo: string
}

export const NO_ANSWER: Trouble = {
  what: 'The server did not answer.',
  why: 'It is not known whether this was done.',
  todo: 'Look whether the screen shows it; if not, try again. Doing the same thing twice is refused, never counted twice.',
}

const isTrouble = (value: unknown): value is Trouble =>
  typeof value === 'object' && value !== null && 'what' in value && 'why' in value && 'todo' in value

/** The error an answer carries, or the one for an answer that cannot be read. */
export function troubleOf(body: unknown): Trouble {
  if (isTrouble(body)) return body
  if (typeof body !== 'object' || body === null) return NO_ANSWER
  if ('error' in body) return troubleOf(body.error)
  if ('trouble' in body) return troubleOf(body.trouble)
  return 'data' in body ? troubleOf(body.data) : NO_ANSWER
}

/** Sends a form to the server as JSON; the trouble where it is refused, null where it was done. */
export async function post(path: string, form: unknown): Promise<Trouble | null> {
  try {
    const answer = await fetch(path, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(form),
    })
    return answer.ok ? null : troubleOf(await answer.json().catch(() => null))
  } catch {
    return NO_ANSWER
  }
}
