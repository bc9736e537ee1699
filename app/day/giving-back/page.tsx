import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { operatoryWords } from '#app/_ui/labels.ts'
import { can } from '#shared/people/role.ts'
import { type FeedLine, GivingScreen } from './_parts/giving-screen.tsx'

export const metadata: Metadata = { title: 'Give the day back' }

export default async function Page() {
  const server = await ask()
  const day = await openDay(server)
  if (!day) redirect('/sign-in')
  const { member, clinic, treaters } = day.of
  if (!can(member.roles, 'day:read')) notFound()
  const [feeds, operatories] = await Promise.all([server.feeds.list(), server.clinic.operatories()])
  const isManager = can(member.roles, 'clinic:set')
  const madeOf = (kind: FeedLine['kind'], targetId: string): boolean =>
    feeds.some((feed) => feed.kind === kind && feed.targetId === targetId)
  const lines: FeedLine[] = [
    ...operatories.map(({ id, name }) => ({
      kind: 'operatory' as const,
      targetId: id,
      name: operatoryWords(name),
    })),
    ...treaters.map(({ id, shortName }) => ({ kind: 'dentist' as const, targetId: id, name: shortName })),
  ]
    .filter(({ targetId }) => isManager || targetId === member.id)
    .map((line) => ({ ...line, made: madeOf(line.kind, line.targetId) }))
  return (
    <Frame clinic={clinic} member={member} here="/day">
      <GivingScreen day={day.of.day} lines={lines} mayNameAllergies={can(member.roles, 'clinical:read')} />
    </Frame>
  )
}
