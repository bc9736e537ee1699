'use client'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field, FieldGroup } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { dateWords } from '#app/_ui/time-words.ts'
import { dayOf, type Zone } from '#shared/base/moment.ts'
import { CLAMPS } from '#shared/isolation/clamps.ts'
import {
  CLAMP_FAMILIES,
  STOCK_TEETH,
  type StockClamp,
  type StockTooth,
} from '#shared/isolation/isolation-facts.ts'
import { sayClamp } from '#shared/words/en/plan.ts'
import { NumberField } from './number-field.tsx'
import styles from './settings.module.css'
import { SourceWords } from './source-words.tsx'

const TEETH_WORDS: Record<StockTooth, string> = {
  front: 'front teeth',
  premolar: 'premolars',
  molar: 'molars',
  'primary-front': 'primary front teeth',
  'primary-molar': 'primary molars',
}
const JAWS: { value: StockClamp['jaw']; label: string }[] = [
  { value: 'either', label: 'either jaw' },
  { value: 'upper', label: 'upper jaw' },
  { value: 'lower', label: 'lower jaw' },
]

/** The clinic's own clamps by form, with whatever it engraved on them. A plan ranks what is listed here. */
export function ClampsPart({ zone }: { zone: Zone }) {
  const { world } = useWorld()
  const performing = usePerform()
  const standing = world.policySet[0]?.clamps ?? null
  const [draft, setDraft] = useState<StockClamp[] | null>(null)
  const clamps = draft ?? standing ?? []
  const change = (mark: string, some: Partial<StockClamp>) =>
    setDraft(clamps.map((clamp) => (clamp.mark === mark ? { ...clamp, ...some } : clamp)))
  return (
    <section aria-labelledby="clamps" className={styles.part}>
      <h2 id="clamps">Our own clamps</h2>
      <p>
        {standing === null
          ? 'None is listed, so no plan says which one to take. List them as they are engraved.'
          : 'A plan names the best of these for its tooth, and says where none will do.'}
      </p>
      <ul className={styles.list}>
        {clamps.map((clamp) => (
          <li key={clamp.mark} className={styles.line}>
            <span>
              <strong>{clamp.mark}</strong>
              <span className={styles.small}> {aboutWords(clamp)}</span>
            </span>
            <NumberField
              label={`In stock: ${clamp.mark}`}
              value={clamp.count}
              onValue={(count) => change(clamp.mark, { count })}
            />
            <ActButton
              kind="clamp.looked-at"
              input={{ mark: clamp.mark }}
              performing={performing}
              size="small"
              isDisabled={draft !== null}
              aria-label={`${clamp.mark} looked at: no rust, crack or bend`}
              done={`${clamp.mark} is noted as looked at.`}
            >
              Looked at
              <small>{clamp.looked ? dateWords(dayOf(clamp.looked.at, zone)) : 'not noted yet'}</small>
            </ActButton>
            <Button
              size="small"
              aria-label={`Take ${clamp.mark} off the list`}
              onPress={() => setDraft(clamps.filter((each) => each !== clamp))}
            >
              Take off
            </Button>
          </li>
        ))}
      </ul>
      <AddClamp taken={clamps.map(({ mark }) => mark)} onAdd={(clamp) => setDraft([...clamps, clamp])} />
      <div className={styles.save}>
        <ActButton
          kind="clamps.list"
          input={{ clamps: clamps.map(({ looked: _, ...listed }) => listed) }}
          performing={performing}
          size="main"
          tone="ink"
          isDisabled={draft === null}
          done="The clamps are listed."
          onDone={() => setDraft(null)}
        >
          Keep this list
          <small>{draft === null ? 'as it stands' : 'not kept yet'}</small>
        </ActButton>
        {draft === null ? null : <Button onPress={() => setDraft(null)}>Back to what stands</Button>}
      </div>
      <OutcomeBox outcome={performing.outcome} />
    </section>
  )
}

const aboutWords = ({ family, teeth, jaw, metal }: StockClamp): string =>
  [
    sayClamp(family),
    teeth.map((tooth) => TEETH_WORDS[tooth]).join(' and '),
    JAWS.find(({ value }) => value === jaw)?.label,
    metal ? 'metal' : 'not metal',
  ].join(', ')

interface AddProps {
  taken: readonly string[]
  onAdd: (clamp: StockClamp) => void
}

function AddClamp({ taken, onAdd }: AddProps) {
  const [mark, setMark] = useState('')
  const [family, setFamily] = useState<StockClamp['family']>('MOLAR_W_PASSIVE')
  const [teeth, setTeeth] = useState<StockTooth[]>(['molar'])
  const [jaw, setJaw] = useState<StockClamp['jaw']>('either')
  const [metal, setMetal] = useState(CLAMPS.MOLAR_W_PASSIVE.value.metal)
  const engraved = mark.trim()
  const add = () => {
    onAdd({ mark: engraved, family, teeth, jaw, metal, count: 1, looked: null })
    setMark('')
  }
  const touch = (tooth: StockTooth) =>
    setTeeth(teeth.includes(tooth) ? teeth.filter((each) => each !== tooth) : [...teeth, tooth])
  return (
    <FieldGroup title="One more clamp">
      <Field
        label="As it is engraved"
        value={mark}
        onChange={setMark}
        wrong={taken.includes(engraved) ? 'This mark is listed already: count it there.' : null}
      />
      <div className={styles.pick}>
        <Pick
          label="Form"
          value={family}
          options={CLAMP_FAMILIES.map((value) => ({ value, label: sayClamp(value) }))}
          onPick={(next) => {
            setFamily(next)
            setMetal(CLAMPS[next].value.metal)
          }}
        />
        <p className={styles.small}>
          <SourceWords source={CLAMPS[family].source} />
        </p>
      </div>
      <Pick label="Made for" value={jaw} options={JAWS} onPick={setJaw} />
      <div className={styles.choices}>
        {STOCK_TEETH.map((tooth) => (
          <Button key={tooth} aria-pressed={teeth.includes(tooth)} onPress={() => touch(tooth)}>
            {TEETH_WORDS[tooth]}
          </Button>
        ))}
        <Button aria-pressed={metal} onPress={() => setMetal(!metal)}>
          metal
        </Button>
      </div>
      <Button onPress={add} isDisabled={engraved === '' || teeth.length === 0 || taken.includes(engraved)}>
        Add the clamp
      </Button>
    </FieldGroup>
  )
}
