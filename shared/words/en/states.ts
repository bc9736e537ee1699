import type { Actor, Check, Gate } from '../../base/rule.ts'
import type { Role } from '../../people/role.ts'
import type { PlankState, ReadinessState } from '../../readiness/board-types.ts'
import type { VisitStage } from '../../schedule/appointment.ts'

export const STATE_WORDS: Record<PlankState, string> = {
  ready: 'Ready',
  preparing: 'Preparing',
  ask: 'Ask',
  hold: 'Hold',
  later: 'Later',
  'not-needed': 'Not needed',
}

export const CHECK_WORDS: Record<Check, string> = {
  patient: 'patient',
  room: 'room and people',
  tray: 'tray',
  allergies: 'allergies',
  numbness: 'numbness',
  plan: 'plan',
}

export const GATE_WORDS: Record<Gate, string> = {
  seat: 'to seat',
  inject: 'to inject',
  clamp: 'to clamp',
  start: 'to start',
  leave: 'to leave',
}

export const STAGE_WORDS: Record<VisitStage, string> = {
  expected: 'expected',
  arrived: 'arrived',
  seated: 'seated',
  injected: 'injected',
  clamped: 'dam on',
  started: 'under way',
  finished: 'finished',
  left: 'left',
}

export const ACTOR_WORDS: Record<Actor, string> = {
  'front-desk': 'Front desk',
  assistant: 'Assistant',
  dentist: 'Dentist',
  'steriliser-lead': 'Steriliser lead',
  instructor: 'Instructor',
  manager: 'Manager',
}

/** Said where a screen may name nobody. */
export const WAITS_FOR_DENTIST = 'Waits for the dentist'

/** Readiness is always for the next gate, and says so. */
export const sayState = (state: ReadinessState, gate: Gate | null): string => {
  if (gate === null) return 'Left'
  return state === 'ready' ? `${STATE_WORDS.ready} ${GATE_WORDS[gate]}` : STATE_WORDS[state]
}

export const ROLE_WORDS: Record<Role, string> = {
  'front-desk': 'front desk',
  assistant: 'assistant',
  hygienist: 'hygienist',
  dentist: 'dentist',
  'steriliser-lead': 'steriliser lead',
  instructor: 'instructor',
  student: 'student',
  manager: 'manager',
  station: 'shared station',
}
