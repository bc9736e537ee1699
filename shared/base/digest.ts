import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js'
import canonicalize from 'canonicalize'
import { must } from './assert.ts'

/** JSON by RFC 8785: equal values give equal text. */
export const canonicalJson = (value: unknown): string =>
  must(canonicalize(value), 'only JSON values have a canonical form')

/** SHA-256 of a text, in lower-case hexadecimal. */
export const digestOfText = (text: string): string => bytesToHex(sha256(utf8ToBytes(text)))

/** SHA-256 of a value's canonical JSON. */
export const digestOf = (value: unknown): string => digestOfText(canonicalJson(value))
