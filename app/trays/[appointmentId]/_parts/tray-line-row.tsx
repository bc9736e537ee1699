'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import type { InputOf, Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import list from '#app/_ui/list.module.css'
import { timeOf } from '#app/_ui/time-words.ts'
import { dayOf } from '#shared/base/moment.ts'
import { can } from '#shared/people/role.ts'
import { lotsFor } from '#shared/trays/stock.ts'
import type { Contents, StockLine, TrayLine } from '#shared/trays/tray.ts'
import styles from '../../_parts/trays.module.css'
import { SwapLine } from './swap-line.tsx'
import { TickClamp, TickFromShelf } from './tick-line.tsx'
import { TouchPack } from './touch-pack.tsx'

export interface TrayLineRowProps {
  line: TrayLine
  /** It came when the dentist or the plan changed, after the tray was laid out. */
  isNew: boolean
  /** What lies on the shelf. */
  lots: StockLine[]
  seen: Seen
  performing: Performing
}

const LAYING: readonly string[] = ['claimed', 'laid-out', 'checked', 'opened']

/** One line of a tray: what it is, whether it is there, and what is wrong with it. */
export function TrayLineRow(props: TrayLineRowProps) {
  const { line, isNew, seen } = props
  const { tray } = seen.facts
  const canTick = tray !== null && LAYING.includes(tray.life.kind)
  const done = (line.tick !== null && line.fault === null) || line.omitted !== null
  return (
    <li
      className={`${list.row} ${styles.row} ${styles.line}`}
      data-done={done || undefined}
      data-stacked={(canTick && hasChoice(props)) || undefined}
      data-tone={line.fault !== null ? 'hold' : undefined}
    >
      <div className={styles.name}>
        <span>
          {done ? '✓ ' : ''}
          {line.count > 1 ? `${line.count} × ` : ''}
          {line.name}
        </span>
        <span className={list.small}>
          {isNew ? <strong>new on this tray · </strong> : null}
          {asideOf(props)}
        </span>
        {line.fault ? <span className={styles.held}>Does not count: {line.fault.why}</span> : null}
      </div>
      {canTick ? <TickButtons {...props} /> : null}
      {canTick && line.contents.latex === 'unknown' ? <ReadLabel {...props} /> : null}
    </li>
  )
}

function asideOf({ line, lots, seen: { nameOf, zone } }: TrayLineRowProps): string {
  const lot = lots.find(({ id }) => id === line.stockLineId)
  return [
    line.tick
      ? `${nameOf(line.tick.by)} ${timeOf(line.tick.at, zone)}${line.tick.inspected ? ', looked over' : ''}`
      : '',
    lot ? `lot ${lot.lot}` : '',
    line.omitted ? `left out: ${line.omitted.reason}` : '',
    line.packKind && line.packId === null ? 'scan its pack' : '',
    latexWords(line.contents),
    line.countedBack ? 'counted back at the end' : '',
  ]
    .filter(Boolean)
    .join(' · ')
}

function latexWords(contents: Contents): string {
  if (contents.latex === 'contains') return 'contains latex'
  return contents.latex === 'unknown' ? 'latex: the label does not say' : ''
}

/** Looks to be made, or lots to choose from. */
const hasChoice = ({ line, lots, seen }: TrayLineRowProps): boolean =>
  (line.tick === null || line.fault !== null) &&
  (isClamp(line) || lotsFor(line, lots, dayOf(seen.now, seen.zone)).length > 1)

const isClamp = ({ item }: TrayLine): boolean => item.startsWith('clamp')

/** What the package says, where the kit does not: until it is read, nobody may take it for free of latex. */
function ReadLabel({ line, performing }: TrayLineRowProps) {
  const input = { trayId: line.trayId, lineId: line.id }
  return (
    <div className={styles.label}>
      <ActButton
        kind="tray.read-label"
        input={{ ...input, contents: { latex: 'free' } }}
        performing={performing}
        aria-label={`The label of ${line.name} says: made without latex`}
        done={`${line.name}: made without latex, by its label.`}
      >
        Label: without latex
      </ActButton>
      <ActButton
        kind="tray.read-label"
        input={{ ...input, contents: { latex: 'contains' } }}
        performing={performing}
        aria-label={`The label of ${line.name} says: contains latex`}
        done={`${line.name}: contains latex, by its label.`}
      >
        Label: latex
      </ActButton>
    </div>
  )
}

function TickButtons(props: TrayLineRowProps) {
  const { line, seen, performing } = props
  const input = { trayId: line.trayId, lineId: line.id }
  if (line.tick !== null && line.fault === null) {
    return (
      <div className={styles.tick}>
        <ActButton kind="tray.untick" input={input} performing={performing} done={`${line.name} taken back.`}>
          Not there
        </ActButton>
        <Wrong line={line} seen={seen} performing={performing} />
      </div>
    )
  }
  if (line.packKind !== null && line.packId === null) {
    return <TouchPack line={line} kind={line.packKind} performing={performing} />
  }
  return (
    <div className={styles.tick}>
      {isClamp(line) ? (
        <TickClamp line={line} performing={performing} />
      ) : (
        <TickFromShelf
          line={line}
          lots={props.lots}
          performing={performing}
          today={dayOf(seen.now, seen.zone)}
        />
      )}
      <Wrong line={line} seen={seen} performing={performing} />
    </div>
  )
}

type Fault = InputOf<'tray.fault'>['why']
const FAULTS: readonly Fault[] = [
  'expired',
  'debris on opening',
  'damaged',
  'rusted or cracked',
  'incomplete',
  'torn',
]
const OMITTED = ['Not needed for this patient', 'I use another method', 'Not on hand, I go on without it']

function Wrong({ line, seen, performing }: Pick<TrayLineRowProps, 'line' | 'seen' | 'performing'>) {
  const [open, setOpen] = useState(false)
  const input = { trayId: line.trayId, lineId: line.id }
  const close = () => setOpen(false)
  return (
    <>
      <Button onPress={() => setOpen(true)} aria-label={`Something is wrong: ${line.name}`}>
        Wrong
      </Button>
      <Dialog title={`${line.name}: what is wrong?`} isOpen={open} onClose={close}>
        <Button autoFocus onPress={close}>
          Nothing, go back
        </Button>
        {FAULTS.map((why) => (
          <ActButton
            key={why}
            kind="tray.fault"
            input={{ ...input, why }}
            performing={performing}
            onDone={close}
          >
            {why}
          </ActButton>
        ))}
        {can(seen.member.roles, 'plan:choose')
          ? OMITTED.map((reason) => (
              <ActButton
                key={reason}
                kind="tray.omit"
                input={{ ...input, reason }}
                performing={performing}
                onDone={close}
              >
                Leave out: {reason}
              </ActButton>
            ))
          : null}
        <SwapLine line={line} performing={performing} onDone={close} />
      </Dialog>
    </>
  )
}
