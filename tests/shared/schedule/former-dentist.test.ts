import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { MemberId } from '#shared/ids.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import { isToBeTold, withDentist } from '#shared/schedule/former-dentist.ts'
import { at } from './facts.ts'

type Treats = Pick<Appointment, 'dentistId' | 'formerDentist'>
const by = 'desk' as MemberId
const of = (dentist: string | null): Treats => ({
  dentistId: dentist as MemberId | null,
  formerDentist: null,
})
const to = (treats: Treats, dentist: string | null) =>
  withDentist(treats, dentist as MemberId | null, { why: 'away', by, at: at(0) })
const told = (treats: Treats): Treats =>
  treats.formerDentist
    ? { ...treats, formerDentist: { ...treats.formerDentist, called: { by, at: at(1) } } }
    : treats

// COMMON: whom a patient expects is whom they were told of last.
describe('whom the patient expects', () => {
  test('is remembered with who changed it, when and why', () => {
    expect(to(of('A'), 'B')).toEqual({
      dentistId: 'B',
      formerDentist: { memberId: 'A', why: 'away', by, since: at(0), called: null },
    })
  })

  test.each<[string, (string | null)[], string | null]>([
    ['through several changes', ['B', 'C'], 'A'],
    ['while nobody is named', [null], 'A'],
    ['after nobody was', [null, 'B'], 'A'],
    ['not after a change back', ['B', 'A'], null],
    ['not after a change back through another', ['B', 'C', 'A'], null],
    ['not where nothing changes', ['A'], null],
  ])('%s', (_, steps, former) => {
    const end = steps.reduce(to, of('A'))
    expect(end.formerDentist?.memberId ?? null).toBe(former)
  })

  test('is whom they were told of, once they were', () => {
    const once = told(to(of('A'), 'B'))
    expect(to(once, 'C').formerDentist).toMatchObject({ memberId: 'B', called: null })
    // They know of B: having A again is news to them.
    expect(to(once, 'A').formerDentist).toMatchObject({ memberId: 'B', called: null })
  })

  test('is nobody where nobody was named before', () => {
    expect(to(of(null), 'B').formerDentist).toBeNull()
  })

  test('law: a call is due exactly when who treats is not whom the patient was told of last', () => {
    const step = fc.oneof(fc.constantFrom('A', 'B', 'C', null), fc.constant('told' as const))
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        let treats = of('A')
        let knows: string | null = 'A'
        for (const each of steps) {
          if (each === 'told') {
            if (treats.dentistId === null) continue
            treats = told(treats)
            knows = treats.dentistId
          } else treats = to(treats, each)
        }
        const isDue =
          treats.formerDentist?.called === null &&
          isToBeTold({ ...treats, formerDentist: treats.formerDentist, stage: 'expected' })
        expect(isDue).toBe(treats.dentistId !== null && treats.dentistId !== knows)
      }),
      { numRuns: 2000 },
    )
  })

  test('is told in the chair to who sits in it', () => {
    const changed = { formerDentist: to(of('A'), 'B').formerDentist, dentistId: 'B' as MemberId }
    expect(isToBeTold({ ...changed, stage: 'arrived' })).toBe(true)
    expect(isToBeTold({ ...changed, stage: 'seated' })).toBe(false)
    expect(isToBeTold({ ...changed, dentistId: null, stage: 'expected' })).toBe(false)
  })
})
