import { afterEach, describe, expect, inject, it } from 'vitest'
import { asClinic } from '#db/as-clinic.ts'
import { type Database, ENGINES } from '#db/database.ts'
import { openDatabase } from '#db/open.ts'
import { everywhere, selectFacts, selectIds } from '#db/select.ts'
import { must } from '#shared/base/assert.ts'
import type { ClinicId } from '#shared/ids.ts'
import { newId } from '#tests/support/clinic.ts'
import { openFresh } from '#tests/support/database.ts'
import { makeDatabase } from '#tests/support/postgres.ts'

const opened: Database[] = []
afterEach(async () => {
  for (const database of opened.splice(0)) await database.close().catch(() => {})
})
const keep = (database: Database): Database => {
  opened.push(database)
  return database
}

/** Work that is still going on when its connection breaks: it says what came of the statement it sends then. */
function openLateWork(database: Database, clinicId: ClinicId) {
  const said = { started: () => {}, goOn: () => {}, settled: (_: unknown) => {} }
  const started = new Promise<void>((resolve) => {
    said.started = resolve
  })
  const goOn = new Promise<void>((resolve) => {
    said.goOn = resolve
  })
  const late = new Promise<unknown>((resolve) => {
    said.settled = resolve
  })
  const given = asClinic(database, clinicId, async (tx) => {
    await tx`select 1`
    said.started()
    await goOn
    await selectIds(tx, clinicId, { sql: 'select $1::uuid as id', values: [] }).then(
      said.settled,
      (error) => {
        said.settled(error)
        throw error
      },
    )
  })
  given.catch(() => {})
  return { started, given, goOn: () => said.goOn(), late }
}

const over = expect.objectContaining({ message: expect.stringContaining('after its transaction was over') })

for (const engine of ENGINES) {
  describe(`a connection that goes away on ${engine}`, () => {
    it('ends its transaction for the work that runs on', async () => {
      const database = keep(await openFresh(engine))
      const work = openLateWork(database, newId<ClinicId>())
      await work.started
      await database.sql.end({ timeout: 0 })
      await expect(work.given).rejects.toMatchObject({ code: 'CONNECTION_CLOSED' })
      work.goOn()
      expect(await work.late).toEqual(over)
    })
  })
}

// The embedded engine has one session and nobody who could end it from outside.
describe('a connection that the server breaks', () => {
  const openTwo = async () => {
    const url = await makeDatabase(inject('postgres'))
    const one = keep(await openDatabase({ url, connections: 1 }))
    return { one, other: keep(await openDatabase({ url, connections: 1 })) }
  }
  const breakAll = (other: Database) =>
    other.sql`select pg_terminate_backend(pid) from pg_stat_activity
      where datname = current_database() and pid <> pg_backend_pid() and backend_type = 'client backend'`

  it('leaves the next transaction on it alone: neither statement, commit nor rollback reaches it', async () => {
    const { one, other } = await openTwo()
    const clinicId = newId<ClinicId>()
    const work = openLateWork(one, clinicId)
    await work.started
    const done = { enough: () => {} }
    const enough = new Promise<void>((resolve) => {
      done.enough = resolve
    })
    // Waits for the only connection, and has it as soon as it stands again.
    const next = asClinic(one, clinicId, async (tx) => {
      await tx`select 1`
      await enough
      const [row] = await tx<{ id: string | null }[]>`
        select pg_current_xact_id_if_assigned()::text as id, current_setting('app.clinic_id') as clinic`
      return must(row, 'one row')
    })
    await breakAll(other)
    await expect(work.given).rejects.toMatchObject({ code: 'CONNECTION_CLOSED' })
    await new Promise((resolve) => setTimeout(resolve, 200))
    work.goOn()
    expect(await work.late).toEqual(over)
    await new Promise((resolve) => setTimeout(resolve, 100))
    done.enough()
    expect(await next).toMatchObject({ clinic: clinicId })
    expect(
      await asClinic(one, clinicId, (tx) => selectFacts(tx, clinicId, { name: 'member', where: everywhere })),
    ).toEqual([])
  })

  it('in the middle of a statement ends it, and the connection serves again', async () => {
    const { one, other } = await openTwo()
    const clinicId = newId<ClinicId>()
    const sleeping = asClinic(one, clinicId, (tx) => tx`select pg_sleep(30)`)
    const failed = sleeping.then(
      () => null,
      (error: unknown) => error,
    )
    await new Promise((resolve) => setTimeout(resolve, 200))
    await breakAll(other)
    expect(await failed).toMatchObject({ code: 'CONNECTION_CLOSED' })
    // The driver tells the next asker of that break once more, and has sent nothing of theirs.
    const ask = () => asClinic(one, clinicId, async (tx) => [...(await tx`select 1 as one`)])
    expect(await ask().catch(ask)).toEqual([{ one: 1 }])
  })
})
