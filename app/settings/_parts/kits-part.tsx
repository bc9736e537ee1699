'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { type InputOf, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field, FieldGroup, Pick } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { PACK_KINDS } from '#shared/sterility/sterility-facts.ts'
import { KIT_LINES } from '#shared/trays/kits.ts'
import { KIT_KEYS, type Kit, type KitKey, type KitLine, LINE_CLASSES } from '#shared/trays/tray.ts'
import { NumberField } from './number-field.tsx'
import styles from './settings.module.css'

/** What each tray starts from. The clinic's own list takes the general one's place; trays to come are drawn anew. */
export function KitsPart({ kits }: { kits: Kit[] }) {
  const [key, setKey] = useState<KitKey>('dam-base')
  const own = kits.find((kit) => kit.key === key && kit.dentistId === null)
  const lines = own?.lines ?? [...KIT_LINES[key].lines]
  return (
    <section aria-labelledby="kits" className={styles.part}>
      <h2 id="kits">Kits</h2>
      <Pick
        label="Kit"
        value={key}
        options={KIT_KEYS.map((value) => ({ value, label: KIT_LINES[value].name }))}
        onPick={setKey}
      />
      <OneKit key={key} kit={key} lines={lines} />
    </section>
  )
}

function OneKit({ kit, lines: standing }: { kit: KitKey; lines: Kit['lines'] }) {
  const performing = usePerform()
  const { refresh } = useRouter()
  const [draft, setDraft] = useState<KitLine[] | null>(null)
  const lines = draft ?? standing
  const change = (index: number, some: Partial<KitLine>) =>
    setDraft(lines.map((line, at) => (at === index ? { ...line, ...some } : line)))
  return (
    <>
      <ul className={styles.list}>
        {lines.map((line, index) => (
          <li key={line.item} className={styles.line}>
            <span>
              <strong>{line.name}</strong>
              <span className={styles.small}> {line.class.replaceAll('-', ' ')}</span>
            </span>
            <NumberField
              label={`How many: ${line.name}`}
              value={line.count}
              onValue={(count) => change(index, { count })}
            />
            <Pick
              label={`Latex: ${line.name}`}
              value={line.contents.latex ?? 'unknown'}
              options={LATEX}
              onPick={(latex) => change(index, { contents: { ...line.contents, latex } })}
            />
            <Button
              size="small"
              aria-label={`Take ${line.name} out of the kit`}
              onPress={() => setDraft(lines.filter((each) => each !== line))}
            >
              Take out
            </Button>
          </li>
        ))}
      </ul>
      <AddLine onAdd={(line) => setDraft([...lines, line])} taken={lines.map(({ item }) => item)} />
      <ActButton
        kind="kit.change"
        input={{ key: kit, dentistId: null, lines: lines.map(asGiven) }}
        performing={performing}
        size="main"
        tone="ink"
        isDisabled={draft === null || lines.length === 0 || lines.some(({ count }) => count < 1)}
        done="The kit is kept."
        onDone={() => {
          setDraft(null)
          refresh()
        }}
      >
        Keep this kit
        <small>{draft === null ? 'as it stands' : 'not kept yet'}</small>
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

type Latex = KitLine['contents'][string]
const LATEX: { value: Latex; label: string }[] = [
  { value: 'free', label: 'free of latex' },
  { value: 'contains', label: 'contains latex' },
  { value: 'unknown', label: 'latex not known' },
]

type Given = InputOf<'kit.change'>['lines'][number]
const asGiven = (line: KitLine): Given => ({
  ...line,
  packKind: PACK_KINDS.find((kind) => kind === line.packKind) ?? null,
})

type Class = KitLine['class']

/** A line whose contents nobody has read yet: of latex it says “not known” until someone does. */
function AddLine({ onAdd, taken }: { onAdd: (line: KitLine) => void; taken: string[] }) {
  const [name, setName] = useState('')
  const [kind, setKind] = useState<Class>('single-use')
  const item = name
    .trim()
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
  const add = () => {
    const contents = { latex: 'unknown' } as const
    onAdd({ item, name: name.trim(), count: 1, class: kind, packKind: null, contents, countedBack: false })
    setName('')
  }
  return (
    <FieldGroup title="One more line">
      <Field label="What" value={name} onChange={setName} />
      <Pick
        label="Kind of line"
        value={kind}
        options={LINE_CLASSES.filter((each) => each !== 'reusable-set').map((value) => ({
          value,
          label: value.replaceAll('-', ' '),
        }))}
        onPick={setKind}
      />
      <Button onPress={add} isDisabled={item === '' || taken.includes(item)}>
        Add the line
      </Button>
    </FieldGroup>
  )
}
