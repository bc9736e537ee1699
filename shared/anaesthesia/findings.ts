import type { Day, Instant } from '../base/moment.ts'
import type { FindingOf } from '../base/rule.ts'
import type { MemberId } from '../ids.ts'
import type { Side, Tooth } from '../teeth/tooth.ts'
import type { Agent, Label, LimitProfileId, NumbnessPlace } from './anaesthetic.ts'
import type { Bar } from './gates.ts'
import type { Caution } from './history.ts'

/** What the check of a dose answers. Amounts in nanograms. */
export type DoseFinding =
  | FindingOf<
      'dose/over-maximum',
      'stop',
      { agent: Agent | 'together'; used: number; limit: number; profile: LimitProfileId; by: string[] }
    >
  | FindingOf<'dose/over-vasoconstrictor', 'stop', { used: number; limit: number; which: string }>
  | FindingOf<'dose/weight-missing', 'ask'>
  | FindingOf<'dose/weight-line', 'note', { last: { value: string; unit: 'kg' | 'lb'; at: Instant } | null }>
  | FindingOf<'dose/weight-old', 'ask', { value: string; unit: 'kg' | 'lb'; at: Instant }>
  | FindingOf<'dose/weight-unit', 'ask', { value: string; gramsIfPounds: number }>
  | FindingOf<'dose/weight-implausible', 'ask', { grams: number; ageYears: number }>
  | FindingOf<'dose/age-unknown', 'ask'>
  | FindingOf<'dose/age-contradicts', 'ask', { years: number; months: number }>
  | FindingOf<'dose/no-profile', 'ask'>
  | FindingOf<'dose/no-row', 'ask', { agent: Agent; profile: LimitProfileId }>
  | FindingOf<'dose/not-for-age', 'ask', { agent: Agent; profile: LimitProfileId; ageYears: number }>
  | FindingOf<'dose/row-not-confirmed', 'ask', { agent: Agent; profile: LimitProfileId }>
  | FindingOf<'dose/age-gate', 'ask', { agent: Agent; years: number }>
  | FindingOf<'dose/barred', 'ask', { agent: Agent; bar: Bar }>
  | FindingOf<'dose/bar-unknown', 'ask', { agent: Agent; bar: Bar }>
  | FindingOf<'dose/bar-unsaid', 'note', { bars: Bar[] }>
  | FindingOf<'dose/solution-unknown', 'ask', { label: Label }>
  | FindingOf<
      'dose/over-formula',
      'ask',
      { agent: Agent; used: number; limit: number; profile: LimitProfileId }
    >
  | FindingOf<'dose/label-ceiling-mixed', 'ask', { agent: Agent; used: number; limit: number }>
  | FindingOf<'dose/cartridge-unknown', 'ask', { agent: Agent }>
  | FindingOf<'dose/ceiling-unknown', 'ask', { which: string }>
  | FindingOf<
      'dose/ceiling-by-history',
      'ask',
      { which: string; used: number; limit: number; texts: string[] }
    >
  | FindingOf<'dose/caution', 'ask', { why: Caution; text: string }>
  | FindingOf<'dose/no-child-ceiling', 'note', { which: string }>
  | FindingOf<'dose/long-acting-mixed', 'ask', { agents: Agent[] }>

export type AnaesthesiaFinding =
  | DoseFinding
  // the injection against the plan
  | FindingOf<'dose/other-side', 'ask', { side: Side; teeth: Tooth[]; planned: Side[] }>
  | FindingOf<'dose/side-unsaid', 'ask'>
  | FindingOf<'dose/in-elsewhere', 'ask', { tooth: Tooth | null; side: Side; teeth: Tooth[] }>
  | FindingOf<'dose/other-tooth', 'ask', { tooth: Tooth; side: Side; teeth: Tooth[] }>
  | FindingOf<'dose/not-for-blocks', 'note', { agent: Agent }>
  | FindingOf<'dose/not-as-planned', 'stop', { label: Label; planned: Label[] }>
  // the label, read by one and answered by another
  | FindingOf<'cartridge/not-read-back', 'ask', { readBy: MemberId | null }>
  | FindingOf<'cartridge/expired', 'stop', { expires: Day }>
  | FindingOf<'cartridge/same-person', 'stop'>
  | FindingOf<'cartridge/nothing-read', 'stop'>
  | FindingOf<'dose/instructor-first', 'stop', { tenths: number }>
  | FindingOf<'dose/none-intended', 'stop', { reason: string }>
  | FindingOf<'dose/visit-not-seated', 'stop'>
  // numbness, place by place
  | FindingOf<'numbness/not-tested', 'ask', { places: NumbnessPlace[] }>
  | FindingOf<'numbness/tooth-not-tested', 'ask', { teeth: Tooth[]; gumNumb: boolean }>
  | FindingOf<'numbness/felt', 'ask', { place: NumbnessPlace; at: Instant }>
  | FindingOf<'numbness/none-given', 'ask'>
  | FindingOf<'numbness/waiting', 'note', { until: Instant }>
  | FindingOf<'numbness/window-ends', 'note', { at: Instant }>
  | FindingOf<'numbness/re-check', 'ask', { since: Instant; teeth: Tooth[]; why: 'time' | 'dose' }>
  | FindingOf<'numbness/by-intent', 'note', { reason: string; topicalAtClamp: boolean }>
  | FindingOf<'numbness/nobody-stays', 'ask'>
  | FindingOf<'numbness/not-seated', 'stop'>
  | FindingOf<'aftercare/not-given', 'ask', { why: 'child' | 'carer' | 'block' | 'age-unknown' }>
