import type { Day, Instant } from '../base/moment.ts'
import type { FindingOf } from '../base/rule.ts'
import type { LoadId, MemberId } from '../ids.ts'

export type SterilityFinding =
  // a pack in the hand
  | FindingOf<'pack/not-released', 'stop', { code: string; load: string }>
  | FindingOf<'pack/load-failed', 'stop', { code: string; load: string }>
  | FindingOf<'pack/load-unknown', 'stop', { code: string }>
  | FindingOf<'pack/held', 'stop', { code: string; why: string }>
  | FindingOf<'pack/used', 'stop', { code: string }>
  | FindingOf<'pack/too-old', 'stop', { code: string; sterilised: Day; days: number; limit: number }>
  | FindingOf<'pack/undated', 'stop', { code: string }>
  | FindingOf<'pack/age-unset', 'ask', { code: string }>
  | FindingOf<'pack/spore-pending', 'stop', { code: string; load: string }>
  | FindingOf<'pack/spore-missing', 'stop', { code: string; load: string }>
  | FindingOf<'pack/spore-doubtful', 'stop', { code: string; load: string; recalled: boolean }>
  | FindingOf<'pack/torn', 'stop', { code: string }>
  | FindingOf<'pack/wet', 'stop', { code: string }>
  | FindingOf<'pack/not-changed', 'stop', { code: string; mark: 'outer' | 'inner' }>
  | FindingOf<'pack/inner-not-seen', 'stop', { code: string }>
  | FindingOf<'pack/not-looked-at', 'stop', { code: string }>
  | FindingOf<'pack/not-found', 'stop', { id: string }>
  | FindingOf<'pack/code-taken', 'stop', { code: string }>
  | FindingOf<'pack/set-not-clean', 'stop', { mark: string; place: string }>
  | FindingOf<'pack/not-held', 'stop', { code: string }>
  // between sites
  | FindingOf<'pack/on-its-way', 'stop', { code: string }>
  | FindingOf<'pack/other-site', 'stop', { code: string; site: string }>
  | FindingOf<'sets/mark-taken', 'stop', { mark: string }>
  | FindingOf<'sets/unknown', 'stop', { code: string }>
  | FindingOf<'sets/cannot-travel', 'stop', { code: string; state: string }>
  | FindingOf<'sets/here-already', 'stop', { code: string }>
  // a load
  | FindingOf<'load/no-reading', 'ask', { load: string }>
  | FindingOf<'load/below-minimum', 'stop', LoadReading>
  | FindingOf<'load/programme-unknown', 'ask', { load: string; programme: string }>
  | FindingOf<'load/indicator-unread', 'stop', { load: string }>
  | FindingOf<'load/indicator-failed', 'stop', { load: string }>
  | FindingOf<'load/indicator-missing', 'stop', { load: string }>
  | FindingOf<'load/spore-missing', 'ask', { load: string }>
  | FindingOf<'load/no-air-removal-test', 'stop', { steriliser: string }>
  | FindingOf<'load/releaser-not-named', 'stop', { by: MemberId }>
  | FindingOf<'load/not-found', 'stop', { id: LoadId | string }>
  | FindingOf<'load/not-now', 'stop', { load: string; state: string }>
  // a steriliser and its tests
  | FindingOf<'steriliser/out-of-service', 'stop', { name: string; why: string }>
  | FindingOf<'steriliser/cycles-short', 'stop', { name: string; passing: number }>
  | FindingOf<'steriliser/not-out', 'stop', { name: string }>
  | FindingOf<'steriliser/not-found', 'stop', { id: string }>
  | FindingOf<'spore/due', 'ask', { name: string; since: Instant | null }>
  | FindingOf<'spore/invalid', 'ask', { name: string }>
  | FindingOf<'spore/failed', 'note', { name: string; repeat: boolean }>
  | FindingOf<'indicator/not-found', 'stop', { id: string }>
  | FindingOf<'indicator/already-read', 'stop'>
  // reach of a failure, and the day's sets
  | FindingOf<'recall/cannot-narrow', 'ask', { packs: number }>
  | FindingOf<'recall/patients', 'note', { patients: number; packs: number; trays: number }>
  | FindingOf<'sets/short', 'ask', { kind: string; at: Instant; short: number; back: Instant | null }>

export interface LoadReading {
  load: string
  deciCelsius: number
  seconds: number
  /** The least that the published table lets pass at this temperature; null where it lists none. */
  leastSeconds: number | null
}
