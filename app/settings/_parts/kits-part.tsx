'use client'
import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { type InputOf, usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field, FieldGroup } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import type { MemberId } from '#shared/ids.ts'
import { can } from '#shared/people/role.ts'
import { PACK_KINDS } from '#shared/sterility/sterility-facts.ts'
import { differOf } from '#shared/trays/kit-difference.ts'
import { KIT_LINES } from '#shared/trays/kits.ts'
import { KIT_KEYS, type Kit, type KitKey, type KitLine, LINE_CLASSES } from '#shared/trays/tray.ts'
import { NumberField } from './number-field.tsx'
import styles from './settings.module.css'

type Whose = MemberId | 'clinic'

/** What each tray starts from: the clinic's list, or one of a dentist's own. Trays to come are drawn anew. */
export function KitsPart({ kits }: { kits: Kit[] }) {
  const { world } = useWorld()
  const treaters = world.member.filter(({ active, roles }) => active && can(roles, 'work:start'))
  const [key, setKey] = useState<KitKey>('dam-base')
  const [whose, setWhose] = useState<Whose>('clinic')
  const of = (dentistId: MemberId | null) =>
    kits.find((kit) => kit.key === key && kit.dentistId === dentistId)
  const clinics = of(null)?.lines ?? [...KIT_LINES[key].lines]
  const own = whose === 'clinic' ? undefined : of(whose)
  const chosen: ChosenKit = {
    key,
    dentistId: whose === 'clinic' ? null : whose,
    dentist: treaters.find(({ id }) => id === whose)?.shortName ?? null,
    own: own ?? null,
    clinics,
  }
  const owners = kits.flatMap((kit) => (kit.key === key ? (kit.dentistId ?? []) : []))
  return (
    <section aria-labelledby="kits" className={styles.part}>
      <h2 id="kits">Kits</h2>
      <div className={styles.fields}>
        <Pick
          label="Kit"
          value={key}
          options={KIT_KEYS.map((value) => ({ value, label: KIT_LINES[value].name }))}
          onPick={setKey}
        />
        <Pick
          label="Laid out for"
          value={whose}
          options={[
            { value: 'clinic' as Whose, label: 'everyone: the clinic’s list' },
            ...treaters.map(({ id, shortName }) => ({
              value: id as Whose,
              label: owners.includes(id) ? `${shortName}: own list` : `${shortName}: as the clinic`,
            })),
          ]}
          onPick={setWhose}
        />
      </div>
      <p className={styles.small}>
        What lies on the shelf, by lot, is counted under{' '}
        <Link href="/trays/stock" prefetch={false}>
          Stock
        </Link>
        .
      </p>
      <OneKit key={`${key} ${whose} ${own?.id ?? ''}`} chosen={chosen} />
    </section>
  )
}

interface ChosenKit {
  key: KitKey
  /** Null: the clinic's. */
  dentistId: MemberId | null
  dentist: string | null
  /** The dentist's own list, where there is one. */
  own: Kit | null
  clinics: KitLine[]
}

function OneKit({ chosen }: { chosen: ChosenKit }) {
  const { key: kit, dentistId, dentist, own, clinics } = chosen
  const standing = own?.lines ?? clinics
  const performing = usePerform()
  const { refresh } = useRouter()
  const [draft, setDraft] = useState<KitLine[] | null>(null)
  const lines = draft ?? standing
  const change = (index: number, some: Partial<KitLine>) =>
    setDraft(lines.map((line, at) => (at === index ? { ...line, ...some } : line)))
  const done = () => {
    setDraft(null)
    refresh()
  }
  return (
    <>
      {dentist === null ? null : <Difference dentist={dentist} lines={lines} clinics={clinics} />}
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
      <div className={styles.choices}>
        <ActButton
          kind="kit.change"
          input={{ key: kit, dentistId, lines: lines.map(asGiven) }}
          performing={performing}
          size="main"
          tone="ink"
          isDisabled={draft === null || lines.length === 0 || lines.some(({ count }) => count < 1)}
          done="The kit is kept."
          onDone={done}
        >
          {dentist === null ? 'Keep this kit' : `Keep as ${dentist}’s own`}
          <small>{draft === null ? 'as it stands' : 'not kept yet'}</small>
        </ActButton>
        {own === null ? null : (
          <ActButton
            kind="kit.drop"
            input={{ kitId: own.id }}
            performing={performing}
            done={`${dentist} has the clinic’s list again.`}
            onDone={done}
          >
            As the clinic’s again
            <small>drops {dentist}’s own list</small>
          </ActButton>
        )}
      </div>
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

interface DifferenceProps {
  dentist: string
  lines: KitLine[]
  clinics: KitLine[]
}

/** What the dentist's trays have more, less and otherwise than everyone's. */
function Difference({ dentist, lines, clinics }: DifferenceProps) {
  const { added, leftOut, otherwise } = differOf(lines, clinics)
  const said = [
    ...added.map((name) => `+ ${name}`),
    ...leftOut.map((name) => `- ${name}`),
    ...otherwise.map((name) => `${name}, otherwise`),
  ]
  return (
    <p>
      {dentist}, beside the clinic’s list:{' '}
      <strong>{said.length === 0 ? 'no difference' : said.join(', ')}</strong>. When an appointment moves to
      or from {dentist}, its tray shows this difference alone and is checked again.
    </p>
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
