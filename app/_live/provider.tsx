'use client'
import {
  createContext,
  type ReactNode,
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react'
import { must } from '#shared/base/assert.ts'
import { clockTimeOf, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import { openAnnouncer } from './announcer.ts'
import { openStream, type StreamEvent } from './event-stream.ts'
import { type Freshness, freshnessAfter, type Held, type Step } from './held.ts'
import styles from './provider.module.css'

export interface LiveDoors<H extends Held> {
  /** The window's one-line text. */
  window: string
  /** Asks to be shown less than the person may see. */
  audience?: 'wall'
  zone: Zone
  snapshot: H
  step: (held: H, event: StreamEvent) => Step<H>
  /** A fresh snapshot, after a gap too long to catch up. */
  again: () => Promise<H>
}

interface Live {
  held: Held
  /** The clinic's clock now: what the server last said, and the time that has passed here since. */
  now: () => Instant
  freshness: Freshness
  /** The site's own. */
  zone: Zone
  /** Says something politely to a screen reader; at most one utterance in five seconds. */
  announce: (text: string) => void
}

const LiveContext = createContext<Live | null>(null)
export const useLive = (): Live => must(useContext(LiveContext), 'a live part stands inside LiveProvider')

/** Keeps a window's facts (or judged lanes) up to date, says how fresh they are, and holds the one live region. */
export function LiveProvider<H extends Held>({ children, ...doors }: LiveDoors<H> & { children: ReactNode }) {
  const { held, now, freshness, lastSign } = useHeld(doors)
  const [spoken, setSpoken] = useState('')
  const announcer = useRef<ReturnType<typeof openAnnouncer>>(null)
  useEffect(() => {
    announcer.current = openAnnouncer(setSpoken)
    return () => announcer.current?.close()
  }, [])
  const announce = useCallback((text: string) => announcer.current?.say(text), [])
  const { zone } = doors
  const live = useMemo(
    () => ({ held, now, freshness, zone, announce }),
    [held, now, freshness, zone, announce],
  )
  return (
    <LiveContext value={live}>
      <div className={styles.live} data-freshness={freshness}>
        {children}
        <FreshnessLine freshness={freshness} at={lastSign} zone={zone} />
      </div>
      <div aria-live="polite" className="visually-hidden">
        {spoken}
      </div>
    </LiveContext>
  )
}

function FreshnessLine({ freshness, at, zone }: { freshness: Freshness; at: Instant; zone: Zone }) {
  const time = clockTimeOf(at, zone)
  if (freshness === 'fresh') return <p className={styles.fresh}>Up to date · {time}</p>
  return (
    <div className={styles.warning} data-freshness={freshness} role="status">
      <strong>{freshness === 'stale' ? 'Do not rely on this screen.' : 'Reconnecting …'}</strong>
      <span>
        {freshness === 'stale'
          ? `The server has been silent since ${time}. What changed since then is missing here. Check the network, or ask at the desk.`
          : `Last heard from the server at ${time}.`}
      </span>
    </div>
  )
}

/** The clinic's clock, as the server last gave it and where the screen's own stopwatch stood then. */
interface Clock {
  at: Instant
  read: number
}
const stopwatch = (): number => performance.now()

interface StreamOf {
  window: string
  audience: 'wall' | undefined
  since: number
}
const addressOf = ({ window, audience, since }: StreamOf): string =>
  `/api/changes?${new URLSearchParams({ window, since: `${since}`, ...(audience ? { audience } : {}) })}`

function useHeld<H extends Held>({ window: windowText, audience, snapshot, step, again }: LiveDoors<H>) {
  const [held, setHeld] = useState(snapshot)
  const [freshness, setFreshness] = useState<Freshness>('fresh')
  const [lastSign, setLastSign] = useState(snapshot.at)
  const current = useRef(snapshot)
  const clock = useRef<Clock | null>(null)
  const heard = useRef(0)
  const doors = useRef({ step, again })
  doors.current = { step, again }

  const now = useCallback((): Instant => {
    const { at, read } = clock.current ?? { at: current.current.at, read: null }
    return read === null ? at : instant(at + stopwatch() - read)
  }, [])

  useEffect(() => {
    const hold = (next: H) => {
      if (next.at !== current.current.at || clock.current === null)
        clock.current = { at: next.at, read: stopwatch() }
      current.current = next
      setHeld(next)
    }
    hold(current.current)
    heard.current = stopwatch()
    const beat = () => {
      heard.current = stopwatch()
      setFreshness('fresh')
    }
    let taking = false
    const resync = async () => {
      if (taking) return
      taking = true
      await doors.current
        .again()
        .then(hold)
        .catch(() => undefined)
      taking = false
    }
    const close = openStream(
      () => addressOf({ window: windowText, audience, since: current.current.revision }),
      {
        onOpen: beat,
        onBeat: beat,
        onRefused: () => location.assign('/sign-in'),
        onEvent: (event) => {
          const next = doors.current.step(current.current, event)
          if (next.kind === 'resync') void resync()
          else if (next.held !== current.current) hold(next.held)
        },
      },
    )
    const watch = setInterval(() => {
      const silent = stopwatch() - heard.current
      setFreshness(freshnessAfter(silent))
      setLastSign(instant(now() - silent))
    }, 1_000)
    return () => {
      close()
      clearInterval(watch)
    }
  }, [windowText, audience, now])

  return { held, now, freshness, lastSign }
}
