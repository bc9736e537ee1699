import type { Screen } from '#server/realtime/hub.ts'
import { applyChange, type Change } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import type { Audience } from '#shared/people/role.ts'
import type { ShortSet } from '#shared/words/short-sets.ts'

export interface Heard {
  name: string
  revision: number
  data: {
    revision: number
    change?: Change
    lanes?: { operatoryId: string }[]
    unplaced?: unknown[]
    short?: ShortSet[]
  }
}

/** A screen that keeps what it is sent, as a browser would read it. */
export interface TestScreen extends Screen {
  /** All but what is short. */
  heard: Heard[]
  /** What the day was said to be short of, each time it was told. */
  short: ShortSet[][]
  ended: boolean
  signedIn: boolean
}

export function openScreen(audience: Audience, sessionId = 'a sign-in'): TestScreen {
  const screen: TestScreen = {
    sessionId,
    audience,
    heard: [],
    short: [],
    ended: false,
    signedIn: true,
    send: (bytes) => {
      for (const event of parseEvents(bytes.toString('utf8'))) {
        if (event.name === 'short') screen.short.push(event.data.short ?? [])
        else screen.heard.push(event)
      }
    },
    isSignedIn: async () => screen.signedIn,
    end: () => {
      screen.ended = true
    },
  }
  return screen
}

/** Server-sent events as the WHATWG HTML standard cuts them; comments say nothing. */
export function parseEvents(text: string): Heard[] {
  return text.split('\n\n').flatMap((block) => {
    const fields = new Map(
      block
        .split('\n')
        .filter((line) => line !== '' && !line.startsWith(':'))
        .map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 2)]),
    )
    const data = fields.get('data')
    if (data === undefined) return []
    return [{ name: fields.get('event') ?? '', revision: Number(fields.get('id')), data: JSON.parse(data) }]
  })
}

/** What a screen holds after what it heard; null where it was told to take a snapshot. */
export function worldAfter(world: World, heard: readonly Heard[]): World | null {
  let held = world
  for (const { name, data } of heard) {
    if (name === 'resync') return null
    if (name === 'change' && data.change) held = applyChange(held, data.change)
  }
  return held
}
