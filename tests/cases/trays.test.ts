import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { applyChange } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId, TrayId } from '#shared/ids.ts'
import { TRAY_COMMANDS } from '#shared/trays/commands.ts'
import { judgeTray } from '#shared/trays/judge.ts'
import { say } from '#shared/words/en.ts'
import {
  at,
  bareClinic,
  book,
  CLINIC,
  contextOf,
  dammed,
  decideOn,
  findingOf,
  lineOf,
  linesOf,
  nextId,
  PEOPLE,
  performed,
  reasonsOf,
  sterilised,
  trayOf,
  withTray,
} from '../support/tray-clinic.ts'

const { ana, ben, dentist, other } = PEOPLE

function start(booking = {}) {
  const { world, appointmentId } = book(
    sterilised(bareClinic(), ['dam-set', 'examination-set', 'composite-set', 'dam-set']),
    booking,
  )
  const laid = withTray(world, appointmentId)
  const trayId = trayOf(laid, appointmentId).id
  return {
    appointmentId,
    trayId,
    world: performed(TRAY_COMMANDS['tray.claim'], { world: laid, input: { trayId }, by: ana }),
  }
}

function fill(world: World, trayId: TrayId): World {
  return linesOf(world, trayId).reduce((filled, line) => {
    if (line.packKind === null) {
      const input = { trayId, lineId: line.id, inspected: true }
      return performed(TRAY_COMMANDS['tray.tick'], { world: filled, input, by: ana })
    }
    const code = filled.pack.find((pack) => pack.kind === line.packKind && pack.life.kind === 'shelf')?.code
    return performed(TRAY_COMMANDS['tray.scan'], { world: filled, input: { trayId, code }, by: ana })
  }, world)
}
const check = (world: World, trayId: TrayId): World => {
  const out = performed(TRAY_COMMANDS['tray.lay-out'], { world, input: { trayId }, by: ana })
  return performed(TRAY_COMMANDS['tray.check'], { world: out, input: { trayId }, by: ana })
}
const judge = (world: World, id: AppointmentId) =>
  judgeTray(trayOf(world, id), {
    appointment: { start: at('09:30') },
    stage: 'expected',
    policy: world.policySet[0] ?? null,
    now: at('09:10'),
  })

describe('case 68 cement in a "sterile" kit', () => {
  it('debris on opening: not ready, a second set asked for, the pack gone and its set dirty', () => {
    const { world, appointmentId, trayId } = start()
    const ready = check(fill(world, trayId), trayId)
    const lineId = lineOf(ready, trayId, 'dam-set').id
    const after = performed(TRAY_COMMANDS['tray.fault'], {
      world: ready,
      input: { trayId, lineId, why: 'debris on opening' },
      by: ana,
      now: at('09:10'),
    })
    expect(judge(after, appointmentId)).toMatchObject([
      { rule: 'tray/line-missing', missing: 'dam set: punch, forceps, frame debris on opening' },
    ])
    expect(after.pack.filter(({ kind, life }) => kind === 'dam-set' && life.kind === 'shelf')).toHaveLength(1)
    const second = performed(TRAY_COMMANDS['tray.scan'], {
      world: after,
      input: { trayId, code: 'P4' },
      by: ana,
    })
    expect(trayOf(second, appointmentId).firstMissing).toBeNull()
  })
})

describe('case 69 something is missing mid-procedure', () => {
  it('the line is named with its reason, and ready needs all or the dentist’s reasoned omission', () => {
    const { world, appointmentId, trayId } = start()
    const lot = { ...expired, id: nextId<(typeof world)['stockLine'][number]['id']>() }
    const filled = { ...fill(world, trayId), stockLine: [lot] }
    const lineId = lineOf(filled, trayId, 'bonding-agent').id
    const input = { trayId, lineId, stockLineId: lot.id }
    const past = performed(TRAY_COMMANDS['tray.tick'], { world: filled, input, by: ana })
    const out = performed(TRAY_COMMANDS['tray.lay-out'], { world: past, input: { trayId }, by: ana })
    const of = linesOf(out, trayId).length
    const [finding] = judge(out, appointmentId)
    expect(finding && say(finding)).toBe(`${of - 1} of ${of}: bonding agent expired.`)
    expect(
      reasonsOf(decideOn(TRAY_COMMANDS['tray.check'], { world: out, input: { trayId }, by: ana })),
    ).toEqual(['tray/line-missing'])
    const omitted = performed(TRAY_COMMANDS['tray.omit'], {
      world: out,
      input: { trayId, lineId, reason: 'glass ionomer instead' },
      by: dentist,
    })
    expect(decideOn(TRAY_COMMANDS['tray.check'], { world: omitted, input: { trayId }, by: ana }).ok).toBe(
      true,
    )
  })
  const expired = {
    clinicId: CLINIC,
    item: 'bonding-agent',
    name: 'bonding agent',
    lot: 'B7',
    expires: '2026-11-23' as World['stockLine'][number]['expires'],
    count: 3,
    reorderAt: 1,
    contents: {},
  }
})

describe('case 70 the same procedure, another dentist’s tray', () => {
  it('the difference only, and a re-check', () => {
    const { world, appointmentId, trayId } = start()
    const kit = world.kit.find(({ key }) => key === 'direct-composite')
    const [first, ...rest] = kit?.lines ?? []
    const added = { ...rest[0], item: 'rubber-cup', name: 'flowable composite' }
    const own = { ...kit, id: nextId(), dentistId: other.id, lines: [...rest, added] } as World['kit'][number]
    const ready = check(fill({ ...world, kit: [...world.kit, own] }, trayId), trayId)
    const moved = {
      ...ready,
      appointment: ready.appointment.map((each) => ({ ...each, dentistId: other.id })),
    }
    const after = withTray(moved, appointmentId, at('10:05'))
    const finding = judge(after, appointmentId).find(({ rule }) => rule === 'tray/recheck')
    expect(finding && say(finding)).toBe(`Re-check the tray: + flowable composite, - ${first?.name}.`)
    const kept = linesOf(after, trayId).filter((line) => line.tick !== null)
    expect(kept).toHaveLength(linesOf(after, trayId).length - 1)
  })
})

describe('case 71 two assistants, one tray (or none)', () => {
  it('raced 10,000 times there is exactly one owner, and the loser hears who and since when', async () => {
    const { world, appointmentId } = book(bareClinic())
    const laid = withTray(world, appointmentId)
    const trayId = trayOf(laid, appointmentId).id
    await fc.assert(
      fc.asyncProperty(fc.scheduler(), fc.integer({ min: 0, max: 1 }), async (scheduler, first) => {
        // One clinic has one writer: whoever's command comes first is decided on the fresh world.
        let standing = laid
        const results: boolean[] = []
        const claim = async (by: typeof ana, minute: string): Promise<void> => {
          await scheduler.schedule(Promise.resolve(), by.name)
          const decision = TRAY_COMMANDS['tray.claim'].decide(standing, { trayId }, contextOf(by, at(minute)))
          results.push(decision.ok)
          if (decision.ok) standing = applyChange(standing, decision.value.change)
          else {
            const owner = trayOf(standing, appointmentId).life
            expect(findingOf(decision)).toMatchObject({
              rule: 'tray/claimed-by-other',
              by: 'by' in owner ? owner.by : null,
              since: 'since' in owner ? owner.since : null,
            })
          }
        }
        const racing = [claim(first ? ana : ben, '08:41'), claim(first ? ben : ana, '08:41')]
        await scheduler.waitIdle()
        await Promise.all(racing)
        expect(results.sort()).toEqual([false, true])
      }),
      { numRuns: 10_000 },
    )
  })
  it('two packs scanned to one visit: put one back', () => {
    const { world, trayId } = start()
    const one = performed(TRAY_COMMANDS['tray.scan'], { world, input: { trayId, code: 'P1' }, by: ana })
    const decision = decideOn(TRAY_COMMANDS['tray.scan'], {
      world: one,
      input: { trayId, code: 'P4' },
      by: ben,
    })
    expect(say(findingOf(decision))).toContain('Put P1 or P4 back')
  })
})

describe('case 73 "broken tooth" could be anything', () => {
  it('examination and a sealed dam kit on standby; chosen, it becomes the kit in use with its pack', () => {
    const { world, appointmentId, trayId } = start({ kind: 'undetermined', agreed: null })
    expect(trayOf(world, appointmentId)).toMatchObject({
      kits: ['examination', 'dam-standby'],
      standby: true,
    })
    const reserved = performed(TRAY_COMMANDS['tray.scan'], { world, input: { trayId, code: 'P1' }, by: ana })
    expect(reserved.pack[0]?.life.kind).toBe('reserved')
    const chosen = {
      ...reserved,
      work: reserved.work.map((work) => ({ ...work, kind: 'root-canal' as const })),
      plan: [
        {
          clinicId: CLINIC,
          id: nextId<World['plan'][number]['id']>(),
          appointmentId,
          number: 1,
          digest: 'd',
          agreed: dammed(),
        },
      ],
    }
    const after = withTray(chosen, appointmentId)
    expect(trayOf(after, appointmentId)).toMatchObject({ standby: false })
    expect(trayOf(after, appointmentId).kits).toEqual(expect.arrayContaining(['root-canal', 'dam-base']))
    expect(lineOf(after, trayId, 'dam-set')).toMatchObject({
      packId: reserved.pack[0]?.id,
      tick: { by: ana.id },
    })
  })
})

describe('case 75 late, early, wrong day, never', () => {
  const noShow = (world: World): World => ({
    ...world,
    appointment: world.appointment.map((each) => ({ ...each, status: 'noshow' as const })),
  })
  it('an unopened tray goes back to stock when the desk marks it', () => {
    const { world, appointmentId, trayId } = start()
    const after = withTray(noShow(check(fill(world, trayId), trayId)), appointmentId, at('10:20'))
    expect(trayOf(after, appointmentId).life.kind).toBe('cleared')
    expect(after.pack.map(({ life }) => life.kind)).toEqual(['shelf', 'shelf', 'shelf', 'shelf'])
  })
  it('an opened tray is reprocessed, and stock is not credited', () => {
    const { world, appointmentId, trayId } = start()
    const ready = check(fill(world, trayId), trayId)
    const looked = ready.pack
      .filter(({ life }) => life.kind === 'reserved')
      .map(({ id }) => ({ packId: id, outside: 'sound', outer: 'changed', inner: 'changed' }))
    const opened = performed(TRAY_COMMANDS['tray.open'], { world: ready, input: { trayId, looked }, by: ana })
    const after = withTray(noShow(opened), appointmentId, at('10:20'))
    expect(trayOf(after, appointmentId).life.kind).toBe('opened')
    const cleared = performed(TRAY_COMMANDS['tray.clear'], { world: after, input: { trayId }, by: ana })
    expect(cleared.pack.map(({ life }) => life.kind)).toEqual(['returned', 'returned', 'returned', 'shelf'])
  })
  it('an appointment that stands again gets its tray anew', () => {
    const { world, appointmentId, trayId } = start()
    const gone = withTray(noShow(check(fill(world, trayId), trayId)), appointmentId)
    const back = { ...gone, appointment: world.appointment }
    const after = withTray(back, appointmentId)
    expect(trayOf(after, appointmentId)).toMatchObject({ id: trayId, life: { kind: 'needed' }, done: 0 })
  })
})
