'use client'
import { type FormEvent, useState } from 'react'
import { post, type Trouble } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { MemberId } from '#shared/ids.ts'
import styles from './station.module.css'

const DIGITS = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '0'] as const
const FEWEST = 4
const MOST = 8

export interface PinPadProps {
  memberId: MemberId
  hint: string | null
  onBack: () => void
}

/** A person's digits, by gloved finger or by keyboard. */
export function PinPad({ memberId, hint, onBack }: PinPadProps) {
  const [pin, setPin] = useState('')
  const [busy, setBusy] = useState(false)
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const enter = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    if (busy || pin.length < FEWEST) return
    setBusy(true)
    const refused = await post('/api/station', { kind: 'person', memberId, pin })
    if (!refused) return location.assign('/')
    setTrouble(refused)
    setPin('')
    setBusy(false)
  }
  const set = (text: string) => setPin(text.replace(/\D/g, '').slice(0, MOST))
  return (
    <form className={styles.pin} onSubmit={enter}>
      {trouble ? <TroubleBox trouble={trouble} /> : null}
      <Field
        label="Your digits"
        type="password"
        inputMode="none"
        autoComplete="off"
        value={pin}
        onChange={set}
        autoFocus
        {...(hint ? { hint: `Invented clinic: everyone’s are ${hint}.` } : {})}
      />
      <div className={styles.digits}>
        {DIGITS.map((digit) => (
          <Button key={digit} size="main" onPress={() => set(pin + digit)}>
            {digit}
          </Button>
        ))}
        <Button size="main" aria-label="Take the last digit back" onPress={() => setPin(pin.slice(0, -1))}>
          ←
        </Button>
        <Button size="main" tone="ink" type="submit" isDisabled={busy || pin.length < FEWEST}>
          Here I am
        </Button>
      </div>
      <Button onPress={onBack}>Someone else</Button>
    </form>
  )
}
