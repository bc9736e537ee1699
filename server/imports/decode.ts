/** How a file's bytes became text, for the chip beside the preview. */
export interface Decoded {
  text: string
  encoding: 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252'
  /** Told by a mark at the head of the file, or found out by trying. */
  marked: boolean
}

/**
 * The ladder: byte order mark, alternating zero bytes, strict UTF-8, Windows-1252. Each step can only be reached
 * when the one before has failed, so nothing is guessed that can be known.
 */
export function decode(bytes: Uint8Array): Decoded {
  const marked = markOf(bytes)
  if (marked) return { text: textOf(bytes, marked), encoding: marked, marked: true }
  const wide = wideWithoutMark(bytes)
  if (wide) return { text: textOf(bytes, wide), encoding: wide, marked: false }
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    return { text: plainText(text), encoding: 'utf-8', marked: false }
  } catch {
    return { text: plainText(westernText(bytes)), encoding: 'windows-1252', marked: false }
  }
}

/** No database text holds a NUL or half a character: both are shown by a sign instead of being dropped. */
export const plainText = (text: string): string =>
  text.replaceAll('\0', '\u2400').replace(/\p{Surrogate}/gu, '\uFFFD')

/** Bytes 80 to 9F of Windows-1252 (WHATWG Encoding, READ): several releases of Node decode them as Latin-1. */
const WESTERN = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008DŽ\u008F\u0090‘’“”•–—˜™š›œ\u009DžŸ'

/** Bytes read as Windows-1252: every byte is some letter, so it cannot fail. */
export const westernText = (bytes: Uint8Array): string =>
  Buffer.from(bytes)
    .toString('latin1')
    .replace(/[\u0080-\u009F]/g, (control) => WESTERN[control.charCodeAt(0) - 0x80] ?? control)

const textOf = (bytes: Uint8Array, encoding: 'utf-8' | 'utf-16le' | 'utf-16be'): string =>
  plainText(new TextDecoder(encoding).decode(bytes))

/** The encoding that a byte order mark at the head names. */
export function markOf([first, second, third]: Uint8Array): 'utf-8' | 'utf-16le' | 'utf-16be' | null {
  if (first === 0xef && second === 0xbb && third === 0xbf) return 'utf-8'
  if (first === 0xff && second === 0xfe) return 'utf-16le'
  if (first === 0xfe && second === 0xff) return 'utf-16be'
  return null
}

/** Text of western letters in UTF-16 has a zero in every other byte. */
function wideWithoutMark(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  const head = bytes.subarray(0, 512)
  if (head.length < 8 || bytes.length % 2 !== 0) return null
  const zeros = (from: number): number =>
    head.filter((byte, index) => index % 2 === from && byte === 0).length / Math.floor(head.length / 2)
  if (zeros(1) > 0.7 && zeros(0) < 0.1) return 'utf-16le'
  return zeros(0) > 0.7 && zeros(1) < 0.1 ? 'utf-16be' : null
}
