'use client'
import Link from 'next/link'
import type { Seen } from '#app/_live/seen.ts'
import { Card, Row, Rows } from '#app/_ui/card.tsx'
import { dateWords, timeOf } from '#app/_ui/time-words.ts'
import type { AllergyRecord } from '#shared/allergies/allergy-record.ts'
import { STATE_WORDS } from '#shared/words/en/trays.ts'
import { AskAllergies } from './ask-allergies.tsx'
import { NumbnessPart } from './numbness-part.tsx'
import styles from './plan.module.css'
import { Weigh, weightWords } from './weigh.tsx'

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

function latexWords(record: AllergyRecord | null, seen: Seen): string {
  if (record === null || record.latex === 'not-asked') return 'Latex: not asked yet.'
  const when = askedWords(record.latexAsked, seen)
  switch (record.latex) {
    case 'asked-unknown':
      return `Latex: asked, the patient does not know.${when}`
    case 'none-known':
      return `Latex: none known.${when}`
    case 'suspected':
      return `Latex: suspected.${when}`
    case 'confirmed':
      return `Latex: confirmed.${when}`
  }
}

/** The four states of knowing, of everything but latex. */
function othersWords(record: AllergyRecord | null, seen: Seen): string {
  if (record === null) return 'Others: not asked yet.'
  const when = askedWords(record.asked, seen)
  switch (record.state) {
    case 'not-asked':
      return 'Others: not asked yet.'
    case 'asked-unknown':
      return `Others: asked, the patient does not know.${when}`
    case 'none-known':
      return `Others: none known.${when}`
    case 'listed':
      return `Listed:`
  }
}

/** When it was asked, with the day where that is not the appointment's, and by whom. */
function askedWords(asked: AllergyRecord['latexAsked'], { facts, nameOf, zone }: Seen): string {
  if (asked === null) return ''
  const day = asked.day === facts.appointment.day ? timeOf(asked.at, zone) : dateWords(asked.day)
  return ` Asked ${day}${asked.by === null ? '' : ` by ${nameOf(asked.by)}`}.`
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
