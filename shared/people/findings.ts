import type { FindingOf } from '../base/rule.ts'
import type { StartLine } from './clinic.ts'
import type { Role } from './role.ts'

export const NAME_ALERTS = ['same-name', 'similar-name', 'same-birth-day', 'sibling-next'] as const
/** Why two patients of one day may be taken for each other. */
export type NameAlertKind = (typeof NAME_ALERTS)[number]

export type PeopleFinding =
  | FindingOf<'name/alert', 'note', { kind: NameAlertKind; other: string }>
  | FindingOf<'site/not-looked-over', 'ask', { line: StartLine }>
  | FindingOf<'site/not-in-order', 'ask', { line: StartLine }>
  // what refuses a command
  | FindingOf<'person/not-allowed', 'stop'>
  | FindingOf<'person/unknown', 'stop'>
  | FindingOf<'person/inactive', 'stop', { name: string }>
  | FindingOf<'person/last-manager', 'stop'>
  | FindingOf<'person/cannot-treat', 'stop', { roles: Role[] }>
  | FindingOf<'patient/unknown', 'stop'>
  | FindingOf<'patient/no-companion', 'stop', { needs: 'guardian' | 'interpreter' }>
  | FindingOf<'weight/impossible', 'stop', { entered: string }>
  | FindingOf<'room/unknown', 'stop'>
  | FindingOf<'room/name-taken', 'stop', { name: string }>
  | FindingOf<'room/retired', 'stop', { name: string }>
  | FindingOf<'room/booked-ahead', 'stop', { name: string; count: number }>
  | FindingOf<'site/unknown', 'stop'>
  | FindingOf<'site/zone-unknown', 'stop', { zone: string }>
  | FindingOf<'clinic/founded-already', 'stop'>
