import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { can } from '#shared/people/role.ts'
import { SetsScreen } from './_parts/sets-screen.tsx'

export const metadata: Metadata = { title: 'Sets between sites' }

export default async function Page() {
  const server = await ask()
  const day = await openDay(server)
  if (!day) redirect('/sign-in')
  const { of, snapshot } = day
  if (snapshot.kind !== 'facts' || !can(of.member.roles, 'tray:use')) notFound()
  const travelling = await server.stock.travelling()
  return (
    <Frame clinic={of.clinic} member={of.member} here="/trays">
      <SetsScreen of={of} snapshot={snapshot} travelling={travelling} />
    </Frame>
  )
}
