import type { Metadata } from 'next'
import { ask } from '#app/_frame/ask.ts'
import { openRoom } from '#app/_frame/open-day.ts'
import { SignInScreen } from './_parts/sign-in-screen.tsx'
import { StationScreen } from './_parts/station-screen.tsx'

export const metadata: Metadata = { title: 'Sign in' }

export default async function Page() {
  const server = await ask()
  const room = await openRoom(server)
  if (!room) return <SignInScreen doors={await server.signIn.doors()} />
  return <StationScreen {...room} doors={await server.station.people()} />
}
