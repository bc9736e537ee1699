'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { server } from '#app/_live/server.ts'
import { type Trouble, troubleOf } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import styles from '../../_parts/day.module.css'

/** A day that can be given out as a calendar. */
export interface FeedLine {
  kind: 'operatory' | 'dentist'
  targetId: string
  name: string
  /** What its address gives now, where it has one. */
  stands: 'none' | 'times-only' | 'with-names'
}

const STANDS_WORDS: Record<FeedLine['stands'], string> = {
  none: 'No address.',
  'times-only': 'Has an address: times, operatory and kind of work.',
  'with-names': 'Has an address that names patients.',
}

export function FeedRow({ line, mayNamePatients }: { line: FeedLine; mayNamePatients: boolean }) {
  const router = useRouter()
  const [address, setAddress] = useState<string | null>(null)
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const [busy, setBusy] = useState(false)
  const { kind, targetId, name, stands } = line
  const act = async (work: () => Promise<string | null>) => {
    setBusy(true)
    setTrouble(null)
    try {
      setAddress(await work())
      router.refresh()
    } catch (error) {
      setTrouble(troubleOf(error))
    }
    setBusy(false)
  }
  const make = (detail: boolean) => async (): Promise<string> => {
    const { path } = await server.feeds.make.mutate({ kind, targetId, detail })
    return new URL(path, window.location.href).href
  }
  const revoke = async (): Promise<null> => {
    await server.feeds.revoke.mutate({ kind, targetId })
    return null
  }
  return (
    <li className={styles.feed} data-stands={stands}>
      <div>
        <strong>{name}</strong>
        <p className={styles.small}>{STANDS_WORDS[stands]}</p>
      </div>
      <div className={styles.acts}>
        <Button isDisabled={busy} onPress={() => act(make(false))} aria-label={`New address for ${name}`}>
          {stands === 'none' ? 'Give it an address' : 'New address'}
        </Button>
        {mayNamePatients ? (
          <Button
            isDisabled={busy}
            onPress={() => act(make(true))}
            aria-label={`New address for ${name}, with patients’ names`}
          >
            With patients’ names
          </Button>
        ) : null}
        {stands === 'none' ? null : (
          <Button isDisabled={busy} onPress={() => act(revoke)} aria-label={`Revoke the address of ${name}`}>
            Revoke
          </Button>
        )}
      </div>
      {trouble ? <TroubleBox trouble={trouble} /> : null}
      {address ? (
        <p role="status" className={styles.secret}>
          Shown this once: <code>{address}</code>
        </p>
      ) : null}
    </li>
  )
}
