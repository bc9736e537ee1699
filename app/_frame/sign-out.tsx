'use client'
import { useEffect } from 'react'
import { post } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'

/** A shared station that nobody touches this long is nobody's again (COMMON; the two minutes are our own choice). */
const IDLE_MS = 120_000
const TOUCHES = ['pointerdown', 'keydown', 'wheel'] as const

async function leave(): Promise<void> {
  await post('/api/auth/sign-out', {})
  location.assign('/sign-in')
}

/** Ends the sign-in. A shared station is left to whoever comes next, and leaves by itself when nobody touches it. */
export function SignOut({ atStation }: { atStation: boolean }) {
  useEffect(() => (atStation ? leaveWhenIdle() : undefined), [atStation])
  return (
    <Button size={atStation ? 'other' : 'small'} onPress={leave}>
      {atStation ? 'Next person' : 'Sign out'}
    </Button>
  )
}

function leaveWhenIdle(): () => void {
  let timer = setTimeout(leave, IDLE_MS)
  const touched = (): void => {
    clearTimeout(timer)
    timer = setTimeout(leave, IDLE_MS)
  }
  for (const touch of TOUCHES) addEventListener(touch, touched, { capture: true, passive: true })
  return () => {
    clearTimeout(timer)
    for (const touch of TOUCHES) removeEventListener(touch, touched, { capture: true })
  }
}
