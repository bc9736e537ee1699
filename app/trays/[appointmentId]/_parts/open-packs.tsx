'use client'
import { useState } from 'react'
import type { InputOf } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Card } from '#app/_ui/card.tsx'
import list from '#app/_ui/list.module.css'
import styles from '../../_parts/trays.module.css'
import type { TrayActsProps } from './tray-acts.tsx'

type Looked = InputOf<'tray.open'>['looked'][number]
type Seeing = Omit<Looked, 'packId'>

const AS_IT_SHOULD: Seeing = { outside: 'sound', outer: 'changed', inner: 'changed' }
const OTHERWISE: { words: string; seeing: Seeing }[] = [
  { words: 'Outside torn', seeing: { ...AS_IT_SHOULD, outside: 'torn' } },
  { words: 'Wet', seeing: { ...AS_IT_SHOULD, outside: 'wet' } },
  { words: 'Outer mark not changed', seeing: { ...AS_IT_SHOULD, outer: 'not-changed' } },
  { words: 'Inner mark not changed', seeing: { ...AS_IT_SHOULD, inner: 'not-changed' } },
  { words: 'Inner mark not seen', seeing: { ...AS_IT_SHOULD, inner: 'not-seen' } },
]

/** At the chair: every pack is looked at before it counts, none is taken as right beforehand. */
export function OpenPacks({ seen, tray, performing }: TrayActsProps) {
  const [looked, setLooked] = useState<Record<string, Seeing>>({})
  if (tray.life.kind !== 'checked') return null
  const packed = seen.trayLines.flatMap((line) =>
    line.packId !== null && line.omitted === null ? [{ packId: line.packId, name: line.name }] : [],
  )
  const answers = packed.flatMap(({ packId }) => {
    const seeing = looked[packId]
    return seeing ? [{ packId, ...seeing }] : []
  })
  return (
    <Card title="Open at the chair">
      {packed.map(({ packId, name }) => (
        <fieldset key={packId} className={styles.pack}>
          <legend>{name}</legend>
          <div className={list.acts}>
            {[{ words: 'Sound, both marks changed', seeing: AS_IT_SHOULD }, ...OTHERWISE].map(
              ({ words, seeing }) => (
                <Button
                  key={words}
                  aria-pressed={isSame(looked[packId], seeing)}
                  onPress={() => setLooked({ ...looked, [packId]: seeing })}
                >
                  {words}
                </Button>
              ),
            )}
          </div>
        </fieldset>
      ))}
      <ActButton
        kind="tray.open"
        input={{ trayId: tray.id, looked: answers }}
        performing={performing}
        size="main"
        tone="ink"
        done="The packs are opened."
      >
        Opened
        <small>
          {answers.length} of {packed.length} packs looked at
        </small>
      </ActButton>
    </Card>
  )
}

const isSame = (one: Seeing | undefined, other: Seeing): boolean =>
  one !== undefined && one.outside === other.outside && one.outer === other.outer && one.inner === other.inner
