import { addMinutes, type Day, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import { CHECKS } from '#shared/base/rule.ts'
import type { AppointmentId, MemberId, OperatoryId, SiteId } from '#shared/ids.ts'
import type { JudgedBoard, JudgedLane, JudgedLine, PlankState } from '#shared/readiness/board-types.ts'

/** An invented morning as judged lanes, one lane for each state and shape a lane can have. */
export const NOW: Instant = instant(Date.UTC(2026, 10, 24, 8, 52))
export const ZONE = 'Europe/Dublin' as Zone
const DAY = '2026-11-24' as Day
const SITE = '00000000-0000-4000-8000-0000000000a1' as SiteId

export const idOf = <Id>(kind: number, number: number): Id =>
  `00000000-0000-4000-8000-${String(kind * 1000 + number).padStart(12, '0')}` as Id

export const PEOPLE = ['Dr Farrow', 'Dr Nwosu', 'Dr Lindgren', 'P. Okafor', 'M. Silva', 'Prof. Hart']
export const NAMES: Record<MemberId, string> = Object.fromEntries(
  PEOPLE.map((name, number) => [idOf<MemberId>(5, number), name]),
)
const person = (name: string): MemberId => idOf<MemberId>(5, PEOPLE.indexOf(name))

const STATE_OF: Record<string, PlankState> = {
  r: 'ready',
  p: 'preparing',
  a: 'ask',
  h: 'hold',
  l: 'later',
  n: 'not-needed',
}

/** Six planks by their first letters, bottom to top. */
const planks = (letters: string): JudgedLine['planks'] =>
  CHECKS.map((check, index) => {
    const state = STATE_OF[letters[index] ?? 'l'] ?? 'later'
    const [done, of] = state === 'preparing' ? [9, 14] : [0, 0]
    return { check, state, done, of, next: null, owner: null, by: null }
  })

let made = 0
/** A line as expected at 09:00, ready; `more` says what is different. */
export function line(more: Partial<JudgedLine> = {}): JudgedLine {
  made += 1
  const start = more.start ?? addMinutes(NOW, 8)
  return {
    appointmentId: idOf<AppointmentId>(1, made),
    operatoryId: null,
    start,
    expectedStart: start,
    minutes: 45,
    stage: 'expected',
    stageSince: start,
    gate: 'seat',
    state: 'ready',
    planks: planks('rrrrll'),
    next: null,
    task: null,
    owner: null,
    patient: { name: 'A. Keane', age: 34 },
    formerDentist: null,
    dentistId: null,
    work: [
      {
        kind: 'direct-composite',
        text: 'comp 46 MO',
        teeth: ['46'],
        surfaces: { '46': ['M', 'O'] },
        asked: null,
      },
    ],
    nameAlert: false,
    says: '',
    ...more,
  }
}

export function lane(number: number, more: Partial<JudgedLane> = {}): JudgedLane {
  return {
    operatoryId: idOf<OperatoryId>(2, number),
    name: `Operatory ${number}`,
    position: number,
    kind: 'surgery',
    dentistId: person(PEOPLE[number % 3] ?? ''),
    room: { kind: 'clear', since: addMinutes(NOW, -21), done: [] },
    now: null,
    next: [],
    ...more,
  }
}

export const board = (lanes: JudgedLane[]): JudgedBoard => ({
  siteId: SITE,
  day: DAY,
  at: NOW,
  lanes,
  unplaced: [],
})

export const MORNING: JudgedBoard = board([
  lane(1, {
    now: line({
      stage: 'started',
      stageSince: addMinutes(NOW, -24),
      minutes: 67,
      gate: 'leave',
      patient: { name: 'K. Doyle', age: 52 },
      work: [{ kind: 'root-canal', text: 'RCT 36', teeth: ['36'], surfaces: {}, asked: null }],
    }),
    next: [
      line({
        start: addMinutes(NOW, 48),
        state: 'preparing',
        planks: planks('lprrlr'),
        next: 'dentist',
        says: 'Chair and Dr Nwosu free about 09:35',
      }),
    ],
  }),
  lane(2, {
    next: [
      line({
        state: 'hold',
        planks: planks('rrhrnr'),
        next: 'assistant',
        owner: person('M. Silva'),
        patient: { name: 'J. Moran', age: 41 },
        nameAlert: true,
        says: 'Latex, confirmed: the sheet on this tray contains it',
        work: [
          {
            kind: 'resin-sealant',
            text: 'fissure sealants 16 17',
            teeth: ['16', '17'],
            surfaces: {},
            asked: null,
          },
        ],
      }),
    ],
  }),
  lane(3, {
    now: line({
      stage: 'seated',
      stageSince: addMinutes(NOW, -14),
      gate: 'inject',
      state: 'ask',
      next: 'dentist',
      says: 'Tooth and side still to be read back: 16.',
      patient: { name: 'P. Whelan', age: 67 },
      work: [{ kind: 'bonded-indirect', text: 'onlay 16', teeth: ['16'], surfaces: {}, asked: null }],
    }),
    next: [
      line({
        start: addMinutes(NOW, 58),
        state: 'preparing',
        planks: planks('llplll'),
        next: 'assistant',
        owner: person('P. Okafor'),
        says: 'Tray 9 of 14, start by 09:25',
        patient: { name: 'S. Abara', age: 8 },
        work: [{ kind: 'pulpotomy', text: 'pulpotomy T', teeth: ['85'], surfaces: {}, asked: null }],
      }),
    ],
  }),
  lane(4, {
    next: [
      line({
        start: addMinutes(NOW, 73),
        state: 'ask',
        planks: planks('llapaa'),
        next: 'dentist',
        owner: person('Dr Farrow'),
        says: 'ISO 31 is a lower left incisor, Universal 31 a lower right molar. Which?',
        patient: { name: 'M. Castle', age: 33 },
        work: [{ kind: 'undetermined', text: 'RCT 31', teeth: [], surfaces: {}, asked: '31' }],
      }),
    ],
  }),
  lane(5, {
    kind: 'hygiene',
    dentistId: null,
    next: [
      line({
        planks: planks('rrrrnn'),
        stage: 'arrived',
        stageSince: addMinutes(NOW, -3),
        patient: { name: 'R. Stone', age: 44 },
        work: [{ kind: 'cleaning', text: 'scale and polish', teeth: [], surfaces: {}, asked: null }],
      }),
    ],
  }),
  lane(6, {
    room: { kind: 'turning-over', since: addMinutes(NOW, -4), done: ['light'] },
    next: [
      line({
        start: addMinutes(NOW, -7),
        expectedStart: addMinutes(NOW, 13),
        state: 'preparing',
        planks: planks('rprrll'),
        says: 'Being turned over: suction, light',
      }),
    ],
  }),
  lane(7, { kind: 'student', dentistId: null, room: { kind: 'closed', since: null, done: [] }, next: [] }),
])
