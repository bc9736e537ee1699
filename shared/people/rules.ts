import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { PeopleFinding } from './findings.ts'

/** A rule that only refuses a command: it lies on no plank and at no gate. */
const refusal = <const Next extends Rule['next']>(next: Next, answeredBy: string[]) =>
  ({ level: 'stop', next, answeredBy, check: null, gate: null, policy: null, source: COMMON }) satisfies Rule

export const PEOPLE_RULES = {
  'name/alert': {
    level: 'note',
    next: 'assistant',
    answeredBy: [],
    check: 'patient',
    gate: 'seat',
    policy: null,
    source: COMMON,
  },
  'site/not-looked-over': {
    level: 'ask',
    next: 'assistant',
    answeredBy: ['site.look-over'],
    check: null,
    gate: null,
    policy: null,
    source: COMMON,
  },
  'site/not-in-order': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['site.look-over'],
    check: null,
    gate: null,
    policy: null,
    source: COMMON,
  },
  'person/not-allowed': refusal('manager', ['person.change']),
  'person/unknown': refusal('manager', ['person.add']),
  'person/inactive': refusal('manager', ['person.change']),
  'person/last-manager': refusal('manager', ['person.add']),
  'person/cannot-treat': refusal('manager', ['person.change']),
  'patient/unknown': refusal('front-desk', ['appointment.book']),
  'patient/no-companion': refusal('front-desk', ['patient.change']),
  'weight/impossible': refusal('assistant', ['patient.weigh']),
  'room/unknown': refusal('manager', ['operatory.add']),
  'room/name-taken': refusal('manager', ['operatory.add', 'operatory.change']),
  'room/retired': refusal('manager', ['operatory.change']),
  'room/booked-ahead': refusal('front-desk', ['appointment.change']),
  'site/unknown': refusal('manager', ['site.set']),
  'site/zone-unknown': refusal('manager', ['site.set']),
  'clinic/founded-already': refusal('manager', ['site.set']),
} satisfies Record<PeopleFinding['rule'], Rule>
