'use client'
import { type FormEvent, useState } from 'react'
import { post, type Trouble } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import list from '#app/_ui/list.module.css'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import styles from './sign-in.module.css'

const NOT_THE_SAME: Trouble = {
  what: 'The digits differ. Your digits stay as they were.',
  why: 'They are not shown, so one slip would keep you out of every station.',
  todo: 'Enter the same digits twice.',
}

/** A person's own digits for shared stations, changed by their password. */
export function OwnDigits() {
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const [isKept, setKept] = useState(false)
  const change = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const form = event.currentTarget
    const data = new FormData(form)
    if (data.get('pin') !== data.get('again')) {
      setKept(false)
      return setTrouble(NOT_THE_SAME)
    }
    const refused = await post('/api/own-digits', { pin: data.get('pin'), password: data.get('password') })
    setTrouble(refused)
    setKept(refused === null)
    if (refused === null) form.reset()
  }
  return (
    <section aria-labelledby="digits" className={list.page}>
      <h1 id="digits">Your digits</h1>
      <p>They take over a shared station in your name and open nothing elsewhere. Tell them to nobody.</p>
      <form className={styles.form} onSubmit={change}>
        {trouble ? <TroubleBox trouble={trouble} /> : null}
        <Field
          label="New digits"
          name="pin"
          hint="Four to eight."
          type="password"
          inputMode="numeric"
          autoComplete="off"
          isRequired
        />
        <Field
          label="The same digits again"
          name="again"
          type="password"
          inputMode="numeric"
          autoComplete="off"
          isRequired
        />
        <Field
          label="Your password"
          name="password"
          type="password"
          autoComplete="current-password"
          isRequired
        />
        <Button type="submit" size="main" tone="ink">
          Keep these digits
        </Button>
        {isKept ? <p role="status">Kept. From now on only these take over a station in your name.</p> : null}
      </form>
    </section>
  )
}
