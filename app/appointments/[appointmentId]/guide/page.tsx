import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { type AppointmentId, parseId } from '#shared/ids.ts'
import { GuideScreen } from './_parts/guide-screen.tsx'

export const metadata: Metadata = { title: 'Guide at the chair' }

export default async function Page({ params }: { params: Promise<{ appointmentId: string }> }) {
  const appointmentId = parseId<AppointmentId>((await params).appointmentId)
  const server = await ask()
  const me = await server.me()
  if (!me) redirect('/sign-in')
  if (!appointmentId || me.audience !== 'clinical') notFound()
  const snapshot = await server.appointments.window({ appointmentId })
  return (
    <Frame clinic={me.clinic} member={me.member} here="">
      <GuideScreen appointmentId={appointmentId} member={me.member} snapshot={snapshot} />
    </Frame>
  )
}
