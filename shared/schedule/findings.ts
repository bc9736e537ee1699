import type { ClockTime, Day, Instant, Minutes } from '../base/moment.ts'
import type { FindingOf } from '../base/rule.ts'
import type { AppointmentId, MemberId } from '../ids.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { AppointmentStatus, Compared, PermittedWork, RoomTask, VisitStage } from './appointment.ts'

export type ScheduleFinding =
  // what stands open before a gate
  | FindingOf<'appointment/vanished', 'ask', { since: Instant }>
  | FindingOf<
      'appointment/not-accepted',
      'ask',
      { start: Instant; added: ClockTime | null; suggested: ClockTime | null }
    >
  | FindingOf<'patient/not-arrived', 'ask', { minutes: Minutes }>
  | FindingOf<'room/clash', 'ask', Overlap>
  | FindingOf<'dentist/clash', 'ask', Overlap>
  | FindingOf<'student/clash', 'ask', Overlap>
  | FindingOf<'patient/clash', 'ask', Overlap>
  | FindingOf<'dentist/away', 'ask', { day: Day }>
  | FindingOf<'dentist/marked-away', 'ask', { day: Day }>
  | FindingOf<'dentist/unnamed', 'ask'>
  | FindingOf<'room/unnamed', 'ask'>
  | FindingOf<'identity/missing', 'stop'>
  | FindingOf<'identity/not-typed', 'stop', { why: 'alike' | 'differed' }>
  | FindingOf<'identity/not-apart', 'stop', { hasNumber: boolean }>
  | FindingOf<'identity/differs', 'stop', { what: Compared }>
  | FindingOf<'guardian/not-recorded', 'ask', { relation: string }>
  | FindingOf<'guardian/age-unknown', 'ask'>
  | FindingOf<'interpreter/not-booked', 'ask', { language: string }>
  | FindingOf<'interpreter/not-recorded', 'ask', { language: string }>
  | FindingOf<'consent/missing', 'ask', { relation: string }>
  | FindingOf<'consent/differs', 'ask', { consented: PermittedWork[] | null; planned: PermittedWork[] }>
  | FindingOf<'sedation/no-monitor', 'ask'>
  | FindingOf<'day/running-late', 'note', { minutes: Minutes; prompt: boolean }>
  // what refuses a command
  | FindingOf<'visit/wrong-stage', 'stop', { stage: VisitStage; needs: VisitStage[] }>
  | FindingOf<'appointment/over', 'stop', { status: AppointmentStatus }>
  | FindingOf<'appointment/under-way', 'stop', { stage: VisitStage }>
  | FindingOf<'appointment/not-vanished', 'stop'>
  | FindingOf<'appointment/other-dentist', 'stop', { dentistId: MemberId | null }>
  | FindingOf<'call/not-due', 'stop'>
  | FindingOf<'appointment/accepted-already', 'stop'>
  | FindingOf<'room/occupied', 'stop', { by: AppointmentId }>
  | FindingOf<'room/not-turned-over', 'stop', { left: RoomTask[] }>
  | FindingOf<'room/nothing-to-turn-over', 'stop'>
  | FindingOf<'identity/too-few', 'stop'>
  | FindingOf<'identity/not-shown', 'stop', { what: Compared }>
  | FindingOf<'side/differs', 'stop', { said: Tooth[]; planned: Tooth[] }>
  | FindingOf<'clamp/not-tied', 'stop'>
  | FindingOf<'clamp/not-planned', 'stop'>
  | FindingOf<'sedation/monitor-treats', 'stop'>
  | FindingOf<'time/does-not-exist', 'stop', { day: Day; time: string }>
  | FindingOf<'clock/real-clinic', 'stop'>

/** Another appointment that wants the same at the same time, and from when to when both do. */
interface Overlap {
  other: AppointmentId
  from: Instant
  to: Instant
  /** Who or what both want, where it is known. */
  wanted: MemberId | string
}
