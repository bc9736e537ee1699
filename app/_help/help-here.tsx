'use client'
import { lazy, Suspense, useEffect, useState } from 'react'
import { Button } from '#app/_ui/button.tsx'
import type { Chair } from './chair.ts'

const fetchDialog = () => import('./help-dialog.tsx')
const HelpDialog = lazy(fetchDialog)
/** Long after the page stands, and long before it is needed: a lost network must not take it away. */
const FETCH_AFTER_MS = 5_000

export interface HelpHereProps {
  chairs: readonly Chair[]
  size?: 'main' | 'other' | 'small'
}

/** The one control for what goes wrong: two touches, no typing, by anyone. Where there are several chairs, which one. */
export function HelpHere({ chairs, size = 'other' }: HelpHereProps) {
  const [isOpen, setOpen] = useState(false)
  useEffect(() => {
    const timer = setTimeout(() => void fetchDialog(), FETCH_AFTER_MS)
    return () => clearTimeout(timer)
  }, [])
  return (
    <>
      <Button size={size} tone="stop" onPress={() => setOpen(true)}>
        Help here
      </Button>
      {isOpen ? (
        <Suspense fallback={null}>
          <HelpDialog chairs={chairs} onClose={() => setOpen(false)} />
        </Suspense>
      ) : null}
    </>
  )
}
