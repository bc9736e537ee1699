'use client'
import { Button } from './_ui/button.tsx'
import { TroubleBox } from './_ui/trouble-box.tsx'

const BROKEN = {
  what: 'This screen could not be shown.',
  why: 'Nothing was changed by it; what was acknowledged before is kept.',
  todo: 'Try again. If it happens again, tell whoever looks after this server the time it happened.',
}

export default function ErrorPage({ reset }: { reset: () => void }) {
  return (
    <main style={{ padding: '2rem', display: 'grid', gap: '1rem', justifyItems: 'start' }}>
      <TroubleBox trouble={BROKEN} />
      <Button size="main" onPress={reset}>
        Try again
      </Button>
    </main>
  )
}
