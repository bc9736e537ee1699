'use client'
import Link from 'next/link'
import { DayLive, type DaySnapshot } from '#app/_live/day-holder.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import type { MemberId } from '#shared/ids.ts'
import type { Operatory } from '#shared/people/clinic.ts'
import type { OverrideCount } from '#shared/readiness/override-count.ts'
import type { ImportSource } from '#shared/schedule/import-batch.ts'
import type { Kit } from '#shared/trays/tray.ts'
import { ClampsPart } from './clamps-part.tsx'
import { DentistFieldsPart } from './dentist-fields-part.tsx'
import { HelpCardsPart } from './help-cards-part.tsx'
import { KitsPart } from './kits-part.tsx'
import { LinesPart } from './lines-part.tsx'
import { NamesPart } from './names-part.tsx'
import { OperatoriesPart } from './operatories-part.tsx'
import { OverridesPart } from './overrides-part.tsx'
import { PART_WORDS, PARTS, type Part } from './parts.ts'
import { PeoplePart } from './people-part.tsx'
import { PoliciesPart } from './policies-part.tsx'
import { PunchPart } from './punch-part.tsx'
import styles from './settings.module.css'

export interface SettingsProps {
  part: Part
  of: DayOf
  snapshot: DaySnapshot
  /** Who may sign in, and under which name. */
  accounts: { memberId: MemberId; email: string }[]
  overrides: OverrideCount[]
  kits: Kit[]
  sources: ImportSource[]
  /** Those in use, at every site. */
  operatories: Operatory[]
}

export function SettingsScreen(props: SettingsProps) {
  return (
    <DayLive of={props.of} snapshot={props.snapshot}>
      <div className={styles.page}>
        <h1>Settings of {props.of.clinic.name}</h1>
        <nav aria-label="Settings" className={styles.parts}>
          {PARTS.map((part) => (
            <Link
              key={part}
              href={`/settings/${part}`}
              aria-current={part === props.part ? 'page' : undefined}
              prefetch={false}
            >
              {PART_WORDS[part]}
            </Link>
          ))}
        </nav>
        <Shown {...props} />
      </div>
    </DayLive>
  )
}

function Shown({ part, of, accounts, overrides, kits, sources, operatories }: SettingsProps) {
  switch (part) {
    case 'policies':
      return <PoliciesPart />
    case 'dentist-fields':
      return <DentistFieldsPart of={of} />
    case 'clamps':
      return (
        <>
          <ClampsPart zone={of.site.zone} />
          <PunchPart />
        </>
      )
    case 'people':
      return <PeoplePart of={of} accounts={accounts} />
    case 'operatories':
      return <OperatoriesPart of={of} />
    case 'kits':
      return <KitsPart kits={kits} />
    case 'lines':
      return <LinesPart />
    case 'help-cards':
      return <HelpCardsPart />
    case 'names':
      return <NamesPart of={of} sources={sources} operatories={operatories} />
    case 'overrides':
      return <OverridesPart overrides={overrides} />
  }
}
