'use client'
import { type FormEvent, useState } from 'react'
import { post, type Trouble } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { NOTATION_WORDS } from '#app/_ui/labels.ts'
import { Pick } from '#app/_ui/pick.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import { NOTATIONS, type Notation } from '#shared/teeth/notation-names.ts'
import styles from './sign-in.module.css'

/** A real clinic's first manager, by the one-time code that the server printed. */
export function FoundForm() {
  const [notation, setNotation] = useState<Notation>('ask')
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const found = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const form = Object.fromEntries(new FormData(event.currentTarget))
    const refused = await post('/api/found', { ...form, notation })
    if (refused) setTrouble(refused)
    else location.assign('/sign-in')
  }
  return (
    <section aria-labelledby="found" className={styles.part}>
      <h2 id="found" className={styles.title}>
        The first manager
      </h2>
      <form className={styles.form} onSubmit={found}>
        {trouble ? <TroubleBox trouble={trouble} /> : null}
        <Field label="One-time code" name="code" hint="The server printed it when it started." isRequired />
        <Field label="Name of the clinic" name="clinicName" isRequired />
        <Field label="Time zone" name="zone" hint="For instance Europe/Dublin." isRequired />
        <Pick
          label="How teeth are numbered here"
          value={notation}
          options={NOTATIONS.map((value) => ({ value, label: NOTATION_WORDS[value] }))}
          onPick={setNotation}
        />
        <Field label="Your name" name="name" autoComplete="name" isRequired />
        <Field label="Sign-in name" name="email" autoComplete="username" isRequired />
        <Field
          label="Password"
          name="password"
          type="password"
          hint="At least ten characters."
          minLength={10}
          autoComplete="new-password"
          isRequired
        />
        <Button type="submit" size="main" tone="ink">
          Open the clinic
        </Button>
      </form>
    </section>
  )
}
