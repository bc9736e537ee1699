import type { Metadata } from 'next'
import { ask } from '#app/_frame/ask.ts'
import { SignInScreen } from './_parts/sign-in-screen.tsx'

export const metadata: Metadata = { title: 'Sign in' }

export default async function Page() {
  const doors = await (await ask()).signIn.doors()
  return <SignInScreen doors={doors} />
}
