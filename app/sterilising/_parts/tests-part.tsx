'use client'
import Link from 'next/link'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Choice } from '#app/_ui/choice.tsx'
import list from '#app/_ui/list.module.css'
import { dateWords, timeOf } from '#app/_ui/time-words.ts'
import { Why } from '#app/_ui/why.tsx'
import { dayOf, type Instant } from '#shared/base/moment.ts'
import { findFact } from '#shared/facts.ts'
import { planRecall } from '#shared/sterility/recall.ts'
import { lastNegative, SPORE_SOURCE } from '#shared/sterility/spore-test.ts'
import type { Indicator } from '#shared/sterility/sterility-facts.ts'
import { countWords } from './bench-words.ts'
import type { SteriliserCardProps } from './card-props.ts'
import styles from './sterilising.module.css'

/** Weekly spore tests: what is due, pending and failed, and what follows a positive one in this clinic. */
export function SporeTests({ steriliser, spores, bench, performing }: SteriliserCardProps) {
  const { world, of } = bench
  const last = lastNegative(spores)
  const running = world.load.filter(
    ({ steriliserId, life }) => steriliserId === steriliser.id && life.kind === 'running',
  )
  const pending = spores.filter(({ life }) => life.kind === 'pending')
  const when = (at: Instant): string => `${dateWords(dayOf(at, of.site.zone))}, ${timeOf(at, of.site.zone)}`
  return (
    <fieldset className={styles.tests}>
      <legend>Spore test, every week at least</legend>
      <p className={list.small}>
        Last negative: {last === null ? 'none known' : when(last)} {lastRead(spores)}
      </p>
      <div className={list.acts}>
        {pending.length > 0
          ? null
          : [
              ...running.map(({ id, number }) => ({ id, words: `Place in load ${number}` })),
              { id: null, words: 'Place one' },
            ]
              .slice(0, 2)
              .map(({ id, words }) => (
                <ActButton
                  key={id ?? 'none'}
                  kind="indicator.place"
                  input={{ steriliserId: steriliser.id, loadId: id, kind: 'spore' }}
                  performing={performing}
                  done="The spore test is placed."
                >
                  {words}
                </ActButton>
              ))}
      </div>
      {pending.map((indicator) => (
        <div key={indicator.id} className={styles.pending}>
          <p>
            Pending since {when(indicator.placed)}
            {indicator.loadId ? `, load ${findFact(world, 'load', indicator.loadId)?.number ?? ''}` : ''}.
            Loads for implants wait for it.
          </p>
          <Link
            href={`/sterilising/recall?kind=indicator&indicatorId=${indicator.id}`}
            className={list.open}
            prefetch={false}
          >
            What it would reach
          </Link>
          <ReadSpore indicator={indicator} steriliser={steriliser} bench={bench} performing={performing} />
        </div>
      ))}
      <Paths isCautious={world.policySet[0]?.sterility.sporeFailure !== 'warn'} />
    </fieldset>
  )
}

function lastRead(spores: readonly Indicator[]): string {
  const read = spores.find(({ life }) => life.kind === 'read')
  if (read?.life.kind !== 'read' || read.life.result === 'pass') return ''
  return read.life.result === 'fail' ? '· the last one was positive' : '· the last one’s control did not grow'
}

type ReadSporeProps = Pick<SteriliserCardProps, 'steriliser' | 'bench' | 'performing'> & {
  indicator: Indicator
}

function ReadSpore({ indicator, steriliser, bench, performing }: ReadSporeProps) {
  const input = { steriliserId: steriliser.id, indicatorId: indicator.id }
  const { packs, trays, patients } = planRecall(
    bench.world,
    { kind: 'indicator', indicatorId: indicator.id },
    bench.now,
  )
  return (
    <div className={list.acts}>
      <ActButton
        kind="indicator.read"
        input={{ ...input, result: 'pass' }}
        performing={performing}
        done="The spore test is negative."
      >
        No growth, control grew
        <small>negative</small>
      </ActButton>
      <Choice
        words="Growth"
        title={`The spore test of ${steriliser.name} is positive?`}
        back="No, look again"
        tone="stop"
      >
        {(close) => (
          <>
            <p>
              Since the last negative test: {countWords(packs.length, 'pack')},{' '}
              {countWords(trays.length, 'tray')} and {countWords(patients.length, 'patient')} of those at hand
              here.
            </p>
            <ActButton
              kind="indicator.read"
              input={{ ...input, result: 'fail' }}
              performing={performing}
              tone="stop"
              done={`${steriliser.name} is out of service.`}
              onDone={close}
            >
              Yes, it is positive
            </ActButton>
          </>
        )}
      </Choice>
      <ActButton
        kind="indicator.read"
        input={{ ...input, result: 'invalid' }}
        performing={performing}
        done="It says nothing and is repeated."
      >
        Control did not grow
        <small>says nothing, repeat it</small>
      </ActButton>
    </div>
  )
}

/** The two published ways to act on a first positive, and which is this clinic's. */
function Paths({ isCautious }: { isCautious: boolean }) {
  return (
    <details>
      <summary className={list.more}>After a positive test</summary>
      <ul className={styles.paths}>
        <li data-chosen={isCautious || undefined}>
          {isCautious ? <strong>This clinic: </strong> : null}
          the first positive counts as a failure. Everything since the last negative test is held.
        </li>
        <li data-chosen={!isCautious || undefined}>
          {isCautious ? null : <strong>This clinic: </strong>}
          where readings and chemical indicators were good, only what goes with implants is held until the
          repeat is read.
        </li>
        <li>
          Either way: out of service, and the test repeated at once in the same cycle. Positive again:
          everything since the last negative test is recalled, and it stays out until repaired and three empty
          cycles in a row pass.
        </li>
      </ul>
      <Why rule="spore/failed" source={SPORE_SOURCE} />
    </details>
  )
}

/** The day's air-removal test of a steriliser that draws the air out. */
export function AirTests({ steriliser, airTests, bench, performing }: SteriliserCardProps) {
  if (steriliser.type !== 'dynamic-air-removal') return null
  const pending = airTests.find(({ life }) => life.kind === 'pending')
  const [last] = airTests
  const input = { steriliserId: steriliser.id }
  return (
    <fieldset className={styles.tests}>
      <legend>Air-removal test, before the first load of the day</legend>
      <p className={list.small}>
        {last ? airWords(last) : 'Not run today.'}
        {last ? ` ${timeOf(last.placed, bench.of.site.zone)}` : ''}
      </p>
      <div className={list.acts}>
        {pending ? (
          <>
            <ActButton
              kind="indicator.read"
              input={{ ...input, indicatorId: pending.id, result: 'pass' }}
              performing={performing}
              done="The air-removal test passed."
            >
              Passed
              <small>colour changed evenly</small>
            </ActButton>
            <ActButton
              kind="indicator.read"
              input={{ ...input, indicatorId: pending.id, result: 'fail' }}
              performing={performing}
              tone="stop"
              done="No load is released until a test passes."
            >
              Failed
            </ActButton>
          </>
        ) : (
          <ActButton
            kind="indicator.place"
            input={{ ...input, loadId: null, kind: 'air-removal' }}
            performing={performing}
            done="The air-removal test is in."
          >
            Test is in
          </ActButton>
        )}
      </div>
    </fieldset>
  )
}

function airWords({ life }: Indicator): string {
  if (life.kind === 'pending') return 'Running, not read yet.'
  return life.result === 'pass' ? 'Passed today.' : 'Failed today: no load is released.'
}
