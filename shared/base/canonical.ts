import canonicalize from 'canonicalize'
import { must } from './assert.ts'

/** JSON by RFC 8785: equal values give equal text. */
export const canonicalJson = (value: unknown): string =>
  must(canonicalize(value), 'only JSON values have a canonical form')
