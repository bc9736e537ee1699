import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { openDay } from '#app/_frame/open-day.ts'
import { can } from '#shared/people/role.ts'
import { StockScreen } from './_parts/stock-screen.tsx'

export const metadata: Metadata = { title: 'Stock' }

export default async function Page() {
  const server = await ask()
  const day = await openDay(server)
  if (!day) redirect('/sign-in')
  const { of, snapshot } = day
  if (snapshot.kind !== 'facts' || !can(of.member.roles, 'stock:count')) notFound()
  const stock = await server.stock.seen()
  return (
    <Frame clinic={of.clinic} member={of.member} here="/trays">
      <StockScreen of={of} snapshot={snapshot} stock={stock} />
    </Frame>
  )
}
