import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { membership, session } from '#db/schema/accounts.ts'
import { addPerson, newId } from '#tests/support/clinic.ts'
import { openTestHouse, type TestHouse } from '#tests/support/house.ts'

describe('who asks, read anew each time', () => {
  let t: TestHouse
  beforeAll(async () => {
    t = await openTestHouse('pglite')
  }, 120_000)
  afterAll(() => t.close())

  it('a role that was taken a moment ago is no longer there', async () => {
    const memberId = await addPerson(t.clinic, newId(), 'assistant')
    const cookie = await t.signIn(memberId)
    expect(await t.house.readSession(cookie)).toMatchObject({ memberId, roles: ['assistant'] })
    const done = await t.clinic.perform('person.change', {
      memberId,
      roles: ['front-desk'],
    })
    expect(done.refused).toBe(false)
    expect(await t.house.readSession(cookie)).toMatchObject({ roles: ['front-desk'], audience: 'desk' })
  })

  it('a sign-in that was ended, or has run out, is nobody’s', async () => {
    const [one, other] = [
      await addPerson(t.clinic, newId(), 'assistant'),
      await addPerson(t.clinic, newId(), 'assistant'),
    ]
    const [ended, ranOut] = [await t.signIn(one), await t.signIn(other)]
    const [first, second] = [await t.house.readSession(ended), await t.house.readSession(ranOut)]
    if (!first || !second) throw new Error('Both are signed in.')
    expect(await t.house.isSignedIn(first)).toBe(true)
    await t.house.database.db.delete(session).where(eq(session.id, first.sessionId))
    await t.house.database.db
      .update(session)
      .set({ expiresAt: new Date(Date.now() - 1000) })
      .where(eq(session.id, second.sessionId))
    for (const cookie of [ended, ranOut]) expect(await t.house.readSession(cookie)).toBeNull()
    for (const each of [first, second]) expect(await t.house.isSignedIn(each)).toBe(false)
  })

  it('an account that became another member’s is found as that one', async () => {
    const [before, after] = [
      await addPerson(t.clinic, newId(), 'assistant'),
      await addPerson(t.clinic, newId(), 'dentist'),
    ]
    const cookie = await t.signIn(before)
    expect(await t.house.readSession(cookie)).toMatchObject({ memberId: before })
    await t.house.database.db
      .update(membership)
      .set({ memberId: after })
      .where(eq(membership.memberId, before))
    expect(await t.house.readSession(cookie)).toMatchObject({ memberId: after, roles: ['dentist'] })
  })

  it('a token that is no token is nobody’s, whatever it says', async () => {
    for (const token of ["' or true --", '%27', 'x'.repeat(200), '']) {
      expect(await t.house.readSession(`weirboard.session_token=${token}.signature`)).toBeNull()
    }
  })
})
