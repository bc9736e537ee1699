'use client'
import { useEffect, useState } from 'react'
import { type Instant, instant, MINUTE } from '#shared/base/moment.ts'
import { useLive } from './provider.tsx'

/** The clinic's clock, read again every so many milliseconds. */
export function useMoment(everyMs = 1_000): Instant {
  const { held, now } = useLive()
  const [moment, setMoment] = useState<Instant>(held.at)
  useEffect(() => {
    setMoment(now())
    const timer = setInterval(() => setMoment(now()), everyMs)
    return () => clearInterval(timer)
  }, [now, everyMs])
  return moment
}

/** The moment things are judged at: whole minutes, or the last change if that is later. */
export const judgedAt = (now: Instant, changed: Instant): Instant =>
  instant(Math.max(Math.floor(now / MINUTE) * MINUTE, changed))

/** The clinic's clock as judging needs it: it moves with each minute and each change, not each second. */
export function useJudgingMoment(): Instant {
  const { held } = useLive()
  return judgedAt(useMoment(), held.at)
}
