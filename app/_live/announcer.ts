/** Between two utterances. */
export const QUIET_BETWEEN_MS = 5_000

/**
 * Says texts one at a time into a polite live region: the first at once, then at most one in five seconds. What
 * gathers meanwhile is said as one; the same text twice is made different, or it would be passed over.
 */
export function openAnnouncer(show: (text: string) => void) {
  let waiting: string[] = []
  let timer: ReturnType<typeof setTimeout> | null = null
  let last = ''
  const flush = () => {
    timer = null
    if (waiting.length === 0) return
    const text = joined(waiting)
    waiting = []
    last = text === last ? `${text}\u00a0` : text
    show(last)
    timer = setTimeout(flush, QUIET_BETWEEN_MS)
  }
  return {
    say: (text: string) => {
      waiting.push(text)
      if (timer === null) flush()
    },
    close: () => {
      if (timer !== null) clearTimeout(timer)
    },
  }
}

/** Two are said as they are; of more, how many and the latest. */
export const joined = (texts: readonly string[]): string =>
  texts.length <= 2 ? texts.join(' ') : `${texts.length} changes. ${texts.at(-1) ?? ''}`
