import type { Incident } from '../schedule/appointment.ts'
import type { AppointmentFacts } from './day-index.ts'

/** What was found when a stop was looked into; all are kept, "nothing wrong" too. */
export const STOP_OUTCOMES = ['nothing-wrong', 'wrong-side', 'wrong-tooth', 'wrong-patient', 'other'] as const
export type StopOutcome = (typeof STOP_OUTCOMES)[number]

/** The open "Stop, check side" on this appointment, or null. */
export const findStop = ({ incidents }: AppointmentFacts): Incident | null =>
  incidents.find(({ kind, life }) => kind === 'stop-check-side' && life.kind === 'open') ?? null
