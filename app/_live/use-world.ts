'use client'
import { assert } from '#shared/base/assert.ts'
import type { HeldBoard, HeldDay, HeldWorld } from './held.ts'
import { useLive } from './provider.tsx'

/** The facts this screen holds, at their revision. */
export function useWorld(): HeldWorld {
  const { held } = useLive()
  assert('world' in held, 'this screen holds facts')
  return held
}

/** The facts of a day, and what the server judged beside them. */
export function useDay(): HeldDay {
  const { held } = useLive()
  assert('world' in held && 'short' in held, 'this screen holds a day')
  return held
}

/** The judged lanes this screen holds. */
export function useJudgedBoard(): HeldBoard {
  const { held } = useLive()
  assert('board' in held, 'this screen holds judged lanes')
  return held
}
