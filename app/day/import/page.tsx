import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { can } from '#shared/people/role.ts'
import { ImportScreen } from './_parts/import-screen.tsx'

export const metadata: Metadata = { title: 'Read in a day list' }

export default async function Page() {
  const server = await ask()
  const day = await openDay(server)
  if (!day) redirect('/sign-in')
  if (!can(day.of.member.roles, 'day:import')) notFound()
  const [open, sources, unread, own, runs, calendars, operatories] = await Promise.all([
    server.imports.open(),
    server.imports.sources(),
    server.words.unread(),
    server.words.own(),
    server.runs.latest(),
    server.calendars.list(),
    server.clinic.operatories(),
  ])
  return (
    <Frame clinic={day.of.clinic} member={day.of.member} here="/day">
      <ImportScreen
        of={day.of}
        snapshot={day.snapshot}
        waiting={open.problems}
        batches={open.batches}
        sources={sources}
        unread={unread}
        own={own}
        runs={runs}
        calendars={calendars}
        operatories={operatories.filter(({ retiredAt }) => (retiredAt ?? null) === null)}
      />
    </Frame>
  )
}
