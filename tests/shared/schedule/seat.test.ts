import { describe, expect, test } from 'vitest'
import type { MemberId, PatientId } from '#shared/ids.ts'
import { defaultPolicySet } from '#shared/people/default-policy.ts'
import type { Patient } from '#shared/people/patient.ts'
import type { Work } from '#shared/procedures/work.ts'
import type { Appointment, PermittedWork, Visit } from '#shared/schedule/appointment.ts'
import type { Likeness } from '#shared/schedule/identity.ts'
import { judgeSeat } from '#shared/schedule/seat.ts'
import { at, booked, visitAt } from './facts.ts'

const patient: Patient = {
  clinicId: 'clinic' as Patient['clinicId'],
  id: 'p' as PatientId,
  given: 'Ann',
  family: 'Byrne',
  born: '1980-02-03' as Patient['born'],
  identifiers: [],
  weight: null,
  guardian: null,
  interpreter: null,
  history: [],
  historyConfirmed: null,
}
const by = 'someone' as MemberId
const policy = defaultPolicySet('clinic' as never, 'policy' as never)

interface Scene {
  appointment?: Partial<Appointment>
  patient?: Partial<Patient>
  visit?: Visit | null
  work?: Work[]
  others?: Appointment[]
  now?: number
  likeness?: Likeness
}
const rulesOf = ({ now = -10, likeness = 'none', ...scene }: Scene): string[] =>
  judgeSeat(
    {
      appointment: booked('a', 0, 30, scene.appointment),
      patient: { ...patient, ...scene.patient },
      visit: scene.visit ?? null,
      work: scene.work ?? [],
      policy,
      choice: null,
    },
    { now: at(now), others: scene.others ?? [], rosters: [], likeness },
  ).map(({ rule }) => rule)

const identity = { identifiers: ['full-name', 'birth-day'], how: 'asked', of: null, by, at: at(0) } as const

describe('before the chair', () => {
  test('a plain booking asks nothing of anyone', () => {
    expect(rulesOf({})).toEqual([])
    expect(rulesOf({ visit: visitAt('arrived') })).toEqual([])
  })
  test('[appointment/vanished] asks until kept or cancelled, and no longer once seated', () => {
    const vanished = { vanished: { at: at(-60) } }
    expect(rulesOf({ appointment: vanished })).toEqual(['appointment/vanished'])
    expect(
      rulesOf({
        appointment: vanished,
        visit: visitAt('seated', { identity: { ...identity, identifiers: [...identity.identifiers] } }),
      }),
    ).toEqual([])
    expect(rulesOf({ appointment: { ...vanished, status: 'cancelled' } })).toEqual([])
  })
  test('[room/unnamed] [dentist/unnamed] a booking without room or dentist', () => {
    expect(rulesOf({ appointment: { operatoryId: null, dentistId: null } })).toEqual([
      'room/unnamed',
      'dentist/unnamed',
    ])
  })
  // Practitioner case 75: 10:00, not there at 10:20; the prompt comes at the clinic's own limit of 15 minutes (COMMON).
  test('[patient/not-arrived] from the prompt limit on, and only while nobody is there', () => {
    expect(rulesOf({ now: 14 })).toEqual([])
    expect(rulesOf({ now: 15 })).toEqual(['patient/not-arrived'])
    expect(rulesOf({ now: 20, visit: visitAt('arrived') })).toEqual([])
    expect(rulesOf({ now: 20, appointment: { status: 'arrived' } })).toEqual([])
  })
})

describe('in the chair', () => {
  const named = (how: 'asked' | 'typed') =>
    visitAt('seated', { identity: { ...identity, identifiers: ['full-name', 'birth-day'], how } })
  test('[identity/missing] from seating to the end of the work', () => {
    for (const stage of ['seated', 'injected', 'clamped', 'started'] as const) {
      expect(rulesOf({ visit: visitAt(stage) })).toContain('identity/missing')
    }
    expect(rulesOf({ visit: visitAt('finished') })).toEqual([])
  })
  test('[identity/not-typed] where two of the day are alike, asked is not enough', () => {
    expect(rulesOf({ visit: named('asked'), likeness: 'alike' })).toEqual(['identity/not-typed'])
    expect(rulesOf({ visit: named('typed'), likeness: 'alike' })).toEqual([])
    expect(rulesOf({ visit: named('asked') })).toEqual([])
  })
})

describe('companions', () => {
  const guarded = (present: number | null): Partial<Patient> => ({
    guardian: {
      relation: 'mother',
      present: present === null ? null : { relation: null, by, at: at(present) },
    },
  })
  test('[guardian/not-recorded] only once the patient is there, and an answer of another day does not count', () => {
    expect(rulesOf({ patient: guarded(null) })).toEqual([])
    expect(rulesOf({ patient: guarded(null), visit: visitAt('arrived') })).toEqual(['guardian/not-recorded'])
    expect(rulesOf({ patient: guarded(-1440), visit: visitAt('arrived') })).toEqual(['guardian/not-recorded'])
    expect(rulesOf({ patient: guarded(1), visit: visitAt('arrived') })).toEqual([])
  })

  // Case 20 (READ): seating a child requires the accompanying adult to be recorded. The day of booking decides the age.
  test.each([
    ['2020-01-01', ['guardian/not-recorded']],
    ['2008-11-25', ['guardian/not-recorded']],
    ['2008-11-24', []],
    ['1980-02-03', []],
    // An age nobody knows is not a grown-up's: it is asked.
    [null, ['guardian/age-unknown']],
  ])('[guardian/not-recorded] born %s, with nobody on record: %j', (born, expected) => {
    const { day } = booked('a', 0, 30)
    expect(day).toBe('2026-11-24')
    expect(rulesOf({ patient: { born: born as Patient['born'] }, visit: visitAt('arrived') })).toEqual(
      expected,
    )
  })

  test('[guardian/age-unknown] asked once the patient is there, and not where somebody answers for them anyway', () => {
    expect(rulesOf({ patient: { born: null } })).toEqual([])
    expect(rulesOf({ patient: { born: null, ...guarded(1) }, visit: visitAt('arrived') })).toEqual([])
    expect(rulesOf({ patient: { born: null }, visit: visitAt('started') })).not.toContain(
      'guardian/age-unknown',
    )
  })

  test('[consent/missing] a child of whom the record names nobody is nobody’s to permit either', () => {
    const filling = { kind: 'direct-composite', teeth: ['84'], text: 'comp 84' } as Work
    const young = {
      patient: { born: '2020-01-01' as Patient['born'], guardian: guarded(1).guardian ?? null },
    }
    const here = { visit: visitAt('arrived'), work: [filling] }
    expect(rulesOf({ ...here, patient: { born: young.patient.born } })).toEqual([
      'guardian/not-recorded',
      'consent/missing',
    ])
    expect(rulesOf({ ...here, ...young })).toEqual(['consent/missing'])
  })
})

test('[consent/missing] a child’s scaling wants permission too, though no tooth is named; a look does not', () => {
  const child = {
    patient: {
      born: '2018-05-04' as never,
      guardian: { relation: 'mother', present: { relation: null, by, at: at(1) } },
    },
  }
  const coming = (kind: Work['kind']) =>
    rulesOf({ ...child, visit: visitAt('arrived'), work: [{ kind, teeth: [], text: '' } as unknown as Work] })
  expect(coming('scaling')).toEqual(['consent/missing'])
  expect(coming('exam')).toEqual([])
})

describe('permission covers the procedure and the tooth', () => {
  const work = (kind: Work['kind'], teeth: Work['teeth']) => ({ kind, teeth, text: '' }) as Work
  const given = (permitted: PermittedWork[] | null) =>
    visitAt('arrived', { consent: { text: 'signed', teeth: ['46'], work: permitted, by, at: at(0) } })
  const filling = { kind: 'direct-composite', teeth: ['46' as const] } as const

  // Issue 5 point 1: permission that covers exactly the procedure and tooth; a changed procedure re-opens it.
  test.each([
    ['the very work', [filling], [work('direct-composite', ['46'])], []],
    ['an extraction of the same tooth', [filling], [work('extraction', ['46'])], ['consent/differs']],
    ['bleaching inside it', [filling], [work('internal-bleaching', ['46'])], ['consent/differs']],
    ['one more tooth', [filling], [work('direct-composite', ['46', '47'])], ['consent/differs']],
    [
      'one more procedure',
      [filling],
      [work('direct-composite', ['46']), work('post-and-core', ['46'])],
      ['consent/differs'],
    ],
    [
      'the same two crosswise',
      [filling, { kind: 'extraction', teeth: ['36'] }],
      [work('direct-composite', ['36']), work('extraction', ['46'])],
      ['consent/differs'],
    ],
    ['what nobody kept', null, [work('direct-composite', ['46'])], ['consent/differs']],
    [
      'work without a tooth beside it',
      [filling],
      [work('direct-composite', ['46']), work('scaling', [])],
      ['consent/differs'],
    ],
    ['a look beside it', [filling], [work('direct-composite', ['46']), work('exam', [])], []],
  ] as [string, PermittedWork[] | null, Work[], string[]][])(
    '[consent/differs] %s',
    (_, permitted, planned, expected) => {
      expect(rulesOf({ visit: given(permitted), work: planned })).toEqual(expected)
    },
  )
})

describe('interpreter', () => {
  const interpreter = { language: 'Italian', present: null }
  test('[interpreter/not-booked] is asked of the desk before the day, and no longer once the patient is there', () => {
    expect(rulesOf({ patient: { interpreter } })).toEqual(['interpreter/not-booked'])
    expect(rulesOf({ patient: { interpreter }, visit: visitAt('arrived') })).toEqual([
      'interpreter/not-recorded',
    ])
    expect(rulesOf({})).toEqual([])
  })
})

describe('sedation', () => {
  test('[sedation/no-monitor] asks in the booking’s own words, and not where they say there is none', () => {
    const noted = (note: string) => rulesOf({ appointment: { note } })
    for (const note of [
      'IV sedation',
      'nitrous, mother asks',
      'sedated with midazolam',
      'N2O',
      'laughing gas please',
      'IV sed 30 min',
      'propofol by visiting team',
      'under GA',
      'general anaesthetic list',
      'triazolam the night before',
      'no nitrous, oral sedation instead',
    ]) {
      expect(noted(note), note).toEqual(['sedation/no-monitor'])
    }
    for (const note of [
      '',
      'no sedation',
      'declined IV sedation',
      'without nitrous',
      'not for GA',
      'refuses any sedation',
      'Gavin brings him',
      'gap closure',
    ]) {
      expect(noted(note), note).toEqual([])
    }
  })
})
