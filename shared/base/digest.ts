import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js'
import { canonicalJson } from './canonical.ts'

/** SHA-256 of a text, in lower-case hexadecimal. */
export const digestOfText = (text: string): string => bytesToHex(sha256(utf8ToBytes(text)))

/** SHA-256 of a value's canonical JSON. */
export const digestOf = (value: unknown): string => digestOfText(canonicalJson(value))
