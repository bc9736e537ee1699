'use client'
import { type FormEvent, useState } from 'react'
import { post, type Trouble } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import styles from './sign-in.module.css'

export function PasswordForm() {
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const enter = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    const refused = await post('/api/auth/sign-in/email', {
      email: form.get('email'),
      password: form.get('password'),
    })
    if (refused) setTrouble(refused)
    else location.assign('/')
  }
  return (
    <section aria-labelledby="password" className={styles.part}>
      <h2 id="password" className={styles.title}>
        With name and password
      </h2>
      <form className={styles.form} onSubmit={enter}>
        {trouble ? <TroubleBox trouble={trouble} /> : null}
        <Field label="Sign-in name" name="email" autoComplete="username" isRequired />
        <Field label="Password" name="password" type="password" autoComplete="current-password" isRequired />
        <Button type="submit" size="main" tone="ink">
          Sign in
        </Button>
      </form>
    </section>
  )
}
