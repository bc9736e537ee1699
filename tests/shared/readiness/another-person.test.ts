import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import type { Member } from '#shared/people/clinic.ts'
import { does, inChair, refusals, shutting } from './chair.ts'
import { ASSISTANT, DENTIST } from './scene.ts'

const DESK: Member = { ...ASSISTANT, roles: ['front-desk'] }
const patientIn = (world: World) => must(world.patient[0], 'one patient')
const answering = (world: World, how: 'asked' | 'typed') => {
  const { given, family, born } = patientIn(world)
  const said = { name: how === 'typed' ? `${given} ${family}` : null, born }
  return { identifiers: ['full-name', 'birth-day'], how, said }
}
const identified = (): World => {
  const world = inChair()
  return does(world, 'visit.identify', answering(world, 'asked'), { by: ASSISTANT, minute: -8 })
}
const rewritten = (world: World, record: object): World =>
  does(world, 'patient.change', { patientId: patientIn(world).id, ...record }, { by: DESK, minute: -7 })
const wordIn = (world: World) => must(world.word[0], 'one word').life

// Who sits in the chair is who answered. Joint Commission NPSG.01.01.01: two identifiers match the person to the record (READ).
describe('[identity/differs] a record that becomes another’s', () => {
  test.each([
    ['another name', { given: 'Orla', family: 'Quist' }],
    ['another birth day', { born: '1961-02-03' }],
  ])('%s: who it is must be found out again, and the word no longer holds', (_, record) => {
    const world = rewritten(identified(), record)
    expect(shutting(world, 'inject')).toContain('identity/differs')
    expect(wordIn(world)).toMatchObject({ kind: 'lapsed', why: 'patient-changed' })
    // A touch is no longer enough; what is typed is kept with the record it agreed to.
    const touched = does(world, 'visit.identify', answering(world, 'typed'), { by: ASSISTANT, minute: -6 })
    expect(refusals(world, 'visit.identify', answering(world, 'asked'), { by: ASSISTANT })).toEqual([
      'identity/not-typed',
    ])
    expect(shutting(touched, 'inject')).not.toContain('identity/differs')
  })

  test('a name written otherwise, and a birth day nobody knew, make nobody else of a patient', () => {
    const world = identified()
    const { given, family } = patientIn(world)
    const accented = rewritten(world, { given: given.toUpperCase(), family: ` ${family} ` })
    expect(shutting(accented, 'inject')).not.toContain('identity/differs')
    expect(wordIn(accented).kind).toBe('live')
    const unborn = { ...inChair(), patient: [{ ...patientIn(world), born: null }] }
    const named = does(
      unborn,
      'visit.identify',
      { identifiers: ['full-name', 'photo'], how: 'typed', said: { name: `${given} ${family}` } },
      { by: ASSISTANT, minute: -8 },
    )
    expect(shutting(rewritten(named, { born: '1980-02-03' }), 'inject')).not.toContain('identity/differs')
  })
})

test('[identity/not-typed] a stop that found the wrong patient is settled by what is typed, not by a touch', () => {
  const stopped = does(identified(), 'stop.check-side', {}, { by: ASSISTANT, minute: -7 })
  const world = does(
    stopped,
    'stop.clear',
    { outcome: 'wrong-patient', note: '' },
    { by: DENTIST, minute: -6 },
  )
  expect(shutting(world, 'inject')).toContain('identity/differs')
  expect(refusals(world, 'visit.identify', answering(world, 'asked'), { by: ASSISTANT })).toEqual([
    'identity/not-typed',
  ])
  expect(refusals(world, 'visit.identify', answering(world, 'typed'), { by: ASSISTANT })).toEqual([])
})

test('[side/differs] another tooth said after the right one: who it is is asked anew, and the word no longer holds', () => {
  const world = does(identified(), 'visit.read-back', { teeth: ['47'], planNumber: 1 })
  expect(shutting(world, 'inject')).toEqual(
    expect.arrayContaining(['identity/missing', 'side/not-read-back']),
  )
  expect(wordIn(world)).toMatchObject({ kind: 'lapsed', why: 'interrupted' })
})
