'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import list from '#app/_ui/list.module.css'
import { Pick } from '#app/_ui/pick.tsx'
import { PACK_KINDS, type PackKind } from '#shared/sterility/sterility-facts.ts'
import { KIND_WORDS } from '#shared/words/en/sterility.ts'
import { dirtySets, placesOf } from './bench.ts'
import type { LoadCardProps } from './card-props.ts'
import styles from './sterilising.module.css'

const AT_ONCE = 12

/** Dirty sets that are wrapped into this load, one touch each; each becomes a pack with a code of its own. */
export function WrapSets({ load, steriliser, bench, performing }: LoadCardProps) {
  const dirty = dirtySets(bench)
  const places = placesOf(bench)
  const [place, setPlace] = useState(places[0] ?? '')
  const [only, setOnly] = useState<PackKind | 'all'>('all')
  const offered = dirty.filter(({ kind }) => only === 'all' || kind === only)
  return (
    <details>
      <summary className={list.more}>Wrap a set into it: {dirty.length} dirty here</summary>
      <div className={styles.line}>
        <Pick
          label="Kind"
          value={only}
          options={[
            { value: 'all', label: 'all kinds' },
            ...PACK_KINDS.map((value) => ({ value, label: KIND_WORDS[value] })),
          ]}
          onPick={setOnly}
        />
        <Pick
          label="Goes to"
          value={place}
          options={places.map((value) => ({ value, label: value }))}
          onPick={setPlace}
        />
      </div>
      <div className={list.acts}>
        {offered.slice(0, AT_ONCE).map(({ id, kind, mark }) => (
          <ActButton
            key={id}
            kind="pack.make"
            input={{ steriliserId: steriliser.id, loadId: load.id, kind, setId: id, place }}
            performing={performing}
            done={`${mark} is in load ${load.number}.`}
          >
            {mark}
          </ActButton>
        ))}
      </div>
      {offered.length > AT_ONCE ? (
        <p className={list.small}>{offered.length - AT_ONCE} more follow as these are wrapped.</p>
      ) : null}
    </details>
  )
}
