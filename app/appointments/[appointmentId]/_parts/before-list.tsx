'use client'
import Link from 'next/link'
import type { Seen } from '#app/_live/seen.ts'
import { latexWords, othersWords } from '#app/_ui/allergy-words.ts'
import { Card, Row, Rows } from '#app/_ui/card.tsx'
import { weightWords } from '#app/_ui/weight-words.ts'
import type { AllergyRecord } from '#shared/allergies/allergy-record.ts'
import { STATE_WORDS } from '#shared/words/en/trays.ts'
import { AskAllergies } from './ask-allergies.tsx'
import { NumbnessPart } from './numbness-part.tsx'
import styles from './plan.module.css'
import { Weigh } from './weigh.tsx'

/** What must be known before the clamp goes on. */
export function BeforeList({ seen }: { seen: Seen }) {
  return (
    <Card title="Before the clamp goes on" tone="plain">
      <Rows>
        <Row term="Allergies">
          {latexWords(seen.facts.allergies, seen)} {othersWords(seen.facts.allergies, seen)}
          <Listed record={seen.facts.allergies} />
        </Row>
        <Row term="Weight">{weightWords(seen)}</Row>
        <Row term="Tray">
          <TrayWords seen={seen} />
        </Row>
      </Rows>
      <AskAllergies seen={seen} />
      <Weigh seen={seen} />
      <NumbnessPart seen={seen} />
    </Card>
  )
}

function Listed({ record }: { record: AllergyRecord | null }) {
  const standing = record?.allergies.filter(({ certainty }) => certainty !== 'refuted') ?? []
  if (standing.length === 0) return null
  return (
    <ul>
      {standing.map(({ text, substance, certainty, severity }) => (
        <li key={`${substance} ${text}`}>
          {text || substance}, {certainty}
          {severity === 'unknown' ? '' : `, ${severity}`}
        </li>
      ))}
    </ul>
  )
}

function TrayWords({ seen }: { seen: Seen }) {
  const { tray, appointment } = seen.facts
  return (
    <>
      {tray ? (
        <p>
          {STATE_WORDS[tray.life.kind]} · {tray.done} of {tray.of}
          {tray.firstMissing ? ` · ${tray.firstMissing}` : ''}
        </p>
      ) : (
        <p>No tray yet.</p>
      )}
      <Link href={`/trays/${appointment.id}`} className={styles.more} prefetch={false}>
        Open the tray
      </Link>
    </>
  )
}
