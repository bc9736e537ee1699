'use client'
import { useEffect, useState } from 'react'
import type { Instant } from '#shared/base/moment.ts'
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
