'use client'
import { useCallback, useEffect, useState } from 'react'
import { useLive } from '#app/_live/provider.tsx'
import { instant } from '#shared/base/moment.ts'
import type { Tick } from './guide-steps.ts'

export interface Ticks {
  ticks: readonly Tick[]
  tick: (key: string) => void
  untick: (key: string) => void
}

/** Steps done at this chair, kept on this screen under one name, so that a reload loses none. */
export function useTicks(name: string): Ticks {
  const { now } = useLive()
  const [kept, setKept] = useState<{ name: string; ticks: readonly Tick[] }>({ name, ticks: [] })
  useEffect(() => setKept({ name, ticks: read(name) }), [name])
  const ticks = kept.name === name ? kept.ticks : []
  const change = useCallback(
    (next: readonly Tick[]) => {
      setKept({ name, ticks: next })
      write(name, next)
    },
    [name],
  )
  return {
    ticks,
    tick: (key) => change([...ticks.filter((each) => each.key !== key), { key, at: now() }]),
    untick: (key) => change(ticks.filter((each) => each.key !== key)),
  }
}

function read(name: string): Tick[] {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(name) ?? '[]')
    return Array.isArray(kept) ? kept.filter(isTick).map(({ key, at }) => ({ key, at: instant(at) })) : []
  } catch {
    return []
  }
}

const isTick = (each: unknown): each is { key: string; at: number } =>
  typeof each === 'object' &&
  each !== null &&
  'key' in each &&
  typeof each.key === 'string' &&
  'at' in each &&
  typeof each.at === 'number'

/** A screen that may keep nothing still guides. */
function write(name: string, ticks: readonly Tick[]): void {
  try {
    sessionStorage.setItem(name, JSON.stringify(ticks))
  } catch {}
}
