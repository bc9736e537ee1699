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
import { hasReached } from '#shared/schedule/appointment.ts'
import { NameWork } from './name-work.tsx'
import styles from './plan.module.css'
import { SourcesSay } from './sources-say.tsx'
import { WhoFirst } from './who-first.tsx'

/**
 * What is to be done, line by line, with what other sources say. The dentist names what nobody could tell; what the
 * mouth says otherwise is changed here and nowhere else, and once someone sits in the chair who it is comes first.
 */
export function WorkPart({ seen }: { seen: Seen }) {
  const [naming, setNaming] = useState<Work | 'further' | null>(null)
  const close = () => setNaming(null)
  const isPast = hasReached(seen.readiness.line.stage, 'finished')
  const mayName = can(seen.member.roles, 'plan:choose')
  if (isPast) return null
  return (
    <Card title="What is to be done" tone="plain">
      <ul className={styles.findings}>
        {seen.facts.work.map((work) => (
          <li key={work.id} className={styles.lineOfWork}>
            <span>
              {workWords(work)} {work.teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ')}
            </span>
            {mayName ? (
              <Button
                tone={work.kind === 'undetermined' ? 'ink' : 'plain'}
                onPress={() => setNaming(work)}
                aria-label={`${work.kind === 'undetermined' ? 'Name it' : 'Change'}: ${workWords(work)}`}
              >
                {work.kind === 'undetermined' ? 'Name it' : 'Change'}
              </Button>
            ) : null}
            <SourcesSay work={work} seen={seen} />
          </li>
        ))}
      </ul>
      {mayName ? (
        <Button size="small" onPress={() => setNaming('further')}>
          A further line of work
        </Button>
      ) : (
        <p className={styles.aside}>
          If the mouth says otherwise: Stop, check side. The dentist names the work.
        </p>
      )}
      <Dialog title={titleOf(naming)} isOpen={naming !== null} onClose={close}>
        {naming === null ? null : (
          <Naming seen={seen} work={naming === 'further' ? null : naming} onDone={close} />
        )}
      </Dialog>
    </Card>
  )
}

/** Naming what nobody could tell differs from nothing; all else asks first who it is. */
function Naming(props: { seen: Seen; work: Work | null; onDone: () => void }) {
  const { work, seen } = props
  const isFirstNaming = work !== null && work.kind === 'undetermined' && work.teeth.length === 0
  return isFirstNaming ? (
    <NameWork {...props} />
  ) : (
    <WhoFirst seen={seen}>
      <NameWork {...props} />
    </WhoFirst>
  )
}

const titleOf = (naming: Work | 'further' | null): string =>
  naming === null || naming === 'further' ? 'A further line of work' : `Booked as “${naming.text}”`
