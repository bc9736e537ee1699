import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { can } from '#shared/people/role.ts'
import { findPart } from '../_parts/parts.ts'
import { SettingsScreen } from '../_parts/settings-screen.tsx'

export const metadata: Metadata = { title: 'Settings' }

export default async function Page({ params }: { params: Promise<{ part: string }> }) {
  const part = findPart((await params).part)
  const server = await ask()
  const day = await openDay(server)
  if (!day) redirect('/sign-in')
  const { of, snapshot } = day
  if (!part || snapshot.kind !== 'facts' || !can(of.member.roles, 'clinic:set')) notFound()
  const [accounts, overrides, kits, sources, operatories] = await Promise.all([
    part === 'people' ? server.settings.accounts() : [],
    part === 'overrides' ? server.settings.overrides() : [],
    part === 'kits' ? server.settings.kits() : [],
    part === 'names' ? server.imports.sources() : [],
    part === 'names' ? server.clinic.operatories() : [],
  ])
  return (
    <Frame clinic={of.clinic} member={of.member} here="/settings">
      <SettingsScreen
        {...{ part, of, snapshot, accounts, overrides, kits, sources }}
        operatories={operatories.filter(({ retiredAt }) => (retiredAt ?? null) === null)}
      />
    </Frame>
  )
}
