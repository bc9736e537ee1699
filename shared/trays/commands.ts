import { z } from 'zod'
import { refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { commandRule, type Decision } from '../command.ts'
import { findFact } from '../facts.ts'
import type { AppointmentId, MemberId, TrayId } from '../ids.ts'
import { saw } from '../inputs.ts'
import { can } from '../people/role.ts'
import { judgeShown, shownTray } from '../readiness/shown.ts'
import { done, type Laid, move, notNow, onTray, ownerOf } from './decide.ts'
import { isQuiet, moveOf } from './lifecycle.ts'
import { LINE_COMMANDS } from './line-commands.ts'
import { STOCK_COMMANDS } from './stock-commands.ts'
import { clearTray, isCalledOff, trayFor } from './tray-for.ts'
import { USE_COMMANDS } from './use-commands.ts'

const trayId = z.uuid().transform((id) => id as TrayId)
const ofTray = z.object({ trayId })
const reach = (input: { trayId: TrayId }) => ({ trays: [input.trayId] })

/** Exactly one owner: a live claim of another is refused with who has it and since when; a quiet one is not. */
function claim(laid: Laid): Decision {
  const { tray, context } = laid
  const { life } = tray
  const isOthers = life.kind === 'claimed' && life.by !== context.by.id
  if (isOthers && !isQuiet(tray, laid.world.policySet[0] ?? null, context.now)) {
    return refuse({
      rule: 'tray/claimed-by-other',
      level: 'stop',
      about: `tray:${tray.id}`,
      by: life.by,
      since: life.since,
    })
  }
  const since = life.kind === 'claimed' && !isOthers ? life.since : context.now
  return move(laid, 'claim', { kind: 'claimed', by: context.by.id, since, touched: context.now })
}

const claimedBy = (by: MemberId, { context }: Laid) =>
  ({ kind: 'claimed', by, since: context.now, touched: context.now }) as const

function handOver(laid: Laid, to: MemberId): Decision {
  const receiver = findFact(laid.world, 'member', to)
  if (!receiver?.active || !can(receiver.roles, 'tray:use')) {
    return refuse({ rule: 'tray/receiver-not-allowed', level: 'stop', about: `tray:${laid.tray.id}`, to })
  }
  return asOwner(laid, () => move(laid, 'hand-over', claimedBy(to, laid)))
}

/** Only whose tray it is may do this; others take it over first, with a reason. */
function asOwner(laid: Laid, act: () => Decision): Decision {
  const owner = ownerOf(laid.tray)
  return owner === null || owner === laid.context.by.id
    ? act()
    : refuse({ rule: 'tray/not-owner', level: 'stop', about: `tray:${laid.tray.id}`, by: owner })
}

/** Lines may still be missing: it is then laid out short, and says so. */
const layOut = (laid: Laid): Decision =>
  asOwner(laid, () =>
    move(laid, 'lay-out', { kind: 'laid-out', by: laid.context.by.id, at: laid.context.now, recheck: null }),
  )

/** A tray with a line missing is never checked, nor one of which other lines were looked over. */
function check(laid: Laid, seen: string | null): Decision {
  const { tray, context, lines } = laid
  if (moveOf(tray.life.kind, 'check') === null) return notNow(laid, 'check')
  const moved = judgeShown(seen, { stands: shownTray(lines), what: 'tray', about: `tray:${tray.id}` })
  if (moved.length > 0) return refuse(...moved)
  if (tray.firstMissing !== null) {
    return refuse({
      rule: 'tray/line-missing',
      level: 'ask',
      about: `tray:${tray.id}`,
      done: tray.done,
      of: tray.of,
      missing: tray.firstMissing,
    })
  }
  return move(laid, 'check', {
    kind: 'checked',
    by: context.by.id,
    at: context.now,
    planNumber: tray.planNumber,
  })
}

export const TRAY_COMMANDS = {
  'tray.request': commandRule({
    kind: 'tray.request',
    needs: 'tray:use',
    input: z.object({ appointmentId: z.uuid().transform((id) => id as AppointmentId) }),
    reach: ({ appointmentId }) => ({ appointments: [appointmentId] }),
    decide: (world, { appointmentId }, context) =>
      findFact(world, 'appointment', appointmentId)
        ? done(trayFor(world, appointmentId, context))
        : refuse({
            rule: 'tray/not-found',
            level: 'stop',
            about: `appointment:${appointmentId}`,
            id: appointmentId,
          }),
  }),
  'tray.claim': commandRule({
    kind: 'tray.claim',
    needs: 'tray:use',
    input: ofTray,
    reach,
    decide: (world, input, context) => onTray({ world, context, trayId: input.trayId }, claim),
  }),
  'tray.hand-over': commandRule({
    kind: 'tray.hand-over',
    needs: 'tray:use',
    input: ofTray.extend({ to: z.uuid().transform((id) => id as MemberId) }),
    reach,
    decide: (world, input, context) =>
      onTray({ world, context, trayId: input.trayId }, (laid) => handOver(laid, input.to)),
  }),
  /** The reason is kept in the journal; ticks stay as they are. */
  'tray.take-over': commandRule({
    kind: 'tray.take-over',
    needs: 'tray:use',
    input: ofTray.extend({ reason: z.string().trim().min(1).max(200) }),
    reach,
    decide: (world, input, context) =>
      onTray({ world, context, trayId: input.trayId }, (laid) =>
        move(laid, 'take-over', claimedBy(context.by.id, laid)),
      ),
  }),
  'tray.let-go': commandRule({
    kind: 'tray.let-go',
    needs: 'tray:use',
    input: ofTray,
    reach,
    decide: (world, input, context) =>
      onTray({ world, context, trayId: input.trayId }, (laid) =>
        asOwner(laid, () => move(laid, 'let-go', { kind: 'needed' })),
      ),
  }),
  'tray.lay-out': commandRule({
    kind: 'tray.lay-out',
    needs: 'tray:use',
    input: ofTray,
    reach,
    decide: (world, input, context) => onTray({ world, context, trayId: input.trayId }, layOut),
  }),
  'tray.check': commandRule({
    kind: 'tray.check',
    needs: 'tray:use',
    input: ofTray.extend({ saw }),
    reach,
    decide: (world, input, context) =>
      onTray({ world, context, trayId: input.trayId }, (laid) => check(laid, input.saw)),
  }),
  /** Unopened packs go back to their place; what was opened has been counted back first. */
  'tray.clear': commandRule({
    kind: 'tray.clear',
    needs: 'tray:use',
    input: ofTray,
    reach,
    decide: (world, input, context) => onTray({ world, context, trayId: input.trayId }, clear),
  }),
  'tray.hold': commandRule({
    kind: 'tray.hold',
    needs: 'tray:use',
    input: ofTray.extend({ why: z.string().trim().min(1).max(200) }),
    reach,
    decide: (world, input, context) =>
      onTray({ world, context, trayId: input.trayId }, (laid) => hold(laid, input.why)),
  }),
  ...LINE_COMMANDS,
  ...USE_COMMANDS,
  ...STOCK_COMMANDS,
}

/** Where the patient never came, what was opened is reprocessed: nothing went to the chair, nothing is credited. */
function clear(laid: Laid): Decision {
  const { world, tray, context } = laid
  const appointment = findFact(world, 'appointment', tray.appointmentId)
  const isUnused = appointment !== undefined && isCalledOff(appointment)
  const event = isUnused && tray.life.kind === 'opened' ? 'call-off' : 'clear'
  return moveOf(tray.life.kind, event) === null
    ? notNow(laid, event)
    : done(clearTray(world, tray, { now: context.now, used: !isUnused }))
}

function hold(laid: Laid, why: string): Decision {
  const { life } = laid.tray
  if (life.kind === 'held' || moveOf(life.kind, 'hold') === null) return notNow(laid, 'hold')
  return done(
    putting('tray', { ...laid.tray, life: { kind: 'held', at: laid.context.now, why, before: life.kind } }),
  )
}
