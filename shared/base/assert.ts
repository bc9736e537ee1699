/** A bug, never an expected "no": the message is for the person who mends the code. */
export function assert(condition: unknown, message: string): asserts condition {
  if (!condition) throw new Error(`Bug: ${message}`)
}

/** The value, where its absence would be a bug. */
export function must<T>(value: T | null | undefined, message: string): T {
  assert(value !== null && value !== undefined, message)
  return value
}

/** Marks the end of a switch over a closed union. */
export function unreachable(value: never): never {
  throw new Error(`Bug: unreachable value ${JSON.stringify(value)}`)
}
