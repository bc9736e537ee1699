import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { QueueScreen } from './_parts/queue-screen.tsx'

export const metadata: Metadata = { title: 'Trays' }

export default async function Page() {
  const day = await openDay(await ask())
  if (!day) redirect('/sign-in')
  if (day.snapshot.kind !== 'facts') notFound()
  return (
    <Frame clinic={day.of.clinic} member={day.of.member} here="/trays">
      <QueueScreen of={day.of} snapshot={day.snapshot} />
    </Frame>
  )
}
