'use client'
import Link from 'next/link'
import { useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Choice } from '#app/_ui/choice.tsx'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import list from '#app/_ui/list.module.css'
import { ScanField } from '#app/_ui/scan-field.tsx'
import { findFact } from '#shared/facts.ts'
import { type Load, PACK_KINDS, type Pack } from '#shared/sterility/sterility-facts.ts'
import { KIND_WORDS } from '#shared/words/en/sterility.ts'
import { type Bench, judged, PACK_PARTS, type PackPart, partOfPack, placesOf } from './bench.ts'
import { PART_WORDS, placeOf } from './bench-words.ts'
import styles from './sterilising.module.css'

interface PacksProps {
  bench: Bench
  performing: Performing
}

/** Every pack of the site by how it stands; one that is scanned stands first, with all that is known of it. */
export function PacksPart({ bench, performing }: PacksProps) {
  const [code, setCode] = useState<string | null>(null)
  const scanned = bench.world.pack.find((pack) => pack.code === code)
  return (
    <section aria-labelledby="packs">
      <h2 id="packs">Packs</h2>
      <ScanField
        label="Look a pack up"
        act="Look up"
        onCode={async (text) => {
          setCode(text)
          return true
        }}
      />
      {code !== null && !scanned ? (
        <p role="alert">
          {code}: no pack of this site is known by this code. It may be of another site, or used up long ago.
          Look at its label again.
        </p>
      ) : null}
      {scanned ? (
        <ul className={list.rows} aria-label="Looked up">
          <PackRow pack={scanned} bench={bench} performing={performing} />
        </ul>
      ) : null}
      {PACK_PARTS.map((part) => (
        <Part key={part} part={part} bench={bench} performing={performing} />
      ))}
    </section>
  )
}

function Part({ part, bench, performing }: PacksProps & { part: PackPart }) {
  const packs = bench.world.pack.filter((pack) => partOfPack(pack, bench) === part)
  const { title, none } = PART_WORDS[part]
  return (
    <details open={part === 'held' && packs.length > 0}>
      <summary className={list.more}>
        {title}: {packs.length}
        {part === 'usable' ? <span className={list.small}> {kindsOf(packs)}</span> : null}
      </summary>
      {packs.length === 0 ? <p className={list.small}>{none}</p> : null}
      <ul className={list.rows}>
        {packs
          .toSorted((a, b) => a.kind.localeCompare(b.kind) || placeOf(a).localeCompare(placeOf(b)))
          .map((pack) => (
            <PackRow key={pack.id} pack={pack} bench={bench} performing={performing} />
          ))}
      </ul>
    </details>
  )
}

const kindsOf = (packs: readonly Pack[]): string =>
  PACK_KINDS.flatMap((kind) => {
    const count = packs.filter((pack) => pack.kind === kind).length
    return count === 0 ? [] : [`${count} ${KIND_WORDS[kind].toLowerCase()}`]
  }).join(', ')

function PackRow({ pack, bench, performing }: PacksProps & { pack: Pack }) {
  const { world } = bench
  const load = findFact(world, 'load', pack.loadId)
  const set = findFact(world, 'instrumentSet', pack.setId)
  return (
    <li className={`${list.row} ${styles.row}`} data-tone={pack.life.kind === 'held' ? 'hold' : undefined}>
      <span className={styles.code}>{pack.code}</span>
      <span>
        {set?.mark ?? KIND_WORDS[pack.kind]}
        <span className={list.small}>
          {load ? `load ${load.number}` : 'no load'} · {whereWords(pack, bench)}
        </span>
      </span>
      <div>
        {judged(pack, bench).map((finding) => (
          <FindingLine key={finding.rule} finding={finding} />
        ))}
      </div>
      <div className={list.acts}>
        <Link
          href={`/sterilising/recall?kind=pack&packId=${pack.id}`}
          className={list.open}
          prefetch={false}
          aria-label={`Recall from ${pack.code}`}
        >
          Recall
        </Link>
        <PackActs pack={pack} bench={bench} performing={performing} />
      </div>
    </li>
  )
}

function whereWords({ life }: Pack, { world, of }: Bench): string {
  switch (life.kind) {
    case 'shelf':
      return life.place
    case 'reserved': {
      const tray = findFact(world, 'tray', life.trayId)
      const appointment = findFact(world, 'appointment', tray?.appointmentId ?? null)
      const operatory = findFact(world, 'operatory', appointment?.operatoryId ?? null)
      return operatory ? `on the tray for ${operatory.name}` : 'on a tray'
    }
    case 'opened':
      return 'opened for a patient'
    case 'held':
      return 'held'
    case 'in-transit':
      return `on its way to ${of.sites.find(({ id }) => id === life.to)?.name ?? 'another site'}`
    case 'returned':
      return 'used up'
  }
}

const HOLDS = ['It is torn', 'It is wet', 'It was dropped', 'Its mark cannot be read']

function PackActs({ pack, bench, performing }: PacksProps & { pack: Pack }) {
  const load = findFact(bench.world, 'load', pack.loadId)
  switch (pack.life.kind) {
    case 'held':
      return (
        <>
          {load ? <BackToShelf pack={pack} load={load} bench={bench} performing={performing} /> : null}
          <Reprocess pack={pack} performing={performing} />
        </>
      )
    case 'shelf':
      return (
        <>
          <Choice words="Hold" title={`Hold pack ${pack.code}: why?`} back="Leave it">
            {(close) =>
              HOLDS.map((why) => (
                <ActButton
                  key={why}
                  kind="pack.hold"
                  input={{ packId: pack.id, why }}
                  performing={performing}
                  done={`Pack ${pack.code} is held.`}
                  onDone={close}
                >
                  {why}
                </ActButton>
              ))
            }
          </Choice>
          <Reprocess pack={pack} performing={performing} />
        </>
      )
    case 'opened':
      return <Reprocess pack={pack} performing={performing} />
    default:
      return null
  }
}

const AT_MOST = 8

/** Where it came from first; else any place of the shelf that is in use. */
function BackToShelf({ pack, load, bench, performing }: PacksProps & { pack: Pack; load: Load }) {
  const from = pack.life.kind === 'held' ? pack.life.place : undefined
  const others = placesOf(bench).filter((place) => place !== from)
  const offered = [...(from ? [from] : []), ...others].slice(0, AT_MOST)
  return (
    <Choice words="Back to the shelf" title={`Pack ${pack.code}: back to which place?`} back="Leave it held">
      {(close) =>
        offered.map((place) => (
          <ActButton
            key={place}
            kind="pack.return"
            input={{ packId: pack.id, steriliserId: load.steriliserId, place }}
            performing={performing}
            done={`Pack ${pack.code} is back on the shelf.`}
            onDone={close}
          >
            {place}
            <small>{place === from ? 'where it came from' : 'another place'}</small>
          </ActButton>
        ))
      }
    </Choice>
  )
}

const Reprocess = ({ pack, performing }: { pack: Pack; performing: Performing }) => (
  <ActButton
    kind="pack.reprocess"
    input={{ packId: pack.id }}
    performing={performing}
    done={`Pack ${pack.code} goes to be reprocessed.`}
    aria-label={`To be reprocessed: ${pack.code}`}
  >
    Reprocess
  </ActButton>
)
