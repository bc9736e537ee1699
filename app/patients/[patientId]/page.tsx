import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import { type PatientId, parseId } from '#shared/ids.ts'
import { isOver } from '#shared/schedule/appointment.ts'
import { PatientScreen } from './_parts/patient-screen.tsx'

export const metadata: Metadata = { title: 'Mouth' }

const NO_VISIT = {
  what: 'This patient has no visit here yet.',
  why: 'A mouth is charted at a visit, so that it is known who looked and when.',
  todo: 'Book an appointment, then open it from the board.',
}

export default async function Page({ params }: { params: Promise<{ patientId: string }> }) {
  const patientId = parseId<PatientId>((await params).patientId)
  const server = await ask()
  const me = await server.me()
  if (!me) redirect('/sign-in')
  if (!patientId || me.audience !== 'clinical') notFound()
  const read = await server.mouth.ofPatient({ patientId })
  if (!read) notFound()
  // What is charted is charted at a visit: the next one still to come, or the last there was.
  const visit = read.visits.findLast(({ status }) => !isOver(status)) ?? read.visits[0]
  return (
    <Frame clinic={me.clinic} member={me.member} here="">
      {visit ? (
        <PatientScreen
          appointmentId={visit.id}
          member={me.member}
          snapshot={await server.appointments.window({ appointmentId: visit.id })}
          past={read.past}
          visits={read.visits}
        />
      ) : (
        <TroubleBox trouble={NO_VISIT} />
      )}
    </Frame>
  )
}
