'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { Button } from '#app/_ui/button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { workWords } from '#app/_ui/work-words.ts'
import { can } from '#shared/people/role.ts'
import type { Work } from '#shared/procedures/work.ts'
import { hasReached } from '#shared/readiness/gates.ts'
import { NameWork } from './name-work.tsx'
import styles from './plan.module.css'
import { WhoFirst } from './who-first.tsx'

/** What is to be done, line by line. The dentist names what nobody could tell, and changes what is otherwise. */
export function WorkPart({ seen }: { seen: Seen }) {
  const [naming, setNaming] = useState<Work | 'further' | null>(null)
  const close = () => setNaming(null)
  const isPast = hasReached(seen.readiness.line.stage, 'finished')
  if (isPast || !can(seen.member.roles, 'plan:choose')) return null
  return (
    <Card title="What is to be done" tone="plain">
      <ul className={styles.findings}>
        {seen.facts.work.map((work) => (
          <li key={work.id} className={styles.lineOfWork}>
            <span>
              {workWords(work)} {work.teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ')}
            </span>
            <Button
              tone={work.kind === 'undetermined' ? 'ink' : 'plain'}
              onPress={() => setNaming(work)}
              aria-label={`${work.kind === 'undetermined' ? 'Name it' : 'Change'}: ${workWords(work)}`}
            >
              {work.kind === 'undetermined' ? 'Name it' : 'Change'}
            </Button>
          </li>
        ))}
      </ul>
      <Button size="small" onPress={() => setNaming('further')}>
        A further line of work
      </Button>
      <Dialog title={titleOf(naming)} isOpen={naming !== null} onClose={close}>
        <WhoFirst seen={seen}>
          <NameWork seen={seen} work={naming === 'further' ? null : naming} onDone={close} />
        </WhoFirst>
      </Dialog>
    </Card>
  )
}

const titleOf = (naming: Work | 'further' | null): string =>
  naming === null || naming === 'further' ? 'A further line of work' : `Booked as “${naming.text}”`
