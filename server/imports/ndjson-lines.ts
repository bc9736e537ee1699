import { isUtf8 } from 'node:buffer'
import { isMeantAsUtf8, LOST, markOf, plainText, westernText } from './decode.ts'
import { LONGEST_ORIGINAL } from './incoming.ts'

/** A line above this is told and not read: it is never held whole. Bytes. */
export const LONGEST_LINE_BYTES = 4 * 1024 * 1024
const CHUNK_BYTES = 64 * 1024
const LINE_END = 0x0a

/** A line that is not blank, by its place from 1. */
export interface Line {
  line: number
  /** Whole, or null where it is longer than any that is read. */
  text: string | null
  /** As much of it as a list of problems shows; a text of its own, so that it does not hold the line. */
  original: () => string
  letters: Letters
}

/** Whether a line is what its encoding allows; else read as Windows-1252, or with letters lost, each as U+FFFD. */
type Letters = 'whole' | 'western' | 'lost'

export interface LineOptions {
  longest?: number
  /** The file as a whole is known to be UTF-8, so that other bytes in it are lost letters, whatever else stands in their line. */
  meantAsUtf8?: boolean
}

/** A file in pieces, none of them copied. */
export function* chunksOf(bytes: Uint8Array): Generator<Uint8Array> {
  for (let from = 0; from < bytes.length; from += CHUNK_BYTES) yield bytes.subarray(from, from + CHUNK_BYTES)
}

/**
 * The lines of a stream of bytes, one at a time: no more is held than the line that is being read. They are parted
 * as bytes and decoded whole, so no character is cut; CR before the line end is white space to JSON. UTF-8 as
 * RFC 8259 demands (READ); UTF-16 where it carries its mark.
 */
export function* linesOf(chunks: Iterable<Uint8Array>, options: LineOptions = {}): Generator<Line> {
  const { longest = LONGEST_LINE_BYTES, meantAsUtf8 = false } = options
  const stream: Stream = { wide: null }
  let line = 0
  for (const bytes of partedLines(asUtf8(chunks, stream), longest)) {
    line += 1
    const read = readLine(bytes, { longest, meantAsUtf8, stream })
    if (read.text?.trim() !== '') yield { line, ...read }
  }
}

/** The bytes between line ends; of a line that is too long its head and one byte more than `longest`. */
function* partedLines(chunks: Iterable<Uint8Array>, longest: number): Generator<Uint8Array> {
  let held: Uint8Array[] = []
  let size = 0
  const hold = (part: Uint8Array): void => {
    const room = Math.min(part.length, longest + 1 - size)
    if (room <= 0) return
    // A copy, so that no line holds its piece nor changes with it.
    held.push(Buffer.from(part.subarray(0, room)))
    size += room
  }
  const release = (): Uint8Array => {
    const [only] = held
    const bytes = held.length === 1 && only ? only : Buffer.concat(held)
    held = []
    size = 0
    return bytes
  }
  for (const chunk of chunks) {
    let from = 0
    for (let end = chunk.indexOf(LINE_END); end >= 0; end = chunk.indexOf(LINE_END, from)) {
      hold(chunk.subarray(from, end))
      yield release()
      from = end + 1
    }
    hold(chunk.subarray(from))
  }
  if (size > 0) yield release()
}

const DECODER = new TextDecoder()

type How = Required<LineOptions> & { stream: Stream }

function readLine(bytes: Uint8Array, how: How): Omit<Line, 'line'> {
  const isWhole = bytes.length <= how.longest
  const letters = isWhole ? lettersOf(bytes, how) : 'whole'
  const western = letters === 'western'
  return {
    text: isWhole ? decodeLine(bytes, western) : null,
    original: () => headOf(bytes, western),
    letters,
  }
}

function lettersOf(bytes: Uint8Array, { meantAsUtf8, stream }: How): Letters {
  // What was lost in UTF-16 is U+FFFD already.
  if (isUtf8(bytes)) return stream.wide && Buffer.from(bytes).includes(LOST) ? 'lost' : 'whole'
  return meantAsUtf8 || isMeantAsUtf8(bytes) ? 'lost' : 'western'
}

const decodeLine = (bytes: Uint8Array, western: boolean): string =>
  western ? westernText(bytes) : DECODER.decode(bytes)

/** The first letters of a line, read again from its bytes. A letter is four of them at most. */
function headOf(bytes: Uint8Array, western: boolean): string {
  const text = plainText(decodeLine(bytes.subarray(0, 4 * LONGEST_ORIGINAL), western))
  return Buffer.from(text.slice(0, LONGEST_ORIGINAL)).toString().trimEnd()
}

/** What is known of a stream once its head has come: UTF-16, or else null. */
interface Stream {
  wide: TextDecoder | null
}

/** The pieces as UTF-8: those of UTF-16 are written again, the others pass through. */
function* asUtf8(chunks: Iterable<Uint8Array>, stream: Stream): Generator<Uint8Array> {
  let head: Uint8Array | null = new Uint8Array()
  for (const chunk of chunks) {
    if (head === null) {
      yield recoded(stream.wide, chunk)
      continue
    }
    head = Buffer.concat([head, chunk])
    if (head.length < 3) continue
    stream.wide = wideDecoder(head)
    yield recoded(stream.wide, head)
    head = null
  }
  if (head !== null) yield recoded(wideDecoder(head), head)
  if (stream.wide) yield Buffer.from(stream.wide.decode())
}

const recoded = (wide: TextDecoder | null, bytes: Uint8Array): Uint8Array =>
  wide ? Buffer.from(wide.decode(bytes, { stream: true })) : bytes

function wideDecoder(head: Uint8Array): TextDecoder | null {
  const mark = markOf(head)
  return mark === null || mark === 'utf-8' ? null : new TextDecoder(mark)
}
