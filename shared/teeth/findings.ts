import type { FindingOf } from '../base/rule.ts'
import type { ToothSource } from '../procedures/work.ts'
import type { ToothCondition } from './mouth-chart.ts'
import type { Notation } from './notation-names.ts'
import type { Tooth } from './tooth.ts'

export type TeethFinding =
  // which tooth is meant
  | FindingOf<'tooth/ambiguous', 'ask', { text: string; notation: Notation; candidates: Tooth[] }>
  | FindingOf<'tooth/words-contradict', 'ask', { text: string; notation: Notation; candidates: Tooth[] }>
  | FindingOf<'tooth/unread', 'ask', { text: string; words: string[] }>
  | FindingOf<
      'tooth/sources-disagree',
      'ask',
      { said: { source: ToothSource; text: string; teeth: Tooth[] }[] }
    >
  | FindingOf<'tooth/referral-missing', 'ask', { statement: string }>
  | FindingOf<'tooth/image-mirrored', 'ask', { text: string }>
  | FindingOf<'tooth/missing-from-plan', 'note', { text: string; teeth: Tooth[] }>
  // the tooth against the mouth and the age
  | FindingOf<'tooth/implausible-at-age', 'ask', { tooth: Tooth; ageYears: number; expected: string }>
  | FindingOf<'tooth/predecessor-present', 'ask', { tooth: Tooth; predecessor: Tooth }>
  | FindingOf<'tooth/not-standing', 'ask', { tooth: Tooth; condition: ToothCondition }>
  | FindingOf<'tooth/which-molar', 'ask', { tooth: Tooth; present: Tooth[]; unknown: Tooth }>
  | FindingOf<'tooth/first-standing-molar', 'note', { tooth: Tooth; missing: Tooth[]; standing: Tooth[] }>
  | FindingOf<'tooth/look-alike', 'note', { tooth: Tooth; alike: Tooth[] }>
  // what refuses a command
  | FindingOf<'mouth/contradicts-itself', 'stop', { tooth: Tooth; conditions: ToothCondition[] }>
  | FindingOf<'mouth/no-patient', 'stop'>
  | FindingOf<'mouth/width-unlikely', 'stop', { tooth: Tooth; tenthsOfMm: number; tableTenths: number }>
  | FindingOf<'mouth/span-not-there', 'stop', { tooth: Tooth; to: Tooth }>
