import { isUtf8 } from 'node:buffer'

type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be'

/** How a file's bytes became text, for the chip beside the preview. */
export interface Decoded {
  text: string
  encoding: Encoding | 'windows-1252'
  /** Told by a mark at the head of the file, or found out by trying. */
  marked: boolean
  /** Some bytes are no letters in this encoding: each stands as U+FFFD. */
  damaged: boolean
}

/**
 * The ladder: byte order mark, alternating zero bytes, strict UTF-8, UTF-8 with a few bytes broken, Windows-1252. Each
 * step can only be reached when the one before has failed, so nothing is guessed that can be known.
 */
export function decode(bytes: Uint8Array): Decoded {
  const marked = markOf(bytes)
  if (marked) return { ...wordsOf(bytes, marked), encoding: marked, marked: true }
  const wide = wideWithoutMark(bytes)
  if (wide) return { ...wordsOf(bytes, wide), encoding: wide, marked: false }
  if (isMeantAsUtf8(bytes)) return { ...wordsOf(bytes, 'utf-8'), encoding: 'utf-8', marked: false }
  return { text: plainText(westernText(bytes)), encoding: 'windows-1252', marked: false, damaged: false }
}

function wordsOf(bytes: Uint8Array, encoding: Encoding): Pick<Decoded, 'text' | 'damaged'> {
  const decoder = new TextDecoder(encoding, { fatal: true })
  try {
    return { text: plainText(decoder.decode(bytes)), damaged: false }
  } catch {
    return { text: plainText(new TextDecoder(encoding).decode(bytes)), damaged: true }
  }
}

/** Whether bytes are UTF-8, be it with a few of them broken. */
export const isMeantAsUtf8 = (bytes: Uint8Array): boolean => isUtf8(bytes) || isMostlyUtf8(bytes)

/** Windows-1252 hardly ever makes two letters that are one in UTF-8; a file with more such than stray bytes is UTF-8. */
function isMostlyUtf8(bytes: Uint8Array): boolean {
  let letters = 0
  let stray = 0
  for (let at = 0; at < bytes.length; ) {
    const size = sizeOfLetter(bytes, at)
    if (size > 1) letters += 1
    else if (size === 0) stray += 1
    at += Math.max(1, size)
  }
  return letters > 0 && letters >= stray
}

/** How many bytes a letter takes by its first (RFC 3629 section 3, COMMON); none where those that follow are not its own. */
function sizeOfLetter(bytes: Uint8Array, at: number): number {
  const first = bytes[at] ?? 0
  if (first < 0x80) return 1
  const size = first < 0xc2 || first > 0xf4 ? 0 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : 4
  const isWhole = bytes.subarray(at + 1, at + size).every((byte) => byte >> 6 === 0b10)
  return size > 0 && isWhole && at + size <= bytes.length ? size : 0
}

/** Stands where bytes are no letter. */
export const LOST = '\uFFFD'

/** What is told of a row, an event or a resource in which a letter is lost. */
export const lostLetter = (where: 'row' | 'line' | 'event' | 'entry'): [string, string, string] => [
  `A letter of this ${where} is no letter in the encoding of the file.`,
  'A name with a letter missing is another patient.',
  `Mend the letter, shown as ${LOST}, or enter this appointment by hand.`,
]

/** What a preview says of how the letters were read, where that was found out by trying. */
export const sayLetters = ({ marked, encoding }: Pick<Decoded, 'marked' | 'encoding'>): string[] =>
  !marked && encoding !== 'utf-8' ? [`The letters were read as ${encoding}.`] : []

/** No database text holds a NUL or half a character: both are shown by a sign instead of being dropped. */
export const plainText = (text: string): string =>
  text.replaceAll('\0', '\u2400').replace(/\p{Surrogate}/gu, LOST)

/** Bytes 80 to 9F of Windows-1252 (WHATWG Encoding, READ): several releases of Node decode them as Latin-1. */
const WESTERN = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008DŽ\u008F\u0090‘’“”•–—˜™š›œ\u009DžŸ'

/** Bytes read as Windows-1252: every byte is some letter, so it cannot fail. */
export const westernText = (bytes: Uint8Array): string =>
  Buffer.from(bytes)
    .toString('latin1')
    .replace(/[\u0080-\u009F]/g, (control) => WESTERN[control.charCodeAt(0) - 0x80] ?? control)

/** The encoding that a byte order mark at the head names. */
export function markOf([first, second, third]: Uint8Array): Encoding | null {
  if (first === 0xef && second === 0xbb && third === 0xbf) return 'utf-8'
  if (first === 0xff && second === 0xfe) return 'utf-16le'
  if (first === 0xfe && second === 0xff) return 'utf-16be'
  return null
}

/**
 * UTF-16 has a zero in one byte of two wherever a letter, a sign or a line end is a western one, and hardly any in the
 * other; in no other encoding does text hold a zero. Names may be in letters that have none.
 */
function wideWithoutMark(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  const head = bytes.subarray(0, 4096)
  if (head.length < 8 || bytes.length % 2 !== 0) return null
  const zeros = (from: number): number =>
    head.filter((byte, index) => index % 2 === from && byte === 0).length / Math.floor(head.length / 2)
  const [even, odd] = [zeros(0), zeros(1)]
  if (odd > LEAST_ZEROS && even < odd / MANY_MORE) return 'utf-16le'
  return even > LEAST_ZEROS && odd < even / MANY_MORE ? 'utf-16be' : null
}
/** Separators, figures and line ends of any list are more than this part of it. */
const LEAST_ZEROS = 0.1
const MANY_MORE = 10
