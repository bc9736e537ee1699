import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { ClockTime, Day, Zone } from '#shared/base/moment.ts'
import type { MemberId, OperatoryId, PatientId, RosterId, SiteId } from '#shared/ids.ts'
import type { Roster } from '#shared/people/clinic.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import { judgeAway, judgeClashes, overlapOf } from '#shared/schedule/clashes.ts'
import { localInstant } from '#shared/schedule/local-time.ts'
import { at, booked } from './facts.ts'

const room = { operatoryId: 'op 3' as OperatoryId }
const dentist = { dentistId: 'A' as MemberId }
const rulesOf = (...day: Appointment[]): string[] => judgeClashes(day).map(({ rule }) => rule)

describe('clashes', () => {
  test('[room/clash] two dentists in one operatory at one time: both rows say so, with the overlap', () => {
    const found = judgeClashes([booked('a', 0, 60, room), booked('b', 30, 60, room)])
    expect(found).toMatchObject([
      { rule: 'room/clash', about: 'appointment:a', other: 'b', from: at(30), to: at(60) },
      { rule: 'room/clash', about: 'appointment:b', other: 'a', from: at(30), to: at(60) },
    ])
  })

  test('[room/clash] one that ends when the next begins is no clash', () => {
    expect(rulesOf(booked('a', 0, 30, room), booked('b', 30, 30, room))).toEqual([])
  })

  test('[dentist/clash] a dentist in two chairs', () => {
    expect(rulesOf(booked('a', 0, 30, dentist), booked('b', 10, 30, dentist))).toEqual([
      'dentist/clash',
      'dentist/clash',
    ])
  })

  test('[student/clash] an instructor is shared between students; a student is not', () => {
    const under = { ...dentist, studentId: 'S' as MemberId }
    const other = { ...dentist, studentId: 'T' as MemberId }
    expect(rulesOf(booked('a', 0, 30, under), booked('b', 10, 30, other))).toEqual([])
    expect(rulesOf(booked('a', 0, 30, under), booked('b', 10, 30, under))).toEqual([
      'student/clash',
      'student/clash',
    ])
  })

  test('[patient/clash] a patient booked twice at one time', () => {
    const patient = { patientId: 'P' as PatientId }
    expect(rulesOf(booked('a', 0, 30, patient), booked('b', 10, 30, patient))).toEqual([
      'patient/clash',
      'patient/clash',
    ])
  })

  test('[room/clash] what is cancelled, not come, only proposed or waiting wants nothing', () => {
    for (const status of [
      'cancelled',
      'noshow',
      'fulfilled',
      'entered-in-error',
      'proposed',
      'waitlist',
    ] as const) {
      expect(rulesOf(booked('a', 0, 30, { ...room, status }), booked('b', 0, 30, room))).toEqual([])
    }
  })

  // RFC 5545 reading of local times; Dublin's clocks go forward on 2026-03-29 at 01:00 and back on 2026-10-25 at 02:00 (READ: tz database).
  test('[room/clash] across a clock change the real instants decide', () => {
    const zone = 'Europe/Dublin' as Zone
    const start = (day: string, time: string) => {
      const found = localInstant(day as Day, time as ClockTime, zone)
      if (!found.ok) throw new Error('a test time that does not exist')
      return found.value
    }
    const spring = { ...booked('a', 0, 60, room), start: start('2026-03-29', '00:30') }
    const after = { ...booked('b', 0, 30, room), start: start('2026-03-29', '02:15') }
    // 00:30 to 02:30 by the wall is one hour: 02:15 comes 45 minutes after 00:30.
    expect(overlapOf(spring, after)).not.toBeNull()
    const autumn = { ...booked('a', 0, 60, room), start: start('2026-10-25', '01:30') }
    const later = { ...booked('b', 0, 30, room), start: start('2026-10-25', '02:15') }
    // 01:30 to 02:30 by the wall is two hours: the first is over.
    expect(overlapOf(autumn, later)).toBeNull()
  })

  test('a clash is always told of both sides, and moving both by the same time changes nothing', () => {
    const day = fc.array(fc.tuple(fc.nat(200), fc.integer({ min: 1, max: 90 }), fc.nat(2), fc.nat(2)), {
      maxLength: 8,
    })
    fc.assert(
      fc.property(day, fc.integer({ min: -500, max: 500 }), (rows, moved) => {
        const make = (by: number) =>
          rows.map(([from, minutes, inRoom, who], index) =>
            booked(`${index}`, from + by, minutes, {
              operatoryId: `op ${inRoom}` as OperatoryId,
              dentistId: `d ${who}` as MemberId,
            }),
          )
        const told = (list: Appointment[]) =>
          judgeClashes(list).map(
            (finding) => `${finding.rule} ${finding.about} ${'other' in finding ? finding.other : ''}`,
          )
        const found = told(make(0))
        expect(told(make(moved))).toEqual(found)
        for (const line of found) {
          const [rule, about = '', other] = line.split(' ')
          expect(found).toContain(`${rule} appointment:${other} ${about.slice('appointment:'.length)}`)
        }
      }),
    )
  })
})

describe('the roster', () => {
  const hours = (from: number, to: number, memberId = 'A'): Roster => ({
    clinicId: 'clinic' as Roster['clinicId'],
    id: `${memberId}${from}` as RosterId,
    memberId: memberId as MemberId,
    siteId: 'site' as SiteId,
    day: '2026-11-24' as Day,
    start: at(from),
    end: at(to),
    away: null,
  })
  test('[dentist/away] outside the hours, or across a break', () => {
    expect(judgeAway(booked('a', 0, 30, dentist), [hours(0, 60)])).toEqual([])
    expect(judgeAway(booked('a', 50, 30, dentist), [hours(0, 60)])).toMatchObject([{ rule: 'dentist/away' }])
    expect(judgeAway(booked('a', 50, 30, dentist), [hours(0, 60), hours(70, 200)])).toMatchObject([
      { rule: 'dentist/away' },
    ])
  })
  test('[dentist/away] where nobody’s hours are known nothing is said; where others’ are, an absence is', () => {
    expect(judgeAway(booked('a', 0, 30, dentist), [])).toEqual([])
    expect(judgeAway(booked('a', 0, 30, dentist), [hours(0, 60, 'B')])).toMatchObject([
      { rule: 'dentist/away' },
    ])
  })
  test('[dentist/marked-away] who is marked away is away within their hours, whoever else is known to work', () => {
    const away = { by: 'desk' as MemberId, at: at(-60) }
    const absent = { ...hours(20, 40), id: 'away' as RosterId, away }
    const rules = (from: number, minutes: number, rosters: Roster[]) =>
      judgeAway(booked('a', from, minutes, dentist), rosters).map(({ rule }) => rule)
    expect(rules(0, 30, [hours(0, 60), absent])).toEqual(['dentist/marked-away'])
    expect(rules(0, 30, [absent])).toEqual(['dentist/marked-away'])
    // Half-open: what ends as they leave, or begins as they come back, is theirs.
    expect(rules(0, 20, [hours(0, 60), absent])).toEqual([])
    expect(rules(40, 20, [hours(0, 60), absent])).toEqual([])
  })
  test('[dentist/marked-away] that one is away says nothing of another whose hours nobody knows', () => {
    const away = { by: 'desk' as MemberId, at: at(-60) }
    expect(judgeAway(booked('a', 0, 30, dentist), [{ ...hours(0, 600, 'B'), away }])).toEqual([])
  })
})
