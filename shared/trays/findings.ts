import type { Instant } from '../base/moment.ts'
import type { FindingOf } from '../base/rule.ts'
import type { MemberId } from '../ids.ts'
import type { TrayEvent, TrayState } from './lifecycle.ts'
import type { TrayDifference } from './tray.ts'

interface Share {
  done: number
  of: number
}

export type TrayFinding =
  // what stands open on the tray's plank
  | FindingOf<'tray/unowned', 'ask', { startBy: Instant }>
  | FindingOf<'tray/waiting', 'note', { startBy: Instant }>
  | FindingOf<'tray/being-laid', 'note', Share & { by: MemberId; since: Instant }>
  | FindingOf<'tray/not-laid-out', 'ask', Share & { by: MemberId }>
  | FindingOf<'tray/claim-quiet', 'note', { by: MemberId; since: Instant; touched: Instant }>
  | FindingOf<'tray/line-missing', 'ask', Share & { missing: string }>
  | FindingOf<'tray/awaits-check', 'note', { by: MemberId }>
  | FindingOf<'tray/not-checked', 'ask', { by: MemberId }>
  | FindingOf<'tray/not-opened', 'ask'>
  | FindingOf<'tray/recheck', 'ask', TrayDifference>
  | FindingOf<'tray/held', 'stop', { why: string; instead: string[] }>
  | FindingOf<'tray/standby', 'note'>
  // what refuses a command
  | FindingOf<'tray/not-found', 'stop', { id: string }>
  | FindingOf<'tray/line-not-found', 'stop', { id: string }>
  | FindingOf<'tray/not-now', 'stop', { state: TrayState; event: TrayEvent | 'tick' }>
  | FindingOf<'tray/claimed-by-other', 'stop', { by: MemberId; since: Instant }>
  | FindingOf<'tray/not-owner', 'stop', { by: MemberId | null }>
  | FindingOf<'tray/receiver-not-allowed', 'stop', { to: MemberId }>
  | FindingOf<'tray/not-inspected', 'stop', { line: string }>
  | FindingOf<'tray/needs-pack', 'stop', { line: string }>
  | FindingOf<'tray/two-packs', 'stop', { first: string; second: string }>
  | FindingOf<'tray/no-line-for-pack', 'stop', { code: string; kind: string }>
  | FindingOf<'tray/pack-elsewhere', 'stop', { code: string }>
  | FindingOf<'tray/pack-unknown', 'stop', { code: string }>
  | FindingOf<'tray/count-short', 'stop', { line: string; wanted: number; counted: number | null }>
  | FindingOf<'stock/reorder', 'note', { name: string; left: number }>
  | FindingOf<'stock/not-found', 'stop', { id: string }>
  | FindingOf<'kit/not-found', 'stop', { id: string }>
