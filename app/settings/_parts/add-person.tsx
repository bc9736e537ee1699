'use client'
import { useState } from 'react'
import { post, type Trouble } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { Role } from '#shared/people/role.ts'
import { RolesPick } from './roles-pick.tsx'
import styles from './settings.module.css'

const NOBODY = { name: '', shortName: '', email: '', password: '' }

/** Someone new, with a sign-in of their own from the start: nobody works under another's name. */
export function AddPerson({ onAdded }: { onAdded: () => void }) {
  const [form, setForm] = useState(NOBODY)
  const [roles, setRoles] = useState<Role[]>([])
  const [releasesLoads, setReleases] = useState(false)
  const [came, setCame] = useState<{ trouble: Trouble | null; name: string } | null>(null)
  const set = (key: keyof typeof NOBODY) => (value: string) => setForm({ ...form, [key]: value })
  const add = async () => {
    const shortName = form.shortName.trim() || form.name
    const trouble = await post('/api/people', { kind: 'add', ...form, shortName, roles, releasesLoads })
    setCame({ trouble, name: form.name })
    if (trouble) return
    setForm(NOBODY)
    setRoles([])
    onAdded()
  }
  const isWhole =
    form.name.trim() !== '' && roles.length > 0 && form.email.trim().length >= 3 && form.password.length >= 10
  return (
    <section aria-labelledby="add" className={styles.part}>
      <h2 id="add">Someone new</h2>
      <div className={styles.fields}>
        <Field label="Name" value={form.name} onChange={set('name')} autoComplete="off" />
        <Field
          label="As on the board"
          hint="Dr Amsel, or S. Varga"
          value={form.shortName}
          onChange={set('shortName')}
          autoComplete="off"
        />
        <Field
          label="E-mail to sign in with"
          hint="Only a name: nothing is sent to it."
          value={form.email}
          onChange={set('email')}
          autoComplete="off"
        />
        <Field
          label="First password"
          hint="Ten characters or more."
          type="password"
          autoComplete="new-password"
          value={form.password}
          onChange={set('password')}
        />
      </div>
      <RolesPick roles={roles} onRoles={setRoles} releasesLoads={releasesLoads} onReleases={setReleases} />
      <Button tone="ink" isDisabled={!isWhole} onPress={add}>
        Add
      </Button>
      {came?.trouble ? <TroubleBox trouble={came.trouble} /> : null}
      {came && !came.trouble ? <p role="status">{came.name} is added and can sign in.</p> : null}
    </section>
  )
}
