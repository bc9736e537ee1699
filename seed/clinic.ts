import { must } from '#shared/base/assert.ts'
import { type ClockTime, type Day, parseDay, type Zone } from '#shared/base/moment.ts'
import type { OperatoryKind } from '#shared/people/clinic.ts'

/** The invented clinic's day: a Tuesday, in winter time. */
export const DEMO_DAY: Day = must(parseDay('2026-11-24'), 'the demo day is a day')
export const DAY_BEFORE: Day = must(parseDay('2026-11-23'), 'the day before is a day')
export const DEMO_ZONE = 'Europe/Dublin' as Zone
/** Where the demo clock starts. */
export const DEMO_START = '08:40' as ClockTime

export const CLINIC_NAME = 'Lanternfield Shared Clinic'
export const SITE_NAME = 'Lanternfield'
export const OPENS_AT = '08:00' as ClockTime
export const CLOSES_AT = '17:30' as ClockTime

/** Ten operatories: two for each dentist, two for hygiene, one for the student, one for the instructor. */
export const OPERATORIES: readonly { name: string; kind: OperatoryKind; latexSafe: boolean }[] = [
  { name: '1', kind: 'surgery', latexSafe: false },
  { name: '2', kind: 'surgery', latexSafe: true },
  { name: '3', kind: 'surgery', latexSafe: false },
  { name: '4', kind: 'surgery', latexSafe: false },
  { name: '5', kind: 'surgery', latexSafe: false },
  { name: '6', kind: 'surgery', latexSafe: false },
  { name: '7', kind: 'hygiene', latexSafe: false },
  { name: '8', kind: 'hygiene', latexSafe: false },
  { name: '9', kind: 'student', latexSafe: false },
  { name: '10', kind: 'student', latexSafe: false },
]

/** Sets that are wrapped and sterilised: six for the dam, more of the others. */
export const SETS = {
  'dam-set': 6,
  'examination-set': 24,
  'composite-set': 14,
  'endodontic-set': 6,
  'surgical-set': 3,
  'pulpotomy-set': 4,
  'hygiene-set': 16,
} as const
