'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import { post, type Trouble } from '#app/_live/trouble.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { MemberId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import { isStation } from '#shared/people/role.ts'
import { ROLE_WORDS } from '#shared/words/en/states.ts'
import { AddPerson } from './add-person.tsx'
import { RolesPick } from './roles-pick.tsx'
import styles from './settings.module.css'
import { StationsPart } from './stations-part.tsx'

interface PeopleProps {
  of: DayOf
  accounts: { memberId: MemberId; email: string }[]
}

/** Everyone who works here, what they may do, and how they sign in. */
export function PeoplePart({ of, accounts }: PeopleProps) {
  const { world } = useWorld()
  const { refresh } = useRouter()
  const people = world.member
    .filter(({ roles }) => !isStation(roles))
    .sort((a, b) => Number(b.active) - Number(a.active) || a.name.localeCompare(b.name))
  const stations = world.member.filter(({ active, roles }) => active && isStation(roles))
  return (
    <>
      <section aria-labelledby="people" className={styles.part}>
        <h2 id="people">People</h2>
        <ul className={styles.list}>
          {people.map((member) => (
            <PersonRow
              key={member.id}
              member={member}
              email={accounts.find(({ memberId }) => memberId === member.id)?.email ?? null}
              isSelf={member.id === of.member.id}
              onChanged={refresh}
            />
          ))}
        </ul>
      </section>
      <AddPerson onAdded={refresh} />
      <StationsPart stations={stations} onChanged={refresh} />
    </>
  )
}

interface PersonProps {
  member: Member
  email: string | null
  onChanged: () => void
}

function PersonRow({ member, email, isSelf, onChanged }: PersonProps & { isSelf: boolean }) {
  return (
    <li data-inactive={!member.active || undefined}>
      <details className={styles.person}>
        <summary>
          <strong>{member.name}</strong>
          <span>
            {member.active ? member.roles.map((role) => ROLE_WORDS[role]).join(', ') : 'works here no longer'}
            {member.releasesLoads ? ', releases loads' : ''}
          </span>
          <span className={styles.small}>{email ?? 'cannot sign in'}</span>
        </summary>
        {member.active ? (
          <div className={styles.part}>
            <ChangeRoles member={member} />
            <SignInPart member={member} email={email} onChanged={onChanged} />
            {email === null ? null : <DigitsPart member={member} />}
            {isSelf ? null : <Deactivate member={member} email={email} onChanged={onChanged} />}
          </div>
        ) : (
          <ComeBack member={member} />
        )}
      </details>
    </li>
  )
}

function ChangeRoles({ member }: Pick<PersonProps, 'member'>) {
  const performing = usePerform()
  const [name, setName] = useState(member.name)
  const [shortName, setShortName] = useState(member.shortName)
  const [roles, setRoles] = useState(member.roles)
  const [releasesLoads, setReleases] = useState(member.releasesLoads)
  return (
    <>
      <div className={styles.fields}>
        <Field label={`Name of ${member.name}`} value={name} onChange={setName} autoComplete="off" />
        <Field
          label={`${member.name} on the board`}
          value={shortName}
          onChange={setShortName}
          autoComplete="off"
        />
      </div>
      <RolesPick roles={roles} onRoles={setRoles} releasesLoads={releasesLoads} onReleases={setReleases} />
      <ActButton
        kind="person.change"
        input={{ memberId: member.id, name: name.trim(), shortName: shortName.trim(), roles, releasesLoads }}
        performing={performing}
        isDisabled={roles.length === 0 || name.trim() === '' || shortName.trim() === ''}
        done="Kept."
      >
        Keep name and roles
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

function ComeBack({ member }: Pick<PersonProps, 'member'>) {
  const performing = usePerform()
  return (
    <>
      <ActButton
        kind="person.change"
        input={{ memberId: member.id, active: true }}
        performing={performing}
        done={`${member.name} works here again.`}
      >
        Works here again
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

/** What the last form to the server came to, and a way to send one. */
function useForm(onDone: () => void) {
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const [busy, setBusy] = useState(false)
  const send = async (form: unknown): Promise<boolean> => {
    setBusy(true)
    const came = await post('/api/people', form)
    setBusy(false)
    setTrouble(came)
    if (came === null) onDone()
    return came === null
  }
  return { trouble, busy, send }
}

function SignInPart({ member, email, onChanged }: PersonProps) {
  const { trouble, busy, send } = useForm(onChanged)
  const [name, setName] = useState('')
  const [password, setPassword] = useState('')
  const [isKept, setKept] = useState(false)
  const keep = async () => {
    const form =
      email === null
        ? { kind: 'sign-in', memberId: member.id, email: name, password }
        : { kind: 'password', memberId: member.id, password }
    const isDone = await send(form)
    setKept(isDone)
    if (isDone) setPassword('')
  }
  return (
    <>
      {email === null ? <Field label="E-mail to sign in with" value={name} onChange={setName} /> : null}
      <Field
        label={email === null ? 'Password' : 'A new password'}
        hint="Ten characters or more. Their open sign-ins end."
        type="password"
        autoComplete="new-password"
        value={password}
        onChange={setPassword}
      />
      <Button
        onPress={keep}
        isDisabled={busy || password.length < 10 || (email === null && name.trim().length < 3)}
      >
        {email === null ? 'Give a sign-in' : 'Set this password'}
      </Button>
      {isKept ? <p role="status">Kept.</p> : null}
      {trouble ? <TroubleBox trouble={trouble} /> : null}
    </>
  )
}

/** What they take a shared station over by. */
function DigitsPart({ member }: Pick<PersonProps, 'member'>) {
  const [pin, setPin] = useState('')
  const [isKept, setKept] = useState(false)
  const { trouble, busy, send } = useForm(() => {
    setPin('')
    setKept(true)
  })
  return (
    <>
      <Field
        label="Digits for shared stations"
        hint="Four to eight. They open nothing elsewhere."
        type="password"
        inputMode="numeric"
        autoComplete="off"
        value={pin}
        onChange={(text) => {
          setPin(text.replace(/\D/g, '').slice(0, 8))
          setKept(false)
        }}
      />
      <Button
        isDisabled={busy || pin.length < 4}
        onPress={() => send({ kind: 'pin', memberId: member.id, pin })}
      >
        Set these digits
      </Button>
      {isKept ? <p role="status">Kept.</p> : null}
      {trouble ? <TroubleBox trouble={trouble} /> : null}
    </>
  )
}

function Deactivate({ member, onChanged }: PersonProps) {
  const { trouble, busy, send } = useForm(onChanged)
  return (
    <>
      <Button tone="stop" isDisabled={busy} onPress={() => send({ kind: 'deactivate', memberId: member.id })}>
        Works here no longer
        <small>every sign-in of {member.shortName} ends at once; what they did is kept</small>
      </Button>
      {trouble ? <TroubleBox trouble={trouble} /> : null}
    </>
  )
}
