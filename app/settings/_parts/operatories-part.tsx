'use client'
import { useState } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field, FieldGroup } from '#app/_ui/field.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { OPERATORY_KINDS, type Operatory, type OperatoryKind, type Site } from '#shared/people/clinic.ts'
import styles from './settings.module.css'

const KIND_WORDS: Record<OperatoryKind, string> = {
  surgery: 'surgery',
  hygiene: 'hygiene',
  student: 'student bay',
}
type Places = Site['assistantPlaces']
const PLACES: { value: Places; label: string }[] = [
  { value: 'not-set', label: 'Not set: an assistant prepares only' },
  { value: 'allowed', label: 'Allowed: an assistant may place a dam' },
  { value: 'not-allowed', label: 'Not allowed' },
]

/** The operatories of this site, and who may place a dam here. */
export function OperatoriesPart({ of }: { of: DayOf }) {
  const { world } = useWorld()
  const rooms = world.operatory
    .filter(({ siteId }) => siteId === of.site.id)
    .sort((a, b) => a.position - b.position)
  return (
    <>
      <section aria-labelledby="rooms" className={styles.part}>
        <h2 id="rooms">Operatories of {of.site.name}</h2>
        <ul className={styles.list}>
          {rooms.map((room) => (
            <RoomRow key={room.id} room={room} />
          ))}
        </ul>
        <AddRoom of={of} />
      </section>
      <PlacesPart site={world.site.find(({ id }) => id === of.site.id) ?? of.site} />
    </>
  )
}

function RoomRow({ room }: { room: Operatory }) {
  const performing = usePerform()
  const [name, setName] = useState(room.name)
  const isRetired = room.retiredAt !== null
  const said = operatoryWords(room.name)
  return (
    <li data-inactive={isRetired || undefined}>
      <details className={styles.person}>
        <summary>
          <strong>{said}</strong>
          <span>
            {KIND_WORDS[room.kind]}
            {room.latexSafe ? ' · kept free of latex' : ''}
            {isRetired ? ' · retired' : ''}
          </span>
        </summary>
        <div className={styles.part}>
          <Field label={`Name or number of ${said}`} value={name} onChange={setName} />
          <div className={styles.choices}>
            <ActButton
              kind="operatory.change"
              input={{ operatoryId: room.id, name: name.trim() }}
              performing={performing}
              isDisabled={name.trim() === '' || name.trim() === room.name}
              done="The name is kept."
            >
              Keep this name
            </ActButton>
            <ActButton
              kind="operatory.change"
              input={{ operatoryId: room.id, latexSafe: !room.latexSafe }}
              performing={performing}
              aria-pressed={room.latexSafe}
              done="Kept."
            >
              Kept free of latex
            </ActButton>
            <ActButton
              kind="operatory.change"
              input={{ operatoryId: room.id, retired: !isRetired }}
              performing={performing}
              done={isRetired ? `${said} is in use again.` : `${said} is retired.`}
            >
              {isRetired ? 'In use again' : 'Retire it'}
              <small>{isRetired ? 'it can be booked' : 'nobody new is booked into it'}</small>
            </ActButton>
          </div>
          <OutcomeBox outcome={performing.outcome} />
        </div>
      </details>
    </li>
  )
}

function AddRoom({ of }: { of: DayOf }) {
  const performing = usePerform()
  const [name, setName] = useState('')
  const [kind, setKind] = useState<OperatoryKind>('surgery')
  const [latexSafe, setLatexSafe] = useState(false)
  return (
    <FieldGroup title="A new operatory">
      <Field label="Name or number" value={name} onChange={setName} />
      <Pick
        label="For"
        value={kind}
        options={OPERATORY_KINDS.map((value) => ({ value, label: KIND_WORDS[value] }))}
        onPick={setKind}
      />
      <Button aria-pressed={latexSafe} onPress={() => setLatexSafe(!latexSafe)}>
        Kept free of latex
      </Button>
      <ActButton
        kind="operatory.add"
        input={{ siteId: of.site.id, name, kind, latexSafe }}
        performing={performing}
        tone="ink"
        isDisabled={name.trim() === ''}
        done="The operatory is added."
        onDone={() => setName('')}
      >
        Add operatory
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </FieldGroup>
  )
}

/** Local law decides who may place a dam; the clinic says what holds here. */
function PlacesPart({ site }: { site: Site }) {
  const performing = usePerform()
  const [places, setPlaces] = useState<Places>(site.assistantPlaces)
  const { name, zone, opensAt, closesAt } = site
  return (
    <section aria-labelledby="places" className={styles.part}>
      <h2 id="places">Who may place a dam here</h2>
      <p className={styles.small}>
        Local law decides. Until it is set, an assistant prepares and does not place.
      </p>
      <Pick label="An assistant places a dam" value={places} options={PLACES} onPick={setPlaces} />
      <ActButton
        kind="site.set"
        input={{ siteId: site.id, name, zone, opensAt, closesAt, assistantPlaces: places }}
        performing={performing}
        isDisabled={places === site.assistantPlaces}
        done="Kept."
      >
        Keep this
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </section>
  )
}
