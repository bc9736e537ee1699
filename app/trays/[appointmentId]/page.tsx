import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { type AppointmentId, parseId } from '#shared/ids.ts'
import { TrayScreen } from './_parts/tray-screen.tsx'

export const metadata: Metadata = { title: 'Tray' }

export default async function Page({ params }: { params: Promise<{ appointmentId: string }> }) {
  const appointmentId = parseId<AppointmentId>((await params).appointmentId)
  const server = await ask()
  const me = await server.me()
  if (!me) redirect('/sign-in')
  if (!appointmentId || me.audience !== 'clinical') notFound()
  const [snapshot, lots] = await Promise.all([
    server.appointments.window({ appointmentId }),
    server.stock.lots(),
  ])
  return (
    <Frame clinic={me.clinic} member={me.member} here="/trays">
      <TrayScreen appointmentId={appointmentId} member={me.member} snapshot={snapshot} lots={lots} />
    </Frame>
  )
}
