'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Field, FieldGroup } from '#app/_ui/field.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { dateWords, timeOf } from '#app/_ui/time-words.ts'
import { type CartridgeReading, isOnlyTopical } from '#shared/anaesthesia/anaesthetic.ts'
import { judgeLabelRead, latestReading, parseExpiry } from '#shared/anaesthesia/cartridge.ts'
import { expectsInjection } from '#shared/readiness/gates.ts'
import { labelSightOf } from '#shared/readiness/judges.ts'
import { sayLabel } from '#shared/words/en/anaesthesia.ts'
import type { ActProps } from './act-props.ts'
import { choicesOf } from './dose-draft.ts'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'

/** Drug, strength and expiry, read from the cartridge by one person and answered by another, before the needle. */
export function LabelActs({ seen, performing }: ActProps) {
  const sight = labelSightOf(seen.facts)
  const latest = latestReading(sight)
  if (!expectsInjection(seen.facts)) return null
  const form = <ReadAloud key={latest?.read.at} seen={seen} performing={performing} />
  return (
    <section className={styles.act} aria-label="The cartridge’s label">
      <h3>The cartridge’s label</h3>
      <Offered seen={seen} needs="numbness:record" what="What is read from it">
        {latest === null ? (
          form
        ) : (
          <>
            <Read reading={latest} seen={seen} performing={performing} />
            {judgeLabelRead(sight).length > 0 ? (
              form
            ) : (
              <details>
                <summary className={styles.more}>Read another label</summary>
                {form}
              </details>
            )}
          </>
        )}
      </Offered>
    </section>
  )
}

/** The label read last: by whom, what it said, and who answered; else the answer, for anyone but the reader. */
function Read({ reading, seen, performing }: ActProps & { reading: CartridgeReading }) {
  const { read, answered, expires } = reading
  const isOther = judgeLabelRead(labelSightOf(seen.facts)).length > 0
  const words = `${sayLabel(reading)}, to be used by ${dateWords(expires)}`
  const reader = `${timeOf(read.at, seen.zone)} ${words}, read by ${seen.nameOf(read.by)}`
  if (answered !== null) {
    return (
      <p className={styles.done}>
        {reader}, answered by {seen.nameOf(answered.by)} {timeOf(answered.at, seen.zone)}
      </p>
    )
  }
  return (
    <>
      <p>{reader}</p>
      {isOther ? (
        <p>
          <strong>Not what is planned:</strong> put it aside, or the dentist plans it.
        </p>
      ) : read.by === seen.member.id ? (
        <p className={styles.aside}>Now another person hears it and answers, under their own name.</p>
      ) : (
        <ActButton
          kind="cartridge.answer"
          input={{ appointmentId: seen.facts.appointment.id, readAt: read.at }}
          performing={performing}
          size="main"
          done="The label is read back by two."
        >
          I heard it and it is what is planned
          <small>{words}</small>
        </ActButton>
      )}
    </>
  )
}

/** What the label says is chosen anew each time: what is planned is no answer to what lies in the hand. */
function ReadAloud({ seen, performing }: ActProps) {
  const [solution, setSolution] = useState('')
  const [printed, setPrinted] = useState('')
  const { labels } = choicesOf(seen)
  const label = labels.get(solution)
  const expires = parseExpiry(printed)
  const isWrong = printed.trim().length >= 7 && expires === null
  return (
    <div className={styles.act}>
      <FieldGroup title="Aloud, from the label in the hand">
        <Pick
          label="Drug and strength"
          value={solution}
          options={[
            { value: '', label: 'choose' },
            ...[...labels]
              .filter(([, { agent }]) => !isOnlyTopical(agent))
              .map(([value, each]) => ({ value, label: sayLabel(each) })),
          ]}
          onPick={setSolution}
        />
        <Field
          label="To be used by"
          hint="as printed: 2027-03 or 03/2027"
          value={printed}
          onChange={setPrinted}
          inputMode="text"
          autoComplete="off"
          wrong={
            isWrong
              ? 'Not a month or day. It decides whether the cartridge may be used. Write the year in full.'
              : null
          }
        />
      </FieldGroup>
      {label && expires ? (
        <ActButton
          kind="cartridge.read"
          input={{ appointmentId: seen.facts.appointment.id, label, expires }}
          performing={performing}
          size="main"
          done="The label is read; another person answers."
        >
          Read aloud
          <small>
            {sayLabel(label)}, to be used by {dateWords(expires)}
          </small>
        </ActButton>
      ) : null}
    </div>
  )
}
