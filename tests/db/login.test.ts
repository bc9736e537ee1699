import postgres from 'postgres'
import { expect, inject, it } from 'vitest'
import { openDatabase } from '#db/open.ts'
import { addOperatory, foundClinic } from '#tests/support/clinic.ts'
import { makeDatabase } from '#tests/support/postgres.ts'

it('a login that owns nothing serves a database that another one migrated', async () => {
  const url = await makeDatabase(inject('postgres'))
  const owner = await openDatabase({ url })
  await owner.close()
  const admin = postgres(url, { max: 1, onnotice: () => {} })
  await admin`do $$ begin
    if not exists (select from pg_roles where rolname = 'clinic_login') then
      create role clinic_login login;
    end if;
  end $$`
  await admin`grant weirboard_app to clinic_login`
  await admin.end()
  const database = await openDatabase({ url: url.replace('postgres@', 'clinic_login@') })
  const clinic = await foundClinic(database)
  await addOperatory(clinic, 'One')
  expect((await clinic.world()).operatory).toHaveLength(1)
  const [tables] = await database.sql<{ own: number }[]>`
    select count(*)::int as own from pg_tables where tableowner = current_user`
  expect(tables?.own).toBe(0)
  await database.close()
})

it('refuses a database that a newer program has migrated', async () => {
  const url = await makeDatabase(inject('postgres'))
  const first = await openDatabase({ url })
  await first.close()
  const admin = postgres(url, { max: 1, onnotice: () => {} })
  await admin`insert into drizzle.__drizzle_migrations (hash, created_at) values ('of the future', 99999999999999)`
  await admin.end()
  await expect(openDatabase({ url })).rejects.toThrow(/newer Weirboard.*\n.*lose.*\n.*newer version/)
})

it('two processes that start at once migrate one after the other', async () => {
  const url = await makeDatabase(inject('postgres'))
  const both = await Promise.all([openDatabase({ url }), openDatabase({ url })])
  for (const database of both) await database.close()
  expect(both).toHaveLength(2)
})
