'use client'
import Link from 'next/link'
import { type FormEvent, useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Card, Row, Rows } from '#app/_ui/card.tsx'
import { Choice } from '#app/_ui/choice.tsx'
import { Field } from '#app/_ui/field.tsx'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import list from '#app/_ui/list.module.css'
import { timeOf } from '#app/_ui/time-words.ts'
import { isTestLoad } from '#shared/sterility/load.ts'
import { planRecall } from '#shared/sterility/recall.ts'
import type { Indicator } from '#shared/sterility/sterility-facts.ts'
import type { Bench, StandingLoad } from './bench.ts'
import {
  countWords,
  LOAD_WORDS,
  parseCelsius,
  parseSpan,
  programmeWords,
  readingWords,
} from './bench-words.ts'
import type { LoadCardProps } from './card-props.ts'
import styles from './sterilising.module.css'
import { WrapSets } from './wrap-sets.tsx'

/** One load from its start to its release: what is in it, its readings, its indicator, and what still keeps it. */
export function LoadCard(props: LoadCardProps) {
  const { load, steriliser, packs, findings, wants } = props
  const isTest = isTestLoad(load)
  return (
    <Card title={`Load ${load.number}`}>
      <Rows>
        <Row term="Stands">{stateWords(props)}</Row>
        <Row term="Steriliser">
          {steriliser.name}, {programmeWords(load.programme)}
        </Row>
        <Row term="Reading">{load.reading ? readingWords(load.reading) : 'not entered'}</Row>
        {isTest ? null : <Row term="Packs">{packs.length}</Row>}
      </Rows>
      {wants.map((finding) => (
        <FindingLine key={finding.rule} finding={finding} />
      ))}
      {load.life.kind === 'ended' && !isTest
        ? findings.map((finding) => <FindingLine key={finding.rule} finding={finding} />)
        : null}
      {isTest ? null : <Indicators {...props} />}
      {load.life.kind === 'running' ? <EndForm {...props} /> : null}
      {load.life.kind === 'ended' && !isTest ? <Release {...props} /> : null}
      {isTest || !isInHand(props) ? null : <WrapSets {...props} />}
      <div className={list.acts}>
        {packs.length > 0 && load.life.kind !== 'failed' ? (
          <Link href={`/sterilising/labels/${load.id}`} className={list.open} prefetch={false}>
            Labels
          </Link>
        ) : null}
        {packs.length > 0 ? (
          <Link
            href={`/sterilising/recall?kind=load&loadId=${load.id}`}
            className={list.open}
            prefetch={false}
          >
            Where its packs are
          </Link>
        ) : null}
        {load.life.kind === 'failed' ? null : <Fail {...props} />}
      </div>
    </Card>
  )
}

const isInHand = ({ load }: LoadCardProps): boolean =>
  load.life.kind === 'running' || load.life.kind === 'ended'

function stateWords({ load, bench: { of } }: LoadCardProps): string {
  const { life } = load
  const zone = of.site.zone
  const words = LOAD_WORDS[life.kind]
  switch (life.kind) {
    case 'running':
      return `${words} since ${timeOf(load.started, zone)}`
    case 'ended':
      return `${words}, ${timeOf(life.at, zone)}`
    case 'released':
      return `${words} ${timeOf(life.at, zone)} by ${of.names[life.by] ?? 'someone unknown'}`
    case 'failed':
      return `${words} ${timeOf(life.at, zone)}: ${life.why}`
  }
}

function Indicators({ load, steriliser, indicators, bench, performing }: LoadCardProps) {
  const pending = indicators.filter(({ life }) => life.kind === 'pending')
  if (indicators.length === 0) {
    return isOver(load) ? null : (
      <div className={list.acts}>
        <ActButton
          kind="indicator.place"
          input={{ steriliserId: steriliser.id, loadId: load.id, kind: 'chemical' }}
          performing={performing}
          done="The indicator is in."
        >
          Chemical indicator is in
        </ActButton>
      </div>
    )
  }
  return (
    <fieldset className={styles.tests}>
      <legend>Chemical indicator</legend>
      {pending.length === 0 ? <p>{readWords(indicators, bench)}</p> : null}
      {pending.map((indicator) => (
        <div key={indicator.id} className={list.acts}>
          <ActButton
            kind="indicator.read"
            input={{ steriliserId: steriliser.id, indicatorId: indicator.id, result: 'pass' }}
            performing={performing}
            done="The indicator changed."
          >
            Changed
          </ActButton>
          <NotChanged indicator={indicator} load={load} bench={bench} performing={performing} />
        </div>
      ))}
    </fieldset>
  )
}

const isOver = ({ life }: StandingLoad['load']): boolean => life.kind === 'released' || life.kind === 'failed'

function readWords(indicators: readonly Indicator[], { of }: Bench): string {
  const [read] = indicators
  if (read?.life.kind !== 'read') return 'not read'
  const words = read.life.result === 'pass' ? 'Changed' : 'Not changed'
  return `${words}, read by ${of.names[read.life.by] ?? 'someone unknown'} ${timeOf(read.life.at, of.site.zone)}`
}

type NotChangedProps = Pick<LoadCardProps, 'load' | 'bench' | 'performing'> & { indicator: Indicator }

function NotChanged({ indicator, load, bench, performing }: NotChangedProps) {
  return (
    <Choice
      words="Not changed"
      title={`The indicator of load ${load.number} did not change?`}
      back="No, look again"
      tone="stop"
    >
      {(close) => (
        <>
          <Reach load={load} bench={bench} />
          <ActButton
            kind="indicator.read"
            input={{ steriliserId: load.steriliserId, indicatorId: indicator.id, result: 'fail' }}
            performing={performing}
            tone="stop"
            done={`Load ${load.number} has failed.`}
            onDone={close}
          >
            Yes, the load failed
          </ActButton>
        </>
      )}
    </Choice>
  )
}

/** What failing a load would reach, before it is done. */
function Reach({ load, bench }: Pick<LoadCardProps, 'load' | 'bench'>) {
  const { packs, trays, patients } = planRecall(bench.world, { kind: 'load', loadId: load.id }, bench.now)
  return (
    <p>
      The load fails: {countWords(packs.length, 'pack')} held, {countWords(trays.length, 'tray')} put on hold,{' '}
      {countWords(patients.length, 'patient')} reached.
    </p>
  )
}

function EndForm({ load, performing }: LoadCardProps) {
  const [celsius, setCelsius] = useState('')
  const [span, setSpan] = useState('')
  const [wrong, setWrong] = useState<{ celsius: string | null; span: string | null }>({
    celsius: null,
    span: null,
  })
  const end = async (event: FormEvent) => {
    event.preventDefault()
    const deciCelsius = parseCelsius(celsius)
    const seconds = parseSpan(span)
    setWrong({
      celsius: deciCelsius === null ? 'Enter degrees Celsius such as 134.0.' : null,
      span: seconds === null ? 'Enter minutes such as 15, or 15:30.' : null,
    })
    if (deciCelsius === null || seconds === null) return
    await performing.perform(
      'load.end',
      { loadId: load.id, deciCelsius, seconds },
      `Load ${load.number} has ended.`,
    )
  }
  return (
    <form className={styles.line} onSubmit={end}>
      <Field
        label="Temperature held, °C"
        value={celsius}
        onChange={setCelsius}
        inputMode="decimal"
        autoComplete="off"
        wrong={wrong.celsius}
      />
      <Field
        label="For how long, minutes"
        value={span}
        onChange={setSpan}
        inputMode="numeric"
        autoComplete="off"
        wrong={wrong.span}
      />
      <Button type="submit" isDisabled={performing.busy}>
        Ended: enter the readings
      </Button>
    </form>
  )
}

function Release({ load, steriliser, bench, performing }: LoadCardProps) {
  const { member } = bench.of
  return (
    <div className={list.acts}>
      <ActButton
        kind="load.release"
        input={{ steriliserId: steriliser.id, loadId: load.id }}
        performing={performing}
        size="main"
        tone="ink"
        done={`Load ${load.number} is released.`}
      >
        Release
        <small>{member.releasesLoads ? `as ${member.name}` : 'only by a person named for it'}</small>
      </ActButton>
    </div>
  )
}

const FAILURES = [
  'The cycle was aborted',
  'Packs came out wet',
  'The printout is missing',
  'The door was opened too soon',
]

function Fail({ load, bench, performing }: LoadCardProps) {
  return (
    <Choice words="Load failed" title={`Load ${load.number} failed: why?`} back="It did not fail" tone="stop">
      {(close) => (
        <>
          <Reach load={load} bench={bench} />
          {FAILURES.map((why) => (
            <ActButton
              key={why}
              kind="load.fail"
              input={{ loadId: load.id, why }}
              performing={performing}
              tone="stop"
              done={`Load ${load.number} has failed.`}
              onDone={close}
            >
              {why}
            </ActButton>
          ))}
        </>
      )}
    </Choice>
  )
}
