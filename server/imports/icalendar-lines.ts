import { type Decoded, decode } from './decode.ts'

/** One property of a calendar file: `NAME;PARAM=value:VALUE`. Names are upper case. */
export interface Property {
  name: string
  params: Record<string, string>
  value: string
  line: number
}

/** A component as it stood: its properties, what is in it, and whether it was ever closed. */
export interface Component {
  name: string
  properties: Property[]
  components: Component[]
  line: number
  original: string
  closed: boolean
}

const LF = 0x0a
const CR = 0x0d
const isBlank = (byte: number | undefined): boolean => byte === 0x20 || byte === 0x09

/**
 * RFC 5545 section 3.1: lines are folded at 75 octets, which can fall inside a character. So the bytes are unfolded
 * first and decoded after, and with them it is said how the letters were read.
 */
export function unfold(bytes: Uint8Array): { lines: { text: string; line: number }[]; letters: Letters } {
  const wide = wideText(bytes)
  const narrow = wide ? Buffer.from(wide.text, 'utf-8') : bytes
  const out = Buffer.alloc(narrow.length + 1)
  const lines: number[] = [1]
  let length = 0
  let line = 1
  for (let at = 0; at < narrow.length; at += 1) {
    const byte = narrow[at]
    if (byte !== CR && byte !== LF) {
      length = out.writeUInt8(byte ?? 0, length)
      continue
    }
    if (byte === CR && narrow[at + 1] === LF) at += 1
    line += 1
    if (isBlank(narrow[at + 1])) at += 1
    else {
      length = out.writeUInt8(LF, length)
      lines.push(line)
    }
  }
  const decoded = decode(out.subarray(0, length))
  const { encoding, marked, damaged } = wide ?? decoded
  return {
    letters: { encoding, marked, damaged },
    lines: decoded.text.split('\n').map((each, index) => ({ text: each, line: lines[index] ?? line })),
  }
}

type Letters = Omit<Decoded, 'text'>

/** UTF-16 is turned into UTF-8 before anything is looked for byte by byte. */
function wideText(bytes: Uint8Array): Decoded | null {
  const head = decode(bytes.subarray(0, 64))
  return head.encoding.startsWith('utf-16') ? decode(bytes) : null
}

/** Splits a content line; quotes protect `:`, `;` and `,` in parameters. Null where there is no name or no colon. */
export function parseProperty(text: string, line: number): Property | null {
  const params: Record<string, string> = {}
  let at = endOf(text, 0)
  const name = text.slice(0, at).toUpperCase().replace(/^.*\./, '')
  if (!/^[A-Z0-9-]+$/.test(name)) return null
  while (text[at] === ';') {
    const end = endOf(text, at + 1)
    const [key = '', ...value] = text.slice(at + 1, end).split('=')
    params[key.toUpperCase()] = value.join('=').replaceAll('"', '')
    at = end
  }
  return text[at] === ':' ? { name, params, value: text.slice(at + 1), line } : null
}

function endOf(text: string, from: number): number {
  let quoted = false
  for (let at = from; at < text.length; at += 1) {
    if (text[at] === '"') quoted = !quoted
    else if (!quoted && (text[at] === ';' || text[at] === ':')) return at
  }
  return text.length
}

/** RFC 5545 section 3.3.11. */
export const unescapeText = (text: string): string =>
  text.replace(/\\([nN;,\\])/g, (_, sign: string) => (sign === 'n' || sign === 'N' ? '\n' : sign))

/** Nested components of a file; text outside any of them and lines that are none are given back. */
export function parseComponents(bytes: Uint8Array): {
  components: Component[]
  stray: { line: number; text: string }[]
  letters: Letters
} {
  const components: Component[] = []
  const stray: { line: number; text: string }[] = []
  const open: Component[] = []
  const { lines, letters } = unfold(bytes)
  for (const { text, line } of lines) {
    if (text.trim() === '') continue
    const property = parseProperty(text, line)
    for (const each of open) each.original += `${text}\n`
    if (property?.name === 'BEGIN') {
      const component: Component = {
        name: property.value.trim().toUpperCase(),
        properties: [],
        components: [],
        line,
        original: `${text}\n`,
        closed: false,
      }
      ;(open.at(-1)?.components ?? components).push(component)
      open.push(component)
    } else if (property?.name === 'END') closeUpTo(open, property.value.trim().toUpperCase())
    else if (property === null || open.length === 0) stray.push({ line, text })
    else open.at(-1)?.properties.push(property)
    if (open.length > 20) break
  }
  return { components, stray, letters }
}

/** Ends the innermost component of this name. Those inside it that were never ended stay unclosed. */
function closeUpTo(open: Component[], name: string): void {
  const index = open.map((each) => each.name).lastIndexOf(name)
  if (index < 0) return
  const ended = open[index]
  if (ended) ended.closed = true
  open.length = index
}

export const propertyOf = (component: Component, name: string): Property | undefined =>
  component.properties.find((property) => property.name === name)
export const propertiesOf = (component: Component, name: string): Property[] =>
  component.properties.filter((property) => property.name === name)
/** A property's text, unescaped; empty where it is not there. */
export const textOf = (component: Component, name: string): string =>
  unescapeText(propertyOf(component, name)?.value ?? '')
