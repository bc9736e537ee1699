'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import type { Performing } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Choice } from '#app/_ui/choice.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import list from '#app/_ui/list.module.css'
import { timeOf } from '#app/_ui/time-words.ts'
import { can } from '#shared/people/role.ts'
import { shownTray } from '#shared/readiness/shown.ts'
import { isQuiet } from '#shared/trays/lifecycle.ts'
import type { Tray } from '#shared/trays/tray.ts'
import { isCalledOff } from '#shared/trays/tray-for.ts'

export interface TrayActsProps {
  seen: Seen
  tray: Tray
  performing: Performing
}

/** What can be done with the tray as a whole now. */
export function TrayActs({ seen, tray, performing }: TrayActsProps) {
  const input = { trayId: tray.id }
  switch (tray.life.kind) {
    case 'needed':
    case 'held':
      return (
        <div className={list.acts}>
          <ActButton
            kind="tray.claim"
            input={input}
            performing={performing}
            size="main"
            tone="ink"
            done="The tray is yours."
          >
            Claim
          </ActButton>
        </div>
      )
    case 'claimed':
      return tray.life.by === seen.member.id ? (
        <div className={list.acts}>
          <ActButton
            kind="tray.lay-out"
            input={input}
            performing={performing}
            size="main"
            tone="ink"
            done="The tray is laid out."
          >
            Laid out
            <small>
              {tray.done} of {tray.of}
            </small>
          </ActButton>
          <ActButton
            kind="tray.let-go"
            input={input}
            performing={performing}
            done="The tray waits for someone."
          >
            Let go
          </ActButton>
          <HandOver seen={seen} tray={tray} performing={performing} />
          <Hold seen={seen} tray={tray} performing={performing} />
        </div>
      ) : (
        <OfAnother seen={seen} tray={tray} performing={performing} />
      )
    case 'laid-out':
      return (
        <div className={list.acts}>
          <ActButton
            kind="tray.check"
            input={{ ...input, saw: shownTray(seen.trayLines) }}
            performing={performing}
            size="main"
            tone="ink"
            done="The tray is checked."
          >
            Checked
            <small>laid out by {seen.nameOf(tray.life.by)}</small>
          </ActButton>
          {tray.life.by === seen.member.id ? (
            <HandOver seen={seen} tray={tray} performing={performing} />
          ) : null}
          <Hold seen={seen} tray={tray} performing={performing} />
        </div>
      )
    case 'checked':
      return (
        <div className={list.acts}>
          <Hold seen={seen} tray={tray} performing={performing} />
        </div>
      )
    case 'opened':
      return isCalledOff(seen.facts.appointment) ? (
        <div className={list.acts}>
          <ActButton
            kind="tray.clear"
            input={input}
            performing={performing}
            size="main"
            tone="ink"
            done="What was opened goes to be reprocessed."
          >
            The patient never came: clear it
            <small>opened packs are reprocessed, no stock is credited</small>
          </ActButton>
        </div>
      ) : null
    case 'counted-back':
      return (
        <div className={list.acts}>
          <ActButton kind="tray.clear" input={input} performing={performing} done="The tray is cleared away.">
            Cleared away
          </ActButton>
        </div>
      )
    default:
      return null
  }
}

/** A claim that has gone quiet is anybody's; any other is taken over with a reason. */
function OfAnother(props: TrayActsProps) {
  const { seen, tray, performing } = props
  const { world } = useWorld()
  return isQuiet(tray, world.policySet[0] ?? null, seen.now) ? (
    <div className={list.acts}>
      <ActButton
        kind="tray.claim"
        input={{ trayId: tray.id }}
        performing={performing}
        size="main"
        tone="ink"
        done="The tray is yours."
      >
        Claim
        <small>the claim before has gone quiet</small>
      </ActButton>
    </div>
  ) : (
    <TakeOver {...props} />
  )
}

const REASONS = ['They are held up elsewhere', 'They asked me to', 'They have left for today', 'It is urgent']

function TakeOver({ seen, tray, performing }: TrayActsProps) {
  const [asking, setAsking] = useState(false)
  if (tray.life.kind !== 'claimed') return null
  const owner = seen.nameOf(tray.life.by)
  return (
    <div className={list.acts}>
      <p>
        {owner} has this tray since {timeOf(tray.life.since, seen.zone)}.
      </p>
      <Button onPress={() => setAsking(true)}>Take over</Button>
      <Dialog title={`Take over from ${owner}: why?`} isOpen={asking} onClose={() => setAsking(false)}>
        <Button autoFocus onPress={() => setAsking(false)}>
          Leave it with {owner}
        </Button>
        {REASONS.map((reason) => (
          <ActButton
            key={reason}
            kind="tray.take-over"
            input={{ trayId: tray.id, reason }}
            performing={performing}
            done="The tray is yours."
            onDone={() => setAsking(false)}
          >
            {reason}
          </ActButton>
        ))}
      </Dialog>
    </div>
  )
}

/** To whoever else may lay out trays and works here. */
function HandOver({ seen, tray, performing }: TrayActsProps) {
  const { world } = useWorld()
  const others = world.member.filter(
    ({ id, active, roles }) => active && id !== seen.member.id && can(roles, 'tray:use'),
  )
  return (
    <Choice words="Hand over" title="Hand this tray over to whom?" back="Keep it">
      {(close) =>
        others.map(({ id, shortName }) => (
          <ActButton
            key={id}
            kind="tray.hand-over"
            input={{ trayId: tray.id, to: id }}
            performing={performing}
            done={`${shortName} has the tray.`}
            onDone={close}
          >
            {shortName}
          </ActButton>
        ))
      }
    </Choice>
  )
}

const HOLDS = ['Something on it was touched', 'It was left uncovered', 'It fell', 'Wait for the dentist']

/** Pulled, whatever has been done to it: nobody takes it to the chair before it is claimed and laid out anew. */
function Hold({ tray, performing }: TrayActsProps) {
  return (
    <Choice words="Hold this tray" title="Hold this tray: why?" back="Leave it">
      {(close) =>
        HOLDS.map((why) => (
          <ActButton
            key={why}
            kind="tray.hold"
            input={{ trayId: tray.id, why }}
            performing={performing}
            done="The tray is held."
            onDone={close}
          >
            {why}
          </ActButton>
        ))
      }
    </Choice>
  )
}
