'use client'
import { post } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'

export function SignOut() {
  const leave = async () => {
    await post('/api/auth/sign-out', {})
    location.assign('/sign-in')
  }
  return (
    <Button size="small" onPress={leave}>
      Sign out
    </Button>
  )
}
