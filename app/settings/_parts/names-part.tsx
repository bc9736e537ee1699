'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import { type Performing, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { type ImportSource, type Named, namesOf } from '#shared/schedule/import-batch.ts'
import styles from './settings.module.css'

type Options = Record<Named, { value: string; label: string }[]>

export interface NamesPartProps {
  of: DayOf
  sources: readonly ImportSource[]
  operatories: readonly { id: string; name: string }[]
}

/** What operatories and dentists are called in the files of each source: corrected or forgotten here. */
export function NamesPart({ of, sources, operatories }: NamesPartProps) {
  const performing = usePerform()
  const named = sources.filter((source) => namesOf(source).length > 0)
  const options: Options = {
    operatory: operatories.map(({ id, name }) => ({ value: id, label: operatoryWords(name) })),
    dentist: of.treaters.map(({ id, shortName }) => ({ value: id, label: shortName })),
  }
  return (
    <>
      <p>
        What the files of each source call your operatories and dentists. A name is asked when a file first
        uses it. What was read by a name stands when it is changed here; the next file is read by the new one.
      </p>
      {named.length === 0 ? <p>No name is remembered.</p> : null}
      {named.map((source) => (
        <section key={source.id} aria-labelledby={source.id} className={styles.part}>
          <h2 id={source.id}>{source.name}</h2>
          <ul className={styles.list}>
            {namesOf(source).map((each) => (
              <OneName
                key={`${each.kind} ${each.name}`}
                named={each}
                source={source}
                options={options}
                performing={performing}
              />
            ))}
          </ul>
        </section>
      ))}
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

interface OneNameProps {
  named: { kind: Named; name: string; id: string }
  source: ImportSource
  options: Options
  performing: Performing
}

function OneName({ named: { kind, name, id }, source, options, performing }: OneNameProps) {
  const router = useRouter()
  const [meant, setMeant] = useState(id)
  const isHere = options[kind].some(({ value }) => value === id)
  const map = (to: string | null) => ({
    sourceId: source.id,
    columns: {},
    names: [{ kind, name, id: to }],
  })
  return (
    <li className={styles.fields}>
      <Pick
        label={`“${name}” means the ${kind}`}
        value={meant}
        options={isHere ? options[kind] : [{ value: id, label: 'no longer here' }, ...options[kind]]}
        onPick={setMeant}
      />
      <ActButton
        kind="import.map"
        input={map(meant)}
        performing={performing}
        isDisabled={meant === id}
        done={`“${name}” is remembered so.`}
        onDone={() => router.refresh()}
        aria-label={`Keep what ${name} means`}
      >
        Keep
      </ActButton>
      <ActButton
        kind="import.map"
        input={map(null)}
        performing={performing}
        done={`“${name}” is forgotten: the next file asks.`}
        onDone={() => router.refresh()}
        aria-label={`Forget ${name}`}
      >
        Forget
      </ActButton>
    </li>
  )
}
