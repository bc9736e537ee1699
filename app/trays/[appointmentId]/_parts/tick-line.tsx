'use client'
import { useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { dateWords } from '#app/_ui/time-words.ts'
import type { Day } from '#shared/base/moment.ts'
import { isPastDate, lotsFor } from '#shared/trays/stock.ts'
import type { StockLine, TrayLine } from '#shared/trays/tray.ts'

interface TickProps {
  line: TrayLine
  performing: Performing
}

/** What a clamp is looked over for, one touch each; floss through both holes draws out both halves of a broken one. */
const LOOKS = ['No rust, crack or bend', 'Floss through both holes'] as const

/** A clamp is there once both looks are made, each by a touch of its own. */
export function TickClamp({ line, performing }: TickProps) {
  const [looked, setLooked] = useState<readonly string[]>([])
  const toggle = (look: string) =>
    setLooked(looked.includes(look) ? looked.filter((each) => each !== look) : [...looked, look])
  return (
    <>
      {LOOKS.map((look) => (
        <Button
          key={look}
          aria-pressed={looked.includes(look)}
          aria-label={`${look}: ${line.name}`}
          onPress={() => toggle(look)}
        >
          {look}
        </Button>
      ))}
      <ActButton
        kind="tray.tick"
        input={{ trayId: line.trayId, lineId: line.id, inspected: true, stockLineId: null }}
        performing={performing}
        size="main"
        isDisabled={looked.length < LOOKS.length}
        done={`${line.name} is there.`}
        aria-label={`There: ${line.name}`}
      >
        There
        <small>
          {looked.length} of {LOOKS.length} looks
        </small>
      </ActButton>
    </>
  )
}

const LOTS_AT_MOST = 3

function lotWords(lot: StockLine, today: Day): string {
  if (lot.expires === null) return `lot ${lot.lot}, no date`
  return `lot ${lot.lot}, ${isPastDate(lot, today) ? 'past its date' : 'until'} ${dateWords(lot.expires)}`
}

type FromShelfProps = TickProps & { lots: readonly StockLine[]; today: Day }

/**
 * Anything else: from which lot, the one to be used first on top. Of a material the touch says that it was looked
 * over, and the button says so before it is touched.
 */
export function TickFromShelf({ line, lots, today, performing }: FromShelfProps) {
  const [first, ...others] = lotsFor(line, lots, today).slice(0, LOTS_AT_MOST)
  const isMaterial = line.class === 'material'
  const input = { trayId: line.trayId, lineId: line.id, inspected: isMaterial }
  const looked = isMaterial ? 'whole, in date, as it should be' : null
  const says = isMaterial ? 'There, looked over' : 'There'
  const said = [first ? lotWords(first, today) : null, looked].filter(Boolean).join(' · ')
  return (
    <>
      <ActButton
        kind="tray.tick"
        input={{ ...input, stockLineId: first?.id ?? null }}
        performing={performing}
        size="main"
        done={`${line.name} is there.`}
        aria-label={`${says}: ${line.name}${first ? `, ${lotWords(first, today)}` : ''}`}
      >
        {says}
        {said === '' ? null : <small>{said}</small>}
      </ActButton>
      {others.map((lot) => (
        <ActButton
          key={lot.id}
          kind="tray.tick"
          input={{ ...input, stockLineId: lot.id }}
          performing={performing}
          done={`${line.name} is there, ${lotWords(lot, today)}.`}
          aria-label={`${line.name} from ${lotWords(lot, today)}${isMaterial ? ', looked over' : ''}`}
        >
          {lotWords(lot, today)}
          <small>instead{isMaterial ? ', looked over' : ''}</small>
        </ActButton>
      ))}
    </>
  )
}
