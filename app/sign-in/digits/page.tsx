import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { OwnDigits } from '../_parts/own-digits.tsx'

export const metadata: Metadata = { title: 'Your digits' }

export default async function Page() {
  const server = await ask()
  const me = await server.me()
  if (!me) redirect('/sign-in')
  return (
    <Frame clinic={me.clinic} member={me.member} here="/sign-in/digits">
      <OwnDigits />
    </Frame>
  )
}
