import { describe, expect, it } from 'vitest'
import { asClinic } from '#db/as-clinic.ts'
import type { Database, Tx } from '#db/database.ts'
import { save } from '#db/save.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { nothing, putting, removing } from '#shared/change.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import { newId } from '#tests/support/clinic.ts'

const aMember = (clinicId: ClinicId, name: string): Member => ({
  clinicId,
  id: newId<MemberId>(),
  name,
  shortName: name,
  roles: ['assistant'],
  active: true,
  releasesLoads: false,
  drawsFirst: null,
})

const codeOf = (error: unknown): string | undefined => (error as { code?: string }).code

/** What any engine promises us. Both run it; what one cannot do would be skipped here with its reason. */
export function databaseContract(engine: string, open: () => Database): void {
  describe(`the database contract on ${engine}`, () => {
    const put = (clinicId: ClinicId, member: Member) =>
      asClinic(open(), clinicId, (tx) =>
        save(tx, clinicId, { change: putting('member', member), before: removing('member', member.id) }),
      )
    const members = (clinicId: ClinicId) =>
      asClinic(
        open(),
        clinicId,
        (tx) => selectFacts(tx, clinicId, { name: 'member', where: everywhere }),
        'read',
      )

    it('a fact comes back as it was saved', async () => {
      const clinicId = newId<ClinicId>()
      const member = aMember(clinicId, 'Łucja "O\'Neill" \\ 名前 🦷')
      await put(clinicId, member)
      expect(await members(clinicId)).toEqual([member])
    })

    it('a clinic sees its own facts and no others', async () => {
      const [one, other] = [newId<ClinicId>(), newId<ClinicId>()]
      await put(one, aMember(one, 'One'))
      expect(await members(other)).toEqual([])
      const everything = await asClinic(open(), other, async (tx) => [...(await tx`select name from member`)])
      expect(everything).toEqual([])
    })

    it('a fact of another clinic cannot be written, changed or removed', async () => {
      const [one, other] = [newId<ClinicId>(), newId<ClinicId>()]
      const member = aMember(one, 'One')
      await put(one, member)
      const foreign = asClinic(open(), other, (tx) =>
        save(tx, other, { change: putting('member', aMember(one, 'Foreign')), before: nothing }),
      )
      expect(await foreign.catch(codeOf)).toBe('42501')
      await asClinic(open(), other, async (tx) => {
        await tx`update member set name = 'changed'`
        await tx`delete from member`
      })
      expect(await members(one)).toEqual([member])
    })

    it('without a clinic, or with the one of the transaction before, nothing is seen', async () => {
      const clinicId = newId<ClinicId>()
      await put(clinicId, aMember(clinicId, 'One'))
      const { sql, takeRole } = open()
      const seen = await sql.begin(async (tx) => {
        if (takeRole) await tx.unsafe(takeRole)
        return [...(await tx`select name from member`)]
      })
      expect(seen).toEqual([])
    })

    it('the application can neither change the schema nor rewrite the journal', async () => {
      const clinicId = newId<ClinicId>()
      for (const statement of [
        'drop table member',
        'alter table member disable row level security',
        'create table mine (id int)',
        'delete from journal',
        "update journal set digest = ''",
        'update read_log set page = null',
      ]) {
        const tried = asClinic(open(), clinicId, (tx) => tx.unsafe(statement))
        expect([statement, await tried.catch(codeOf)]).toEqual([statement, '42501'])
      }
    })

    it('a transaction that throws keeps nothing', async () => {
      const clinicId = newId<ClinicId>()
      const thrown = asClinic(open(), clinicId, async (tx) => {
        await save(tx, clinicId, {
          change: putting('member', aMember(clinicId, 'Gone')),
          before: nothing,
        }).catch(() => {})
        throw new Error('on purpose')
      })
      await expect(thrown).rejects.toThrow('on purpose')
      expect(await members(clinicId)).toEqual([])
    })

    it('a fact that was decided on without being read is refused as a bug', async () => {
      const clinicId = newId<ClinicId>()
      const member = aMember(clinicId, 'One')
      await put(clinicId, member)
      const again = asClinic(open(), clinicId, (tx) =>
        save(tx, clinicId, {
          change: putting('member', { ...member, name: 'Two' }),
          before: removing('member', member.id),
        }),
      )
      await expect(again).rejects.toThrow('without being read')
      expect(await members(clinicId)).toEqual([member])
    })

    it('a life cycle knows only its own kinds', async () => {
      const clinicId = newId<ClinicId>()
      const tried = asClinic(open(), clinicId, (tx) =>
        tx.unsafe(
          `insert into clinic (clinic_id, id, name, invented, notation, clock)
            values ($1, $1, 'x', false, 'iso', '{"kind":"sundial"}')`,
          [clinicId],
        ),
      )
      expect(await tried.catch(codeOf)).toBe('23514')
    })

    it.skipIf(engine === 'pglite')(
      'reading sees one moment, whatever is committed meanwhile (an engine of one session lets nothing be)',
      async () => {
        const clinicId = newId<ClinicId>()
        await put(clinicId, aMember(clinicId, 'One'))
        const counts = await asClinic(
          open(),
          clinicId,
          async (tx) => {
            const before = await tx`select id from member`
            await put(clinicId, aMember(clinicId, 'Two'))
            return [before.length, (await tx`select id from member`).length]
          },
          'read',
        )
        expect(counts).toEqual([1, 1])
        expect(await members(clinicId)).toHaveLength(2)
      },
    )

    it('a transaction that has ended takes no more statements', async () => {
      const clinicId = newId<ClinicId>()
      const left = await asClinic(open(), clinicId, async (tx) => ({ tx }))
      const late = aMember(clinicId, 'Late')
      const change = { change: putting('member', late), before: removing('member', late.id) }
      await expect(save(left.tx, clinicId, change)).rejects.toThrow(/after its transaction was over/)
      expect(() => left.tx`select 1`).toThrow(/Ask for the whole command again/)
      expect(await members(clinicId)).toEqual([])
    })

    it('a transaction that was rolled back takes none either', async () => {
      const clinicId = newId<ClinicId>()
      const kept: Tx[] = []
      const failing = asClinic(open(), clinicId, async (tx) => {
        kept.push(tx)
        throw new Error('on purpose')
      })
      await expect(failing).rejects.toThrow('on purpose')
      expect(() => kept[0]?.unsafe('select 1')).toThrow(/after its transaction was over/)
    })

    it('an announcement is heard after its commit and not after a rollback', async () => {
      const clinicId = newId<ClinicId>()
      const heard: string[] = []
      await open().listen(
        (payload) => heard.push(payload),
        () => {},
      )
      const told = (mark: string, fails: boolean) =>
        asClinic(open(), clinicId, async (tx) => {
          await tx`select pg_notify('weirboard', ${`${clinicId}:${mark}`})`
          if (fails) throw new Error('on purpose')
        }).catch(() => {})
      await told('1', true)
      await told('2', false)
      await new Promise((resolve) => setTimeout(resolve, 300))
      expect(heard.filter((payload) => payload.startsWith(clinicId))).toEqual([`${clinicId}:2`])
    })
  })
}
