'use client'
import Link from 'next/link'
import { type FormEvent, useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import list from '#app/_ui/list.module.css'
import { Pick } from '#app/_ui/pick.tsx'
import { type InstrumentSet, PACK_KINDS, type PackKind } from '#shared/sterility/sterility-facts.ts'
import { KIND_WORDS } from '#shared/words/en/sterility.ts'
import type { Bench } from './bench.ts'
import styles from './sterilising.module.css'

interface SetsPartProps {
  bench: Bench
  performing: Performing
}

type Place = InstrumentSet['place']['kind']
const PLACES: { kind: Place; words: string }[] = [
  { kind: 'shelf', words: 'On the shelf or on trays' },
  { kind: 'in-use', words: 'In a chair' },
  { kind: 'dirty', words: 'Dirty' },
  { kind: 'processing', words: 'Wrapped, being processed' },
]

const isHere = ({ place }: InstrumentSet, { of }: Bench): boolean =>
  'siteId' in place && place.siteId === of.site.id

/** Every set by kind and where it is; sites share them, and what is on its way counts for none. */
export function SetsPart({ bench, performing }: SetsPartProps) {
  const { instrumentSet } = bench.world
  const { sites } = bench.of
  const kinds = PACK_KINDS.filter((kind) => instrumentSet.some((set) => set.kind === kind))
  const incomplete = instrumentSet.filter((set) => set.incomplete)
  return (
    <section aria-labelledby="all-sets">
      <h2 id="all-sets">Where the sets are</h2>
      <div className={styles.tableOf}>
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">Kind</th>
              {PLACES.map(({ kind, words }) => (
                <th key={kind} scope="col">
                  {words}
                </th>
              ))}
              {sites.length > 1 ? <th scope="col">At other sites</th> : null}
              {sites.length > 1 ? <th scope="col">On their way</th> : null}
            </tr>
          </thead>
          <tbody>
            {kinds.map((kind) => (
              <KindRow key={kind} kind={kind} bench={bench} />
            ))}
          </tbody>
        </table>
      </div>
      {incomplete.length === 0 ? null : (
        <p>
          Incomplete: <strong>{incomplete.map(({ mark }) => mark).join(', ')}</strong>. Something of them was
          lost or broke; look before they are wrapped.
        </p>
      )}
      {sites.length > 1 ? (
        <p className={list.acts}>
          <Link href="/trays/sets" className={list.open} prefetch={false}>
            Send sets, or scan them in
          </Link>
        </p>
      ) : null}
      <AddSet bench={bench} performing={performing} />
    </section>
  )
}

function KindRow({ kind, bench }: { kind: PackKind; bench: Bench }) {
  const own = bench.world.instrumentSet.filter((set) => set.kind === kind)
  const here = own.filter((set) => isHere(set, bench))
  const going = own.filter(({ place }) => place.kind === 'in-transit').length
  const isShared = bench.of.sites.length > 1
  return (
    <tr>
      <th scope="row">{KIND_WORDS[kind]}</th>
      {PLACES.map(({ kind: place }) => (
        <td key={place}>{here.filter((set) => set.place.kind === place).length}</td>
      ))}
      {isShared ? <td>{own.length - here.length - going}</td> : null}
      {isShared ? <td>{going}</td> : null}
    </tr>
  )
}

/** A set that is new to the clinic. Nothing is known of how it was kept, so it begins dirty. */
function AddSet({ bench, performing }: SetsPartProps) {
  const [kind, setKind] = useState<PackKind>('dam-set')
  const [mark, setMark] = useState('')
  const isTaken = bench.world.instrumentSet.some(
    (set) => set.mark.toLowerCase() === mark.trim().toLowerCase(),
  )
  const add = async (event: FormEvent) => {
    event.preventDefault()
    const input = { kind, mark: mark.trim(), siteId: bench.of.site.id }
    const came = await performing.perform('set.add', input, `${input.mark} is added, dirty.`)
    if (came?.kind === 'done') setMark('')
  }
  return (
    <details>
      <summary className={list.more}>Add a set</summary>
      <form className={styles.line} onSubmit={add}>
        <Pick
          label="Kind of set"
          value={kind}
          options={PACK_KINDS.map((value) => ({ value, label: KIND_WORDS[value] }))}
          onPick={setKind}
        />
        <Field
          label="Its mark"
          hint="Engraved or on a tag, to tell it from the others."
          value={mark}
          onChange={setMark}
          autoComplete="off"
          wrong={isTaken ? 'Another set carries this mark. Choose one of its own.' : null}
        />
        <Button type="submit" isDisabled={performing.busy || mark.trim() === '' || isTaken}>
          Add the set
          <small>as dirty: it goes through the steriliser first</small>
        </Button>
      </form>
    </details>
  )
}
