import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { can } from '#shared/people/role.ts'
import { SignOffsScreen } from './_parts/sign-offs-screen.tsx'

export const metadata: Metadata = { title: 'Sign-offs' }

export default async function Page() {
  const server = await ask()
  const day = await openDay(server)
  if (!day) redirect('/sign-in')
  const { of, snapshot } = day
  if (snapshot.kind !== 'facts' || !can(of.member.roles, 'sign-off:give')) notFound()
  const placed = await server.signOffs.placements({ before: of.day })
  return (
    <Frame clinic={of.clinic} member={of.member} here="/signoffs">
      <SignOffsScreen of={of} snapshot={snapshot} placed={placed} />
    </Frame>
  )
}
