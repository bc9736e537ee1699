import { type LookupAddress, lookup } from 'node:dns'
import { request as httpRequest, type IncomingMessage } from 'node:http'
import { request as httpsRequest } from 'node:https'
import { BlockList, isIP, type LookupFunction } from 'node:net'
import { ok, type Result, refuse } from '#shared/base/result.ts'
import { LARGEST_FILE_BYTES } from './incoming.ts'

export interface FetchRules {
  /** Hosts that a manager has named. No other is asked. */
  hosts: readonly string[]
  /** Hosts of `hosts` that may lie inside the clinic's own network. */
  privateHosts: readonly string[]
  /** For the whole fetch, redirects included. Milliseconds. */
  within?: number
}

const MOST_REDIRECTS = 3

/**
 * Addresses that no outside calendar has: the IANA special-purpose address registries (RFC 6890, MEMORY), multicast
 * and what is reserved. Of IPv6 only 2000::/3 is global unicast, so all else lies inside, whatever IPv4 address it
 * holds; within it what tunnels (6to4, Teredo) or stands in documents.
 */
// Two lists: one would compare an IPv4 address with the IPv6 nets as well.
const [INSIDE_4, INSIDE_6] = [new BlockList(), new BlockList()]
for (const [net, prefix] of [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  ['192.0.2.0', 24],
  ['192.88.99.0', 24],
  ['192.168.0.0', 16],
  ['198.18.0.0', 15],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
  ['224.0.0.0', 3],
] as const)
  INSIDE_4.addSubnet(net, prefix, 'ipv4')
for (const [net, prefix] of [
  ['::', 3],
  ['2001::', 23],
  ['2001:db8::', 32],
  ['2002::', 16],
  ['3fff::', 20],
  ['4000::', 2],
  ['8000::', 1],
] as const)
  INSIDE_6.addSubnet(net, prefix, 'ipv6')

/** Whether an address lies inside, or is none. */
export function isInside(address: string): boolean {
  // A zone, as in fe80::1%eth0, says by which door it is reached, not what it is.
  const plain = address.replace(/%.*$/, '')
  if (isIP(plain) === 4) return INSIDE_4.check(plain, 'ipv4')
  return isIP(plain) === 0 || INSIDE_6.check(plain, 'ipv6')
}

/**
 * Fetches a calendar from an address that the clinic has allowed. Each redirect is judged anew, and the address that
 * was judged is the one that is connected to, so a name cannot mean two machines. Refusals are in three parts.
 */
export async function fetchCalendar(address: string, rules: FetchRules): Promise<Result<Uint8Array, string>> {
  const until = Date.now() + (rules.within ?? 20_000)
  let at = address
  for (let redirects = 0; redirects <= MOST_REDIRECTS; redirects += 1) {
    const url = parseAddress(at, rules)
    if (typeof url === 'string') return refuse(url)
    const answer = await ask(url, rules, until).catch((error: unknown) => sayFailure(error))
    if (typeof answer === 'string') return refuse(answer)
    if (answer.kind === 'whole') return ok(answer.bytes)
    const next = safeUrl(answer.to, url)
    if (next === null) return refuse(LEADS_NOWHERE)
    at = next.href
  }
  return refuse(
    'The calendar’s address leads on and on. Where it ends cannot be told, so nothing was fetched. Ask for its final address and enter that.',
  )
}

function parseAddress(text: string, { hosts }: FetchRules): URL | string {
  const url = safeUrl(text)
  if (url === null || (url.protocol !== 'https:' && url.protocol !== 'http:'))
    return 'This is no web address. Nothing can be fetched from it. Enter one that begins with https://.'
  return hosts.includes(url.hostname)
    ? url
    : `${url.hostname} is not among the hosts that calendars may come from. Anyone could hang a machine of their own behind such an address. The manager can name the host beside the calendar’s address.`
}

/** The host of a calendar's address: never what stands before an `@` in it. */
export const hostOf = (address: string): string | null => safeUrl(address)?.hostname ?? null

function safeUrl(text: string, base?: URL): URL | null {
  try {
    return new URL(text.replace(/^webcal:/i, 'https:'), base)
  } catch {
    return null
  }
}

type Answer = { kind: 'whole'; bytes: Uint8Array } | { kind: 'redirect'; to: string }

class Refused extends Error {}

function ask(url: URL, rules: FetchRules, until: number): Promise<Answer> {
  const mayBeInside = rules.privateHosts.includes(url.hostname)
  // A literal address is never looked up, so it is judged here.
  const literal = url.hostname.replace(/^\[|\]$/g, '')
  if (isIP(literal) !== 0 && isInside(literal) && !mayBeInside)
    return Promise.reject(new Refused(INSIDE_WORDS))
  return new Promise((resolve, reject) => {
    const send = url.protocol === 'https:' ? httpsRequest : httpRequest
    const asking = send(url, {
      // A connection kept from before was judged under other rules, so none is used again.
      agent: false,
      lookup: judgedLookup(mayBeInside),
      headers: { accept: 'text/calendar', 'accept-encoding': 'identity' },
    })
    const late = setTimeout(() => asking.destroy(new Refused(LATE_WORDS)), Math.max(0, until - Date.now()))
    asking.once('error', reject)
    asking.once('close', () => clearTimeout(late))
    asking.once('response', (response) => read(response).then(resolve, reject))
    asking.end()
  })
}

const judgedLookup =
  (mayBeInside: boolean): LookupFunction =>
  (hostname, options, callback) => {
    lookup(hostname, { ...options, all: true }, (error, found) => {
      const addresses: LookupAddress[] = found ?? []
      const [first] = addresses
      const judged = !mayBeInside && addresses.some(({ address }) => isInside(address))
      if (error || judged || first === undefined) callback(error ?? new Refused(INSIDE_WORDS), '', 4)
      else if (options.all) callback(null, addresses)
      else callback(null, first.address, first.family)
    })
  }

const INSIDE_WORDS =
  'The address lies inside the clinic’s own network. An outside calendar that leads there could read what is meant for nobody. If it is yours, whoever looks after this server can name it in the setting CALENDAR_INSIDE_HOSTS.'
const LEADS_NOWHERE =
  'The calendar’s address leads on to something that is no web address. Where the calendar is now cannot be told, so nothing was fetched. Ask for its final address and enter that.'
const LATE_WORDS =
  'The calendar did not answer in time. What is known of the day stands. It is asked again at the next round.'

async function read(response: IncomingMessage): Promise<Answer> {
  const status = response.statusCode ?? 0
  const { location } = response.headers
  if (status >= 300 && status < 400 && location) {
    response.destroy()
    return { kind: 'redirect', to: location }
  }
  if (status !== 200) {
    response.destroy()
    throw new Refused(
      `The calendar’s server answered with ${status}. What is known of the day stands. See whether the address still holds.`,
    )
  }
  const parts: Buffer[] = []
  let size = 0
  for await (const part of response as AsyncIterable<Buffer>) {
    size += part.length
    if (size > LARGEST_FILE_BYTES) {
      response.destroy()
      throw new Refused(
        `The calendar is larger than ${LARGEST_FILE_BYTES / 1024 / 1024} MB. It may be the wrong one, and reading it would hold everybody up. Ask for an address with fewer days.`,
      )
    }
    parts.push(part)
  }
  return { kind: 'whole', bytes: Buffer.concat(parts) }
}

const sayFailure = (error: unknown): string =>
  error instanceof Refused
    ? error.message
    : 'The calendar could not be reached. What is known of the day stands. See whether the address still holds; it is asked again at the next round.'
