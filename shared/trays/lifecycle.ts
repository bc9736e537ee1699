import { addMinutes, type Instant } from '../base/moment.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { Appointment } from '../schedule/appointment.ts'
import type { Tray, TrayLife } from './tray.ts'

export const TRAY_STATES = [
  'needed',
  'claimed',
  'laid-out',
  'checked',
  'opened',
  'counted-back',
  'cleared',
  'held',
] as const satisfies readonly TrayLife['kind'][]
export type TrayState = TrayLife['kind']

export const TRAY_EVENTS = [
  'claim',
  'hand-over',
  'take-over',
  'let-go',
  'lay-out',
  'check',
  'open',
  'count-back',
  'clear',
  'call-off',
  'fault',
  'redraw',
  'hold',
  'need',
] as const
export type TrayEvent = (typeof TRAY_EVENTS)[number]

/**
 * Where each event leads; an event not listed is refused. A held tray is claimed anew, so that whatever replaced
 * the held pack is laid out and checked again. An opened tray is counted back before it is cleared, unless its
 * patient never came.
 */
export const TRAY_MOVES: Record<TrayState, Partial<Record<TrayEvent, TrayState>>> = {
  needed: { claim: 'claimed', redraw: 'needed', hold: 'held', clear: 'cleared' },
  claimed: {
    claim: 'claimed',
    'hand-over': 'claimed',
    'take-over': 'claimed',
    'let-go': 'needed',
    'lay-out': 'laid-out',
    fault: 'claimed',
    redraw: 'claimed',
    hold: 'held',
    clear: 'cleared',
  },
  'laid-out': {
    'hand-over': 'claimed',
    'take-over': 'claimed',
    'lay-out': 'laid-out',
    check: 'checked',
    fault: 'laid-out',
    redraw: 'laid-out',
    hold: 'held',
    clear: 'cleared',
  },
  checked: { open: 'opened', fault: 'laid-out', redraw: 'laid-out', hold: 'held', clear: 'cleared' },
  opened: {
    'count-back': 'counted-back',
    'call-off': 'cleared',
    fault: 'laid-out',
    redraw: 'opened',
    hold: 'held',
  },
  'counted-back': { clear: 'cleared', hold: 'held' },
  cleared: { need: 'needed' },
  held: { claim: 'claimed', redraw: 'held', clear: 'cleared' },
}

/** Where an event leads from a state; null where it is refused. */
export const moveOf = (from: TrayState, event: TrayEvent): TrayState | null => TRAY_MOVES[from][event] ?? null

/** Whether a claim has been quiet for longer than the clinic's limit. Judged, never stored. */
export const isQuiet = (tray: Tray, policy: Pick<PolicySet, 'trays'> | null, now: Instant): boolean =>
  tray.life.kind === 'claimed' &&
  policy !== null &&
  now > addMinutes(tray.life.touched, policy.trays.claimQuietMinutes)

/** When the tray must be begun so that it is laid out at the booked start. */
export const startBy = (appointment: Pick<Appointment, 'start'>, policy: Pick<PolicySet, 'trays'>): Instant =>
  addMinutes(appointment.start, -policy.trays.layOutMinutes)
