import type { Rule } from '../base/rule.ts'
import { COMMON, memory, read } from '../base/source.ts'
import type { ScheduleFinding } from './findings.ts'

const TWO_IDENTIFIERS = read(
  'Joint Commission NPSG.01.01.01, ambulatory 2015: two identifiers; room or chair location is none',
)
const CONSENT = memory(
  'WHO Surgical Safety Checklist 2009: identity, site, procedure, consent before anaesthesia',
)
const TWO_SOURCES = memory('Joint Commission UP.01.03.01: everyone says the same site before the start')
const ROOM = read('OSAP FAQ 2013, quoting CDC 2003: barriers off and clean ones on between patients')
const STATUS = read('HL7 FHIR R4 AppointmentStatus: pending, not all have answered')

/** A rule that only refuses a command: it lies on no plank and at no gate. */
const refusal = <const Next extends Rule['next']>(next: Next, answeredBy: string[], source = COMMON) =>
  ({ level: 'stop', next, answeredBy, check: null, gate: null, policy: null, source }) satisfies Rule

/** The desk sorts it out before the patient is seated. */
const forTheDesk = <const Check extends 'patient' | 'room'>(
  check: Check,
  answeredBy: string[],
  policy: string | null = null,
) =>
  ({
    level: 'ask',
    next: 'front-desk',
    answeredBy,
    check,
    gate: 'seat',
    policy,
    source: COMMON,
  }) satisfies Rule

const MOVED = ['appointment.change', 'appointment.cancel']

export const SCHEDULE_RULES = {
  'appointment/vanished': forTheDesk('patient', ['appointment.keep', 'appointment.cancel']),
  'appointment/not-accepted': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['appointment.accept', 'appointment.suggest-time', 'appointment.change'],
    check: 'room',
    gate: 'seat',
    policy: null,
    source: STATUS,
  },
  'patient/not-arrived': forTheDesk(
    'patient',
    ['appointment.arrive', 'appointment.no-show', 'appointment.change'],
    'schedule.latePromptMinutes',
  ),
  'room/clash': forTheDesk('room', MOVED),
  'dentist/clash': forTheDesk('room', MOVED),
  'student/clash': forTheDesk('room', MOVED),
  'patient/clash': forTheDesk('patient', MOVED),
  'dentist/away': forTheDesk('room', [...MOVED, 'roster.set']),
  'dentist/marked-away': forTheDesk('room', [...MOVED, 'person.away', 'roster.set']),
  'dentist/unnamed': forTheDesk('room', ['appointment.change']),
  'room/unnamed': forTheDesk('room', ['appointment.change']),
  'identity/missing': {
    never: 'identity',
    level: 'stop',
    next: 'assistant',
    answeredBy: ['visit.identify'],
    check: 'patient',
    gate: 'seat',
    policy: null,
    source: TWO_IDENTIFIERS,
  },
  'identity/not-typed': {
    never: 'identity',
    level: 'stop',
    next: 'assistant',
    answeredBy: ['visit.identify'],
    check: 'patient',
    gate: 'seat',
    policy: null,
    source: TWO_IDENTIFIERS,
  },
  'identity/not-apart': {
    never: 'identity',
    level: 'stop',
    next: 'assistant',
    answeredBy: ['visit.identify'],
    check: 'patient',
    gate: 'seat',
    policy: null,
    source: TWO_IDENTIFIERS,
  },
  'identity/differs': {
    never: 'identity',
    level: 'stop',
    next: 'assistant',
    answeredBy: ['stop.check-side', 'visit.identify'],
    check: 'patient',
    gate: 'seat',
    policy: null,
    source: TWO_IDENTIFIERS,
  },
  'guardian/not-recorded': {
    level: 'ask',
    next: 'front-desk',
    answeredBy: ['companion.record'],
    check: 'patient',
    gate: 'seat',
    policy: null,
    source: COMMON,
  },
  'guardian/age-unknown': {
    level: 'ask',
    next: 'front-desk',
    answeredBy: ['patient.change'],
    check: 'patient',
    gate: 'seat',
    policy: null,
    source: COMMON,
  },
  'interpreter/not-booked': forTheDesk('patient', ['interpreter.book', 'companion.record']),
  'interpreter/not-recorded': {
    level: 'ask',
    next: 'front-desk',
    answeredBy: ['companion.record'],
    check: 'patient',
    gate: 'seat',
    policy: null,
    source: COMMON,
  },
  'consent/missing': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['consent.record'],
    check: 'patient',
    gate: 'inject',
    policy: null,
    source: CONSENT,
  },
  'consent/differs': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['consent.record', 'work.name'],
    check: 'patient',
    gate: 'inject',
    policy: null,
    source: CONSENT,
  },
  'sedation/no-monitor': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['monitor.name'],
    check: 'patient',
    gate: 'inject',
    policy: null,
    source: COMMON,
  },
  'day/running-late': {
    level: 'note',
    next: 'front-desk',
    answeredBy: [],
    check: 'room',
    gate: 'seat',
    policy: 'schedule.lateAmberMinutes',
    source: COMMON,
  },
  'visit/wrong-stage': refusal('assistant', ['appointment.arrive', 'visit.seat', 'visit.leave-chair']),
  'appointment/over': refusal('front-desk', ['appointment.book']),
  'appointment/under-way': refusal('assistant', ['visit.leave-chair', 'visit.leave']),
  'appointment/not-vanished': refusal('front-desk', ['appointment.change']),
  'appointment/other-dentist': refusal('front-desk', ['person.away', 'appointment.change']),
  'call/not-due': refusal('front-desk', ['patient.called']),
  'appointment/accepted-already': refusal('front-desk', ['appointment.change']),
  'room/occupied': refusal('assistant', ['visit.leave', 'visit.leave-chair']),
  'room/not-turned-over': refusal('assistant', ['room.turn-over'], ROOM),
  'room/nothing-to-turn-over': refusal('assistant', ['visit.seat']),
  'identity/too-few': refusal('assistant', ['visit.identify'], TWO_IDENTIFIERS),
  'identity/not-shown': refusal('assistant', ['visit.identify'], TWO_IDENTIFIERS),
  'side/differs': refusal('dentist', ['stop.check-side', 'work.name'], TWO_SOURCES),
  'clamp/not-tied': refusal('assistant', ['visit.clamp']),
  'clamp/not-planned': refusal('dentist', ['visit.start']),
  'sedation/monitor-treats': refusal('dentist', ['monitor.name']),
  'time/does-not-exist': refusal('front-desk', ['appointment.book', 'appointment.change']),
  'clock/real-clinic': refusal('manager', ['appointment.change']),
} satisfies Record<ScheduleFinding['rule'], Rule>
