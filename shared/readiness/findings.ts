import type { ClockTime, Instant } from '../base/moment.ts'
import type { FindingOf, Gate } from '../base/rule.ts'
import type { AppointmentId, MemberId } from '../ids.ts'
import type { LapseCause } from '../isolation/isolation-facts.ts'
import type { LineKind } from '../people/policy-set.ts'
import type { VisitStage } from '../schedule/appointment.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { HelpKind } from './help.ts'

export type ReadinessFinding =
  // what stands open before a gate
  | FindingOf<'side/stopped', 'stop', { since: Instant; by: MemberId }>
  | FindingOf<'help/open', 'stop', { kind: HelpKind; since: Instant }>
  | FindingOf<'help/drill', 'note', { kind: HelpKind; since: Instant }>
  | FindingOf<'plan/none-yet', 'ask'>
  | FindingOf<'plan/uncharted', 'ask', { number: number }>
  | FindingOf<'plan/question', 'ask', { number: number; open: string[] }>
  | FindingOf<'word/missing', 'ask', { number: number; former: MemberId | null }>
  | FindingOf<'word/lapsed', 'ask', { number: number; why: LapseCause }>
  | FindingOf<'word/changed-since-start', 'ask', { why: LapseCause }>
  | FindingOf<'side/not-read-back', 'ask', { teeth: Tooth[] }>
  | FindingOf<'history/not-confirmed', 'ask'>
  | FindingOf<'teeth/not-recounted', 'ask', { teeth: Tooth[] }>
  | FindingOf<'time-out/missing', 'ask', { teeth: Tooth[] }>
  | FindingOf<'counts/not-done', 'ask'>
  | FindingOf<'line/not-asked', 'ask', { kind: LineKind; words: string }>
  | FindingOf<'line/for-dentist', 'ask', { kind: LineKind; words: string; said: string }>
  | FindingOf<'line/not-today', 'stop', { kind: LineKind; said: string }>
  | FindingOf<'room/not-free', 'note', { until: ClockTime }>
  | FindingOf<'people/not-free', 'note', { until: ClockTime }>
  | FindingOf<'tray/none-yet', 'ask'>
  // what refuses a command
  | FindingOf<'appointment/unknown', 'stop', { id: AppointmentId }>
  | FindingOf<'word/no-plan', 'stop'>
  | FindingOf<'word/draft', 'stop', { number: number; open: string[] }>
  | FindingOf<'word/stale-number', 'stop', { named: number; number: number }>
  | FindingOf<'word/asks-open', 'stop', { open: string[] }>
  | FindingOf<'word/not-booked-dentist', 'stop', { booked: string | null }>
  | FindingOf<'word/already-given', 'stop', { number: number }>
  | FindingOf<'word/not-proposed', 'stop', { number: number }>
  | FindingOf<'word/not-booked-student', 'stop', { booked: string | null }>
  | FindingOf<'word/not-drawn', 'stop'>
  | FindingOf<'word/same-person', 'stop'>
  | FindingOf<'word/none-live', 'stop'>
  | FindingOf<'drawing/not-yours', 'stop'>
  | FindingOf<'drawing/no-plan', 'stop'>
  | FindingOf<'stop/already-open', 'stop', { since: Instant }>
  | FindingOf<'stop/not-open', 'stop'>
  | FindingOf<'counts/with-dam', 'stop'>
  | FindingOf<'line/not-here', 'stop', { kind: LineKind }>
  | FindingOf<'help/already-called', 'stop', { since: Instant }>
  | FindingOf<'help/not-open', 'stop'>
  | FindingOf<'help/not-ended-so', 'stop', { kind: HelpKind }>
  | FindingOf<'time-out/differs', 'stop', { said: Tooth[]; planned: Tooth[]; what: TimeOutDifference }>
  | FindingOf<'time-out/instructor-checks', 'stop'>
  | FindingOf<'time-out/not-due', 'stop', { stage: VisitStage }>
  | FindingOf<'recount/not-due', 'stop', { stage: VisitStage }>
  | FindingOf<'override/not-allowed', 'stop', { named: string; gate: Gate | null }>
  | FindingOf<'override/not-open', 'stop', { named: string }>
  | FindingOf<'override/no-reason', 'stop'>
  // what any area refuses
  | FindingOf<'shown/moved', 'stop', { what: Shown }>

export const TIME_OUT_DIFFERENCES = ['patient', 'teeth', 'plan'] as const
export type TimeOutDifference = (typeof TIME_OUT_DIFFERENCES)[number]

/** What an answer at a screen can stand for. */
export type Shown = 'work' | 'history' | 'mouth' | 'tray' | 'place' | 'dentist' | 'stop'
