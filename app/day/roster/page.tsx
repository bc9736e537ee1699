import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { parseDay } from '#shared/base/moment.ts'
import { can } from '#shared/people/role.ts'
import { RosterScreen } from './_parts/roster-screen.tsx'

export const metadata: Metadata = { title: 'Who works when' }

export default async function Page({ searchParams }: { searchParams: Promise<{ day?: string }> }) {
  const server = await ask()
  const opened = await openDay(server)
  if (!opened) redirect('/sign-in')
  const { of, snapshot } = opened
  if (!can(of.member.roles, 'day:change')) notFound()
  const day = parseDay((await searchParams).day ?? '') ?? of.day
  const roster = await server.roster.day({ siteId: of.site.id, day })
  return (
    <Frame clinic={of.clinic} member={of.member} here="/day">
      <RosterScreen of={of} snapshot={snapshot} day={day} roster={roster} />
    </Frame>
  )
}
