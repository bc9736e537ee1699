import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Database, ENGINES } from '#db/database.ts'
import { findBreak, readEntries } from '#server/commands/journal.ts'
import type { CommandId, MemberId } from '#shared/ids.ts'
import { addOperatory, addPerson, foundClinic, newId, type TestClinic } from '#tests/support/clinic.ts'
import { openFresh } from '#tests/support/database.ts'

const DAY = '2026-11-24'

const booking = (clinic: TestClinic, more: object = {}) => ({
  siteId: clinic.siteId,
  day: DAY,
  startsAt: '10:00',
  minutes: 60,
  operatoryId: null,
  dentistId: null,
  patient: { kind: 'new', given: 'Ada', family: 'Kerr', born: '1990-04-02' },
  work: ['RCT 36'],
  ...more,
})

describe.each(ENGINES)('perform on %s', (engine) => {
  let database: Database
  beforeAll(async () => {
    database = await openFresh(engine)
  })
  afterAll(() => database.close())

  it('founds a clinic as its first command and goes on from revision to revision', async () => {
    const clinic = await foundClinic(database)
    expect(await clinic.done('appointment.book', booking(clinic))).toBe(2)
    const world = await clinic.world()
    expect(world.appointment).toHaveLength(1)
    expect(world.work.map((work) => [work.kind, work.teeth])).toEqual([['root-canal', ['36']]])
  })

  it('makes the plan of an appointment in the same change as the booking', async () => {
    const clinic = await foundClinic(database)
    await clinic.done('appointment.book', booking(clinic))
    const [plan] = (await clinic.world()).plan
    expect(plan?.number).toBe(1)
    expect(plan?.agreed.need).toBe('required')
  })

  it('answers a repeated command with the first answer and acts once', async () => {
    const clinic = await foundClinic(database)
    const id = newId<CommandId>()
    const first = await clinic.perform('appointment.book', booking(clinic), { id })
    const again = await clinic.perform('appointment.book', booking(clinic), { id })
    expect(again).toEqual(first)
    expect((await clinic.world()).appointment).toHaveLength(1)
  })

  it('refuses another command under an id that was used', async () => {
    const clinic = await foundClinic(database)
    const id = newId<CommandId>()
    await clinic.perform('appointment.book', booking(clinic), { id })
    const other = await clinic.perform('appointment.book', booking(clinic, { startsAt: '11:00' }), { id })
    expect(other).toMatchObject({ refused: true, trouble: { what: expect.stringContaining('same id') } })
  })

  it('moves nothing when a command is refused', async () => {
    const clinic = await foundClinic(database)
    const before = await clinic.world()
    const refused = await clinic.perform('appointment.book', booking(clinic, { operatoryId: newId() }))
    expect(refused).toMatchObject({ refused: true, findings: [{ rule: 'room/unknown' }] })
    expect(await clinic.world()).toEqual(before)
    expect(await clinic.in((tx) => readEntries(tx, clinic.clinicId, { after: 0 }))).toHaveLength(1)
  })

  it('refuses what cannot be read in three parts', async () => {
    const clinic = await foundClinic(database)
    const trouble = { what: expect.any(String), why: expect.any(String), todo: expect.any(String) }
    for (const [kind, input] of [
      ['no.such-command', {}],
      ['constructor', {}],
      ['appointment.book', { siteId: 'not an id' }],
      ['appointment.book', booking(clinic, { note: 'a\0b' })],
      ['appointment.book', booking(clinic, { note: 'half \ud83d' })],
      ['appointment.book', null],
    ] as const) {
      expect(await clinic.perform(kind, input)).toEqual({ refused: true, findings: [], trouble })
    }
    expect(await clinic.in((tx) => readEntries(tx, clinic.clinicId, { after: 0 }))).toHaveLength(1)
  })

  it('[person/not-allowed] refuses a stranger and a role that may not', async () => {
    const clinic = await foundClinic(database)
    const student = await addPerson(clinic, 'Sten Student', 'student')
    for (const by of [student, newId<MemberId>()]) {
      expect(await clinic.perform('appointment.book', booking(clinic), { by })).toMatchObject({
        refused: true,
        findings: [{ rule: 'person/not-allowed' }],
      })
    }
  })

  it('keeps one revision for each of many commands asked at once', async () => {
    const clinic = await foundClinic(database)
    const times = Array.from(
      { length: 12 },
      (_, index) => `1${Math.floor(index / 6)}:${(index % 6) * 10 || '00'}`,
    )
    const done = await Promise.all(
      times.map((startsAt) => clinic.perform('appointment.book', booking(clinic, { startsAt }))),
    )
    const revisions = done.map((performed) => (performed.refused ? 0 : performed.revision))
    expect(revisions.sort((a, b) => a - b)).toEqual(times.map((_, index) => index + 2))
    expect((await clinic.world()).appointment).toHaveLength(times.length)
  })

  it('chains the journal, and finds what was altered', async () => {
    const clinic = await foundClinic(database)
    await addOperatory(clinic, 'One')
    await clinic.done('appointment.book', booking(clinic))
    const entries = await clinic.in((tx) => readEntries(tx, clinic.clinicId, { after: 0 }))
    expect(entries.map((entry) => entry.revision)).toEqual([1, 2, 3])
    expect(findBreak(entries)).toBeNull()
    const blanked = entries.map((entry) => (entry.revision === 2 ? { ...entry, content: null } : entry))
    expect(findBreak(blanked)).toBeNull()
    const altered = entries.map((entry) =>
      entry.revision === 2 ? { ...entry, station: 'elsewhere' } : entry,
    )
    expect(findBreak(altered)).toBe(2)
    const retold = structuredClone(entries)
    const content = retold[2]?.content
    if (content) content.change.remove = { appointment: ['x'] }
    expect(findBreak(retold)).toBe(3)
    expect(findBreak(entries.filter((entry) => entry.revision !== 2))).toBe(3)
  })

  it('undoes a step as a step of its own', async () => {
    const clinic = await foundClinic(database)
    const before = await clinic.world()
    const revision = await clinic.done('appointment.book', booking(clinic))
    await clinic.done('journal.undo', { revision })
    expect(await clinic.world()).toEqual(before)
  })

  it('[undo/moved-since] refuses to undo what has moved since', async () => {
    const clinic = await foundClinic(database)
    const revision = await clinic.done('appointment.book', booking(clinic))
    const [appointment] = (await clinic.world()).appointment
    await clinic.done('appointment.cancel', { appointmentId: appointment?.id, reason: 'ill' })
    expect(await clinic.perform('journal.undo', { revision })).toMatchObject({
      refused: true,
      findings: [{ rule: 'undo/moved-since' }],
    })
  })

  it('[undo/no-entry] [undo/not-this] refuses a step that is not there and one that others rest on', async () => {
    const clinic = await foundClinic(database)
    expect(await clinic.perform('journal.undo', { revision: 99 })).toMatchObject({
      findings: [{ rule: 'undo/no-entry' }],
    })
    expect(await clinic.perform('journal.undo', { revision: 1 })).toMatchObject({
      findings: [{ rule: 'undo/not-this' }],
    })
  })
})
