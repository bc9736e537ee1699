import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { operatoryWords } from '#app/_ui/labels.ts'
import { can } from '#shared/people/role.ts'
import type { FeedLine } from './_parts/feed-row.tsx'
import { GivingScreen } from './_parts/giving-screen.tsx'

export const metadata: Metadata = { title: 'Give the day back' }

export default async function Page() {
  const server = await ask()
  const day = await openDay(server)
  if (!day) redirect('/sign-in')
  const { member, clinic, treaters } = day.of
  if (!can(member.roles, 'day:read')) notFound()
  const isManager = can(member.roles, 'clinic:set')
  const [feeds, operatories, log] = await Promise.all([
    server.feeds.list(),
    server.clinic.operatories(),
    isManager ? server.feeds.log() : [],
  ])
  const lines: FeedLine[] = [
    ...operatories.map(({ id, name }) => ({
      kind: 'operatory' as const,
      targetId: id,
      name: operatoryWords(name),
    })),
    ...treaters.map(({ id, shortName }) => ({ kind: 'dentist' as const, targetId: id, name: shortName })),
  ]
    .filter(({ targetId }) => isManager || targetId === member.id)
    .map((line): FeedLine => {
      const feed = feeds.find(({ kind, targetId }) => kind === line.kind && targetId === line.targetId)
      return { ...line, stands: feed ? (feed.detail ? 'with-names' : 'times-only') : 'none' }
    })
  const names: Record<string, string> = {
    ...day.of.names,
    ...Object.fromEntries(operatories.map(({ id, name }) => [id, operatoryWords(name)])),
  }
  const givenOut = log.map(({ at, memberId, act, detail, targetId }) => ({
    at,
    act,
    detail,
    by: names[memberId] ?? 'somebody who has left',
    of: names[targetId] ?? 'what is no longer here',
  }))
  return (
    <Frame clinic={clinic} member={member} here="/day">
      <GivingScreen
        day={day.of.day}
        zone={day.of.site.zone}
        lines={lines}
        mayNameAllergies={can(member.roles, 'clinical:read')}
        mayNamePatients={isManager}
        givenOut={isManager ? givenOut : null}
      />
    </Frame>
  )
}
