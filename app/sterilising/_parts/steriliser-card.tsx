'use client'
import { type FormEvent, useState } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Card, Row, Rows } from '#app/_ui/card.tsx'
import { Choice } from '#app/_ui/choice.tsx'
import { Field } from '#app/_ui/field.tsx'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import list from '#app/_ui/list.module.css'
import { Pick } from '#app/_ui/pick.tsx'
import { dayOf } from '#shared/base/moment.ts'
import { LOAD_CONTENTS } from '#shared/sterility/parameters.ts'
import { STERILISER_TYPES, type Steriliser } from '#shared/sterility/sterility-facts.ts'
import type { Bench } from './bench.ts'
import { PROGRAMME_WORDS, type Programme, TYPE_WORDS } from './bench-words.ts'
import type { SteriliserCardProps } from './card-props.ts'
import styles from './sterilising.module.css'
import { AirTests, SporeTests } from './tests-part.tsx'

/** One steriliser: whether it serves, what is open on it, its tests, and a new load. */
export function SteriliserCard(props: SteriliserCardProps) {
  const { steriliser, findings } = props
  return (
    <Card title={steriliser.name}>
      <Rows>
        <Row term="Kind">{TYPE_WORDS[steriliser.type]}</Row>
        <Row term="Stands">{standsWords(steriliser)}</Row>
      </Rows>
      {findings.map((finding) => (
        <FindingLine key={finding.rule} finding={finding} />
      ))}
      <StartLoad {...props} />
      <SporeTests {...props} />
      <AirTests {...props} />
      <ServiceActs {...props} />
    </Card>
  )
}

function standsWords({ life }: Steriliser): string {
  if (life.kind === 'in-service') return 'in service'
  switch (life.until) {
    case 'repeat-passes':
      return 'out of service until the repeated spore test passes'
    case 'repaired':
      return 'out of service until inspected and repaired'
    case 'three-cycles-pass':
      return `out of service: ${life.passingCycles} of 3 empty cycles in a row passed`
  }
}

const TESTS: readonly Programme[] = ['test cycle', 'test cycle, empty chamber']

function StartLoad({ steriliser, bench, performing }: SteriliserCardProps) {
  const isOut = steriliser.life.kind === 'out-of-service'
  const [programme, setProgramme] = useState<Programme>('wrapped-instruments')
  const [number, setNumber] = useState<string | null>(null)
  const offered: readonly Programme[] = isOut ? TESTS : [...LOAD_CONTENTS, ...TESTS]
  const chosen = offered.includes(programme) ? programme : (offered[0] ?? 'test cycle')
  const proposed = number ?? nextNumber(bench)
  const start = async (event: FormEvent) => {
    event.preventDefault()
    const came = await performing.perform(
      'load.start',
      { steriliserId: steriliser.id, number: proposed, programme: chosen },
      `Load ${proposed} is started.`,
    )
    if (came?.kind === 'done') setNumber(null)
  }
  return (
    <form className={styles.line} onSubmit={start}>
      <Pick
        label="Programme"
        value={chosen}
        options={offered.map((value) => ({ value, label: PROGRAMME_WORDS[value] }))}
        onPick={setProgramme}
      />
      <Field label="Load number" value={proposed} onChange={setNumber} autoComplete="off" />
      <Button type="submit" isDisabled={performing.busy || proposed.trim() === ''}>
        Start a load
      </Button>
    </form>
  )
}

/** The day and the next count of it that no load bears. */
function nextNumber({ world, of }: Bench): string {
  const taken = new Set(world.load.map(({ number }) => number))
  let count = world.load.filter(({ started }) => dayOf(started, of.site.zone) === of.day).length + 1
  while (taken.has(`${of.day}/${count}`)) count++
  return `${of.day}/${count}`
}

const OUT_REASONS = [
  'Its door seal leaks',
  'It did not reach its temperature',
  'Packs come out wet',
  'It is being serviced',
]

function ServiceActs({ steriliser, performing }: SteriliserCardProps) {
  const input = { steriliserId: steriliser.id }
  const { life } = steriliser
  if (life.kind === 'in-service') {
    return (
      <div className={list.acts}>
        <Choice
          words="Take out of service"
          title={`Take ${steriliser.name} out of service: why?`}
          back="Leave it in service"
        >
          {(close) =>
            OUT_REASONS.map((why) => (
              <ActButton
                key={why}
                kind="steriliser.take-out"
                input={{ ...input, why }}
                performing={performing}
                done={`${steriliser.name} is out of service.`}
                onDone={close}
              >
                {why}
              </ActButton>
            ))
          }
        </Choice>
      </div>
    )
  }
  return (
    <div className={list.acts}>
      {life.until === 'repaired' ? (
        <ActButton
          kind="steriliser.repaired"
          input={input}
          performing={performing}
          done="Empty cycles count from now on."
        >
          Inspected and repaired
        </ActButton>
      ) : null}
      {life.until === 'three-cycles-pass' ? (
        <ActButton
          kind="steriliser.return"
          input={input}
          performing={performing}
          done={`${steriliser.name} is in service.`}
        >
          Back into service
          <small>by a person named to release loads</small>
        </ActButton>
      ) : null}
    </div>
  )
}

export function AddSteriliser({
  of,
  performing,
  first,
}: {
  of: DayOf
  performing: Performing
  first: boolean
}) {
  const [name, setName] = useState('')
  const [type, setType] = useState<Steriliser['type']>('gravity')
  const add = async (event: FormEvent) => {
    event.preventDefault()
    const came = await performing.perform(
      'steriliser.add',
      { siteId: of.site.id, name, type },
      `${name} is added.`,
    )
    if (came?.kind === 'done') setName('')
  }
  return (
    <details open={first}>
      <summary className={list.more}>Add a steriliser</summary>
      <form className={styles.line} onSubmit={add}>
        <Field label="Name" value={name} onChange={setName} autoComplete="off" />
        <Pick
          label="Kind, as on its plate"
          value={type}
          options={STERILISER_TYPES.map((value) => ({ value, label: TYPE_WORDS[value] }))}
          onPick={setType}
        />
        <Button type="submit" isDisabled={performing.busy || name.trim() === ''}>
          Add
        </Button>
      </form>
    </details>
  )
}
