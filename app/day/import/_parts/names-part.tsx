'use client'
import { useState } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import type { OperatoryId } from '#shared/ids.ts'
import type { Named } from '#shared/schedule/import-batch.ts'
import type { UnknownName } from '#shared/schedule/import-places.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import styles from '../../_parts/day.module.css'

export interface NamesPartProps {
  names: readonly UnknownName[]
  source: { name: string; notation: Notation }
  of: DayOf
  operatories: readonly { id: OperatoryId; name: string }[]
  /** What the names mean is remembered: the file is to be looked at again. */
  onRemembered: () => void
}

export const NAMED_WORDS: Record<Named, string> = { operatory: 'operatory', dentist: 'dentist' }

const keyOf = ({ kind, name }: UnknownName): string => `${kind} ${name}`

/** Names of operatories and dentists as the file spells them: said once which is meant, remembered for the source. */
export function NamesPart({ names, source, of, operatories, onRemembered }: NamesPartProps) {
  const performing = usePerform()
  const [chosen, setChosen] = useState<Record<string, string>>({})
  if (names.length === 0) return null
  const options: Record<Named, { value: string; label: string }[]> = {
    operatory: operatories.map(({ id, name }) => ({ value: id, label: operatoryWords(name) })),
    dentist: of.treaters.map(({ id, shortName }) => ({ value: id, label: shortName })),
  }
  const said = names.flatMap((each) => {
    const id = chosen[keyOf(each)]
    return id ? [{ kind: each.kind, name: each.name, id }] : []
  })
  return (
    <Card title={`Names that are not known here: ${names.length}`}>
      <p className={styles.small}>
        Without a meaning the appointment is taken, but without its operatory or dentist. Nothing is guessed.
      </p>
      <div className={styles.columns}>
        {names.map((each) => (
          <Pick
            key={keyOf(each)}
            label={`“${each.name}”, ${NAMED_WORDS[each.kind]} of ${rowsWords(each.rows)}`}
            value={chosen[keyOf(each)] ?? ''}
            options={[{ value: '', label: 'not said yet' }, ...options[each.kind]]}
            onPick={(id) => setChosen({ ...chosen, [keyOf(each)]: id })}
          />
        ))}
      </div>
      <div className={styles.acts}>
        <ActButton
          kind="import.map"
          input={{
            sourceId: null,
            sourceName: source.name,
            notation: source.notation,
            columns: {},
            names: said,
          }}
          performing={performing}
          size="main"
          tone="ink"
          isDisabled={said.length === 0}
          done="What the names mean is remembered. The file is looked at again."
          onDone={onRemembered}
        >
          Remember, and look again
          <small>for files from {source.name}</small>
        </ActButton>
      </div>
      <OutcomeBox outcome={performing.outcome} />
    </Card>
  )
}

const rowsWords = (rows: number): string => (rows === 1 ? '1 row' : `${rows} rows`)
