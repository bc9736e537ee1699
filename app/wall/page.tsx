import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { siteHere } from '#app/_frame/site-here.ts'
import { WallScreen } from './wall-screen.tsx'

export const metadata: Metadata = { title: 'Wall' }

export default async function Page() {
  const server = await ask()
  const me = await server.me()
  if (!me) redirect('/sign-in')
  const here = await siteHere(me)
  if (!here) notFound()
  const snapshot = await server.board.wall({ siteId: here.site.id, day: here.today })
  if (snapshot.kind !== 'lanes') notFound()
  return <WallScreen clinicName={me.clinic.name} site={here.site} day={here.today} snapshot={snapshot} />
}
