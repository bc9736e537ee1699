import { describe, expect, test } from 'vitest'
import type { AllergyRecord } from '#shared/allergies/allergy-record.ts'
import type { MemberId, OperatoryId, PatientId } from '#shared/ids.ts'
import type { Operatory } from '#shared/people/clinic.ts'
import { defaultPolicySet } from '#shared/people/default-policy.ts'
import type { Patient } from '#shared/people/patient.ts'
import type { Work } from '#shared/procedures/work.ts'
import type { Appointment, Visit } from '#shared/schedule/appointment.ts'
import { judgeSeat } from '#shared/schedule/seat.ts'
import { at, booked, visitAt } from './facts.ts'

const patient: Patient = {
  clinicId: 'clinic' as Patient['clinicId'],
  id: 'p' as PatientId,
  given: 'Ann',
  family: 'Byrne',
  born: null,
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
  operatory?: Operatory
  allergies?: AllergyRecord
  others?: Appointment[]
  now?: number
  nameAlert?: boolean
}
const rulesOf = ({ now = -10, nameAlert = false, ...scene }: Scene): string[] =>
  judgeSeat(
    {
      appointment: booked('a', 0, 30, scene.appointment),
      patient: { ...patient, ...scene.patient },
      visit: scene.visit ?? null,
      work: scene.work ?? [],
      policy,
      operatory: scene.operatory ?? null,
      allergies: scene.allergies ?? null,
      choice: null,
    },
    { now: at(now), others: scene.others ?? [], rosters: [], nameAlert },
  ).map(({ rule }) => rule)

const identity = { identifiers: ['full-name', 'birth-day'], how: 'asked', by, at: at(0) } as const

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
    expect(rulesOf({ visit: named('asked'), nameAlert: true })).toEqual(['identity/not-typed'])
    expect(rulesOf({ visit: named('typed'), nameAlert: true })).toEqual([])
    expect(rulesOf({ visit: named('asked') })).toEqual([])
  })
})

describe('companions', () => {
  const guarded = (present: number | null): Partial<Patient> => ({
    guardian: { relation: 'mother', present: present === null ? null : { by, at: at(present) } },
  })
  test('[guardian/not-recorded] only once the patient is there, and an answer of another day does not count', () => {
    expect(rulesOf({ patient: guarded(null) })).toEqual([])
    expect(rulesOf({ patient: guarded(null), visit: visitAt('arrived') })).toEqual(['guardian/not-recorded'])
    expect(rulesOf({ patient: guarded(-1440), visit: visitAt('arrived') })).toEqual(['guardian/not-recorded'])
    expect(rulesOf({ patient: guarded(1), visit: visitAt('arrived') })).toEqual([])
  })
})

describe('latex and the room', () => {
  const room = { id: 'op' as OperatoryId, name: '3', latexSafe: false } as Operatory
  const allergies = { latex: 'confirmed' } as AllergyRecord
  const here = { operatoryId: room.id }
  const earlier = booked('b', -60, 30, here)
  // Practitioner case 41: READ; the first slot of the day MEMORY.
  test('[room/not-latex-safe] offers another room or slot where latex is confirmed and the room was used before', () => {
    const scene = { appointment: here, operatory: room, allergies, others: [earlier] }
    expect(rulesOf(scene)).toEqual(['room/not-latex-safe'])
    expect(rulesOf({ ...scene, operatory: { ...room, latexSafe: true } })).toEqual([])
    expect(rulesOf({ ...scene, others: [] })).toEqual([])
    expect(rulesOf({ ...scene, others: [{ ...earlier, status: 'cancelled' }] })).toEqual([])
    expect(rulesOf({ ...scene, allergies: { ...allergies, latex: 'none-known' } })).toEqual([])
  })
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
    for (const note of ['IV sedation', 'nitrous, mother asks', 'sedated with midazolam']) {
      expect(noted(note), note).toEqual(['sedation/no-monitor'])
    }
    for (const note of ['', 'no sedation', 'declined IV sedation', 'without nitrous']) {
      expect(noted(note), note).toEqual([])
    }
  })
})
