import type { Brand } from '#shared/base/brand.ts'

/** A fresh UUID (version 4). `crypto.randomUUID` is missing on a clinic's plain-http network; these bytes are not. */
export function newId<Id extends Brand<string, string>>(): Id {
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  const hex = [...bytes].map((byte, index) => twoDigits(fixed(byte, index))).join('')
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-') as Id
}

/** RFC 9562: version 4 in byte 6, variant 10 in byte 8. */
function fixed(byte: number, index: number): number {
  if (index === 6) return (byte & 0x0f) | 0x40
  return index === 8 ? (byte & 0x3f) | 0x80 : byte
}
const twoDigits = (byte: number): string => byte.toString(16).padStart(2, '0')
