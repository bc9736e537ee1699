import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Database, ENGINES } from '#db/database.ts'
import { must } from '#shared/base/assert.ts'
import { ROLES } from '#shared/people/role.ts'
import { addPerson, foundClinic, type TestClinic } from '#tests/support/clinic.ts'
import { openFresh } from '#tests/support/database.ts'

describe.each(ENGINES)('undo on %s', (engine) => {
  let database: Database
  beforeAll(async () => {
    database = await openFresh(engine)
  })
  afterAll(() => database.close())

  const book = async (clinic: TestClinic) => {
    await clinic.done('appointment.book', {
      siteId: clinic.siteId,
      day: '2026-11-24',
      startsAt: '10:00',
      minutes: 60,
      operatoryId: null,
      dentistId: null,
      patient: { kind: 'new', given: 'Ada', family: 'Kerr', born: '1990-04-02' },
      work: ['RCT 46'],
    })
    return must((await clinic.world()).appointment[0], 'it is booked').id
  }

  it('a tooth that changes from 46 to 47 and is undone has plan 3, never plan 1 again', async () => {
    const clinic = await foundClinic(database)
    const appointmentId = await book(clinic)
    const work = must((await clinic.world()).work[0], 'it has work')
    const plans = async () =>
      (await clinic.world()).plan.map(({ number, agreed }) => [number, agreed.work[0]?.teeth])
    expect(await plans()).toEqual([[1, ['46']]])
    const { member } = await clinic.world()
    const everyone = must(member[0], 'a manager')
    await clinic.done('person.change', { memberId: everyone.id, roles: [...ROLES] })
    const revision = await clinic.done('work.name', {
      appointmentId,
      workId: work.id,
      kind: 'root-canal',
      teeth: ['47'],
    })
    expect(await plans()).toEqual([[2, ['47']]])
    await clinic.done('journal.undo', { revision })
    expect(await plans()).toEqual([[3, ['46']]])
  })

  it('[person/not-allowed] nobody undoes what they may not do', async () => {
    const clinic = await foundClinic(database)
    const assistant = await addPerson(clinic, 'An Assistant', 'assistant')
    const revision = await clinic.done('person.add', { name: 'New', shortName: 'New', roles: ['assistant'] })
    expect(await clinic.perform('journal.undo', { revision }, { by: assistant })).toMatchObject({
      findings: [{ rule: 'person/not-allowed' }],
    })
  })

  it('an undone step can itself not be undone: the first is asked again', async () => {
    const clinic = await foundClinic(database)
    const added = await clinic.done('person.add', { name: 'New', shortName: 'New', roles: ['assistant'] })
    const undone = await clinic.done('journal.undo', { revision: added })
    expect(await clinic.perform('journal.undo', { revision: undone })).toMatchObject({
      findings: [{ rule: 'undo/not-this' }],
    })
  })
})
