'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import type { TOOTH_SOURCES, ToothMention, Work } from '#shared/procedures/work.ts'
import { SOURCE_WORDS } from '#shared/words/en/teeth.ts'
import styles from './plan.module.css'

/** What each source calls the tooth, and one more where it is read. It only ever raises a question. */
export function SourcesSay({ work, seen }: { work: Work; seen: Seen }) {
  const said = work.mentions.filter(({ source }) => source !== 'booking')
  return (
    <div className={styles.sources}>
      {said.length === 0 ? null : (
        <ul>
          {said.map((mention) => (
            <li key={`${mention.source} ${mention.text} ${mention.candidates.join()}`}>
              {mentionWords(mention, seen)}
            </li>
          ))}
        </ul>
      )}
      <details>
        <summary className={styles.more}>Add what a source says</summary>
        <Saying work={work} seen={seen} />
      </details>
    </div>
  )
}

function mentionWords({ source, text, candidates, mirrored, noted }: ToothMention, seen: Seen): string {
  const teeth = candidates.map((tooth) => toothIn(tooth, seen.notation)).join(' or ')
  const by = noted ? `, told by ${seen.nameOf(noted.by)} at ${timeOf(noted.at, seen.zone)}` : ''
  const named = `${SOURCE_WORDS[source]}: “${text}”${teeth === '' ? '' : `, ${teeth}`}`
  return mirrored ? `${named}; the image was mirrored${by}: confirm the side on the patient` : `${named}${by}`
}

type Source = Exclude<(typeof TOOTH_SOURCES)[number], 'booking'>
const SOURCES: readonly Source[] = ['referral', 'consent', 'image', 'words', 'patient']

function Saying({ work, seen }: { work: Work; seen: Seen }) {
  const performing = usePerform()
  const [source, setSource] = useState<Source>('referral')
  const [text, setText] = useState('')
  const [mirrored, setMirrored] = useState(false)
  return (
    <div className={styles.act}>
      <Pick
        label="Which source"
        value={source}
        options={SOURCES.map((value) => ({ value, label: SOURCE_WORDS[value] }))}
        onPick={setSource}
      />
      <Field
        label="In its own words"
        hint="For instance LL8, or last tooth upper left."
        value={text}
        onChange={setText}
      />
      {source === 'image' ? (
        <Button aria-pressed={mirrored} onPress={() => setMirrored(!mirrored)}>
          The image was turned or mirrored
          <small>it sets no side; the side is confirmed on the patient</small>
        </Button>
      ) : null}
      <ActButton
        kind="work.mention"
        input={{
          appointmentId: seen.facts.appointment.id,
          workId: work.id,
          source,
          text: text.trim(),
          mirrored: source === 'image' && mirrored,
        }}
        performing={performing}
        isDisabled={text.trim() === ''}
        done="Kept beside the others."
        onDone={() => setText('')}
      >
        Keep what it says
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}
