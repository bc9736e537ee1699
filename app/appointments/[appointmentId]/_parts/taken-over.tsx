import type { Seen } from '#app/_live/seen.ts'
import { Card } from '#app/_ui/card.tsx'
import { FirstLines } from '#app/_ui/first-lines.tsx'
import { findTakenOver } from '#shared/readiness/taken-over.ts'

/** On top of a page whose dentist changed: whose visit it was, and what to know before anything else. */
export function TakenOver({ seen }: { seen: Seen }) {
  const taken = findTakenOver(seen.facts, seen.now)
  if (taken === null) return null
  return (
    <Card title={`Taken over from ${seen.nameOf(taken.former.memberId)}`}>
      <FirstLines seen={seen} taken={taken} />
    </Card>
  )
}
