import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { DayScreen } from './_parts/day-screen.tsx'

export const metadata: Metadata = { title: 'Day' }

export default async function Page() {
  const day = await openDay(await ask())
  if (!day) redirect('/sign-in')
  return (
    <Frame clinic={day.of.clinic} member={day.of.member} here="/day">
      <DayScreen of={day.of} snapshot={day.snapshot} />
    </Frame>
  )
}
