import { describe, expect, it } from 'vitest'
import type { Facts, World } from '#shared/facts.ts'
import type { AppointmentId, StockLineId } from '#shared/ids.ts'
import { TRAY_COMMANDS } from '#shared/trays/commands.ts'
import { judgeTray } from '#shared/trays/judge.ts'
import { startBy } from '#shared/trays/lifecycle.ts'
import { judgeStock, lotsFor } from '#shared/trays/stock.ts'
import type { TrayLine } from '#shared/trays/tray.ts'
import {
  at,
  bareClinic,
  book,
  CLINIC,
  decideOn,
  findingOf,
  lineOf,
  linesOf,
  nextId,
  PEOPLE,
  performed,
  reasonsOf,
  sterilised,
  TODAY,
  trayOf,
  withTray,
} from '../../support/tray-clinic.ts'

const { ana, ben, dentist, desk, lead } = PEOPLE
const KINDS = ['dam-set', 'examination-set', 'composite-set'] as const

/** A composite with a dam at 09:30, packs on the shelf, its tray waiting. */
function morning(): { world: World; appointmentId: AppointmentId; trayId: ReturnType<typeof trayOf>['id'] } {
  const { world, appointmentId } = book(sterilised(bareClinic(), [...KINDS, 'dam-set']))
  const laid = withTray(world, appointmentId)
  return { world: laid, appointmentId, trayId: trayOf(laid, appointmentId).id }
}

function claimed() {
  const { world, appointmentId, trayId } = morning()
  return {
    world: performed(TRAY_COMMANDS['tray.claim'], { world, input: { trayId }, by: ana }),
    appointmentId,
    trayId,
  }
}

/** Scans what comes in packs and ticks the rest, up to a line that is left out. */
function fill(world: World, trayId: ReturnType<typeof trayOf>['id'], but: string[] = []): World {
  let filled = world
  for (const line of linesOf(world, trayId).filter(({ item }) => !but.includes(item))) {
    const code = world.pack.find((pack) => pack.kind === line.packKind && pack.life.kind === 'shelf')?.code
    filled =
      line.packKind === null
        ? performed(TRAY_COMMANDS['tray.tick'], {
            world: filled,
            input: { trayId, lineId: line.id, inspected: true },
            by: ana,
          })
        : performed(TRAY_COMMANDS['tray.scan'], { world: filled, input: { trayId, code }, by: ana })
  }
  return filled
}

const laidOut = (world: World, trayId: ReturnType<typeof trayOf>['id']) =>
  performed(TRAY_COMMANDS['tray.lay-out'], { world, input: { trayId }, by: ana })
const checked = (world: World, trayId: ReturnType<typeof trayOf>['id']) =>
  performed(TRAY_COMMANDS['tray.check'], {
    world: laidOut(fill(world, trayId), trayId),
    input: { trayId },
    by: ben,
  })

const sight = { appointment: { start: at('09:30') }, stage: 'expected', now: at('08:40') } as const
const policy = bareClinic().policySet[0] ?? null
const judged = (world: World, appointmentId: AppointmentId, now = at('08:40')) =>
  judgeTray(trayOf(world, appointmentId), { ...sight, policy, now }).map(({ rule }) => rule)

describe('what stands open on a tray', () => {
  it('[tray/waiting] before its time a tray nobody has only waits', () => {
    const { world, appointmentId } = morning()
    expect(judged(world, appointmentId, at('09:19'))).toEqual(['tray/waiting'])
  })
  it('[tray/unowned] from its start-by time on it is asked who will lay it out', () => {
    const { world, appointmentId } = morning()
    expect(startBy({ start: at('09:30') }, { trays: { claimQuietMinutes: 15, layOutMinutes: 10 } })).toBe(
      at('09:20'),
    )
    expect(judged(world, appointmentId, at('09:20'))).toEqual(['tray/unowned'])
  })
  it('[tray/unowned] without a policy no time is known to be left', () => {
    const { world, appointmentId } = morning()
    expect(judgeTray(trayOf(world, appointmentId), { ...sight, policy: null })[0]?.rule).toBe('tray/unowned')
  })
  it('[tray/being-laid] a claimed tray says how far it is', () => {
    const { world, appointmentId } = claimed()
    expect(judged(world, appointmentId)).toEqual(['tray/being-laid'])
  })
  it('[tray/claim-quiet] a claim without a touch for longer than the limit counts as nobody’s', () => {
    const { world, appointmentId } = claimed()
    expect(judged(world, appointmentId, at('08:55'))).toEqual(['tray/being-laid'])
    expect(judged(world, appointmentId, at('08:56'))).toEqual(['tray/claim-quiet', 'tray/waiting'])
  })
  it('[tray/line-missing] laid out short it names the first line missing, and is not checked', () => {
    const { world, appointmentId, trayId } = claimed()
    const short = laidOut(fill(world, trayId, ['floss']), trayId)
    const [finding] = judgeTray(trayOf(short, appointmentId), { ...sight, policy })
    const of = linesOf(short, trayId).length
    expect(finding).toMatchObject({
      rule: 'tray/line-missing',
      done: of - 1,
      of,
      missing: 'waxed floss ligature missing',
    })
    const check = decideOn(TRAY_COMMANDS['tray.check'], { world: short, input: { trayId }, by: ana })
    expect(reasonsOf(check)).toEqual(['tray/line-missing'])
  })
  it('[tray/awaits-check] whole and laid out it waits to be checked', () => {
    const { world, appointmentId, trayId } = claimed()
    expect(judged(laidOut(fill(world, trayId), trayId), appointmentId)).toEqual(['tray/awaits-check'])
  })
  it('[tray/not-checked] once the patient is due it is asked', () => {
    const { world, appointmentId, trayId } = claimed()
    expect(judged(laidOut(fill(world, trayId), trayId), appointmentId, at('09:30'))).toEqual([
      'tray/not-checked',
    ])
  })
  it('[tray/not-laid-out] [tray/unowned] once the patient is due, or sits, being at it is no tray, and nobody’s is asked', () => {
    const seated = { ...sight, policy, stage: 'seated' } as const
    const rulesOf = ({ world, appointmentId }: ReturnType<typeof morning>) =>
      judgeTray(trayOf(world, appointmentId), seated).map(({ rule }) => rule)
    const { world, appointmentId } = claimed()
    expect(judged(world, appointmentId, at('09:30'))).toEqual(['tray/claim-quiet', 'tray/unowned'])
    expect(rulesOf(claimed())).toEqual(['tray/not-laid-out'])
    expect(rulesOf(morning())).toEqual(['tray/unowned'])
  })
  // Packs are proven at opening, at the chair: before the clamp, not before the patient sits. (CDC, READ)
  it('[tray/not-opened] a checked tray is opened once the patient sits; a kit on standby stays shut', () => {
    const { world, appointmentId, trayId } = claimed()
    const tray = trayOf(checked(world, trayId), appointmentId)
    const seated = { ...sight, policy, stage: 'seated' } as const
    expect(judgeTray(tray, seated).map(({ rule }) => rule)).toEqual(['tray/not-opened'])
    expect(judgeTray({ ...tray, standby: true }, seated).map(({ rule }) => rule)).toEqual(['tray/standby'])
    const opened = { ...tray, life: { kind: 'opened', by: ana.id, at: at('08:41') } } as const
    expect(judgeTray(opened, seated)).toEqual([])
  })
  it('a checked tray leaves nothing open', () => {
    const { world, appointmentId, trayId } = claimed()
    expect(judged(checked(world, trayId), appointmentId)).toEqual([])
  })
  it('[tray/recheck] a changed dentist’s kit re-opens the check and says what came and went', () => {
    const { world, appointmentId, trayId } = claimed()
    const own = { ...world.kit.find(({ key }) => key === 'direct-composite') } as World['kit'][number]
    const [first, ...rest] = own.lines
    const kit = { ...own, id: nextId<typeof own.id>(), dentistId: PEOPLE.other.id, lines: rest }
    const moved = {
      ...checked(world, trayId),
      kit: [...world.kit, kit],
    }
    const other = {
      ...moved,
      appointment: moved.appointment.map((each) => ({ ...each, dentistId: PEOPLE.other.id })),
    }
    const after = withTray(other, appointmentId, at('10:05'))
    const [finding] = judgeTray(trayOf(after, appointmentId), { ...sight, policy })
    expect(finding).toMatchObject({ rule: 'tray/recheck', added: [], removed: [first?.name] })
  })
  it('[tray/held] a held tray is a stop until it is claimed and laid out again', () => {
    const { world, appointmentId, trayId } = claimed()
    const held = performed(TRAY_COMMANDS['tray.hold'], {
      world: checked(world, trayId),
      input: { trayId, why: 'dropped' },
      by: ana,
    })
    expect(judged(held, appointmentId)).toEqual(['tray/held'])
    const again = performed(TRAY_COMMANDS['tray.claim'], { world: held, input: { trayId }, by: ben })
    expect(trayOf(again, appointmentId).life.kind).toBe('claimed')
  })
  it('[tray/standby] a sealed dam kit stands by while the work is not known', () => {
    const { world, appointmentId } = book(bareClinic(), { kind: 'undetermined', agreed: null })
    expect(judged(withTray(world, appointmentId), appointmentId)).toEqual(['tray/waiting', 'tray/standby'])
  })
})

describe('what a tray’s commands refuse', () => {
  it('[tray/not-found] a tray that is not there', () => {
    const decision = decideOn(TRAY_COMMANDS['tray.claim'], {
      world: bareClinic(),
      input: { trayId: nextId() },
      by: ana,
    })
    expect(reasonsOf(decision)).toEqual(['tray/not-found'])
  })
  it('[tray/line-not-found] a line that is not on it', () => {
    const { world, trayId } = claimed()
    const decision = decideOn(TRAY_COMMANDS['tray.tick'], {
      world,
      input: { trayId, lineId: nextId() },
      by: ana,
    })
    expect(reasonsOf(decision)).toEqual(['tray/line-not-found'])
  })
  it('[tray/not-now] an event its table does not list', () => {
    const { world, trayId } = morning()
    expect(reasonsOf(decideOn(TRAY_COMMANDS['tray.check'], { world, input: { trayId }, by: ana }))).toEqual([
      'tray/not-now',
    ])
  })
  it('[tray/claimed-by-other] the loser hears who has it and since when', () => {
    const { world, trayId } = claimed()
    const decision = decideOn(TRAY_COMMANDS['tray.claim'], {
      world,
      input: { trayId },
      by: ben,
      now: at('08:41'),
    })
    expect(findingOf(decision)).toMatchObject({
      rule: 'tray/claimed-by-other',
      by: ana.id,
      since: at('08:40'),
    })
  })
  it('[tray/not-owner] only its owner lays it out', () => {
    const { world, trayId } = claimed()
    expect(reasonsOf(decideOn(TRAY_COMMANDS['tray.lay-out'], { world, input: { trayId }, by: ben }))).toEqual(
      ['tray/not-owner'],
    )
  })
  it('[tray/receiver-not-allowed] it is not handed to somebody who may not lay out trays', () => {
    const { world, trayId } = claimed()
    const input = { trayId, to: desk.id }
    expect(reasonsOf(decideOn(TRAY_COMMANDS['tray.hand-over'], { world, input, by: ana }))).toEqual([
      'tray/receiver-not-allowed',
    ])
  })
  it('[tray/not-inspected] a clamp is not ticked unseen', () => {
    const { world, trayId } = claimed()
    const lineId = lineOf(world, trayId, 'clamp/46').id
    const decision = decideOn(TRAY_COMMANDS['tray.tick'], { world, input: { trayId, lineId }, by: ana })
    expect(reasonsOf(decision)).toEqual(['tray/not-inspected'])
  })
  it('[tray/needs-pack] a set is not ticked by hand', () => {
    const { world, trayId } = claimed()
    const lineId = lineOf(world, trayId, 'dam-set').id
    const decision = decideOn(TRAY_COMMANDS['tray.tick'], {
      world,
      input: { trayId, lineId, inspected: true },
      by: ana,
    })
    expect(reasonsOf(decision)).toEqual(['tray/needs-pack'])
  })
  it('[tray/two-packs] a second pack of a kind names both', () => {
    const { world, trayId } = claimed()
    const one = performed(TRAY_COMMANDS['tray.scan'], { world, input: { trayId, code: 'P1' }, by: ana })
    const decision = decideOn(TRAY_COMMANDS['tray.scan'], {
      world: one,
      input: { trayId, code: 'P4' },
      by: ben,
    })
    expect(findingOf(decision)).toMatchObject({ rule: 'tray/two-packs', first: 'P1', second: 'P4' })
  })
  it('[tray/no-line-for-pack] a pack the tray has no line for', () => {
    const { world, trayId } = claimed()
    const more = sterilised(world, ['surgical-set'])
    expect(
      reasonsOf(
        decideOn(TRAY_COMMANDS['tray.scan'], { world: more, input: { trayId, code: 'P5' }, by: ana }),
      ),
    ).toEqual(['tray/no-line-for-pack'])
  })
  it('[tray/pack-unknown] a code that no pack carries', () => {
    const { world, trayId } = claimed()
    expect(
      reasonsOf(decideOn(TRAY_COMMANDS['tray.scan'], { world, input: { trayId, code: 'X' }, by: ana })),
    ).toEqual(['tray/pack-unknown'])
  })
  it('[tray/pack-elsewhere] a pack that is on another tray', () => {
    const first = claimed()
    const one = performed(TRAY_COMMANDS['tray.scan'], {
      world: first.world,
      input: { trayId: first.trayId, code: 'P1' },
      by: ana,
    })
    const booked = book(one, { time: '11:00' })
    const two = withTray(booked.world, booked.appointmentId)
    const trayId = trayOf(two, booked.appointmentId).id
    const both = performed(TRAY_COMMANDS['tray.claim'], { world: two, input: { trayId }, by: ben })
    expect(
      reasonsOf(
        decideOn(TRAY_COMMANDS['tray.scan'], { world: both, input: { trayId, code: 'P1' }, by: ben }),
      ),
    ).toEqual(['tray/pack-elsewhere'])
  })
})

describe('owner and ticks', () => {
  it('a quiet claim may be claimed by another without a reason, and the ticks stay', () => {
    const { world, appointmentId, trayId } = claimed()
    const filled = fill(world, trayId, ['floss'])
    const taken = performed(TRAY_COMMANDS['tray.claim'], {
      world: filled,
      input: { trayId },
      by: ben,
      now: at('09:10'),
    })
    expect(trayOf(taken, appointmentId).life).toMatchObject({
      kind: 'claimed',
      by: ben.id,
      since: at('09:10'),
    })
    expect(trayOf(taken, appointmentId).done).toBe(trayOf(filled, appointmentId).done)
  })
  it('taking over asks for a reason and keeps the ticks', () => {
    const { world, appointmentId, trayId } = claimed()
    const rule = TRAY_COMMANDS['tray.take-over']
    expect(() => rule.input.parse({ trayId, reason: ' ' })).toThrow()
    const filled = fill(world, trayId)
    const taken = performed(rule, { world: filled, input: { trayId, reason: 'called away' }, by: ben })
    expect(trayOf(taken, appointmentId)).toMatchObject({
      life: { by: ben.id },
      done: trayOf(filled, appointmentId).done,
    })
  })
  it('a tick by somebody else is kept as theirs and makes no second owner', () => {
    const { world, appointmentId, trayId } = claimed()
    const lineId = lineOf(world, trayId, 'floss').id
    const ticked = performed(TRAY_COMMANDS['tray.tick'], { world, input: { trayId, lineId }, by: ben })
    expect(lineOf(ticked, trayId, 'floss').tick?.by).toBe(ben.id)
    expect(trayOf(ticked, appointmentId).life).toMatchObject({ by: ana.id })
  })
  it('letting go makes it anybody’s again', () => {
    const { world, appointmentId, trayId } = claimed()
    const free = performed(TRAY_COMMANDS['tray.let-go'], { world, input: { trayId }, by: ana })
    expect(trayOf(free, appointmentId).life).toEqual({ kind: 'needed' })
  })
  it('untick puts the pack back where it stood', () => {
    const { world, trayId } = claimed()
    const one = performed(TRAY_COMMANDS['tray.scan'], { world, input: { trayId, code: 'P1' }, by: ana })
    expect(one.pack[0]?.life).toMatchObject({ kind: 'reserved', trayId })
    const lineId = lineOf(one, trayId, 'dam-set').id
    const back = performed(TRAY_COMMANDS['tray.untick'], { world: one, input: { trayId, lineId }, by: ana })
    expect(back.pack[0]?.life).toEqual({ kind: 'shelf', place: 'bay 1' })
  })
  it('an omission takes the dentist’s own permission and a reason, and then counts', () => {
    const { world, appointmentId, trayId } = claimed()
    expect(TRAY_COMMANDS['tray.omit'].needs).toBe('plan:choose')
    const filled = fill(world, trayId, ['floss'])
    const input = { trayId, lineId: lineOf(world, trayId, 'floss').id, reason: 'contacts too tight' }
    const after = performed(TRAY_COMMANDS['tray.omit'], { world: filled, input, by: dentist })
    expect(trayOf(after, appointmentId).firstMissing).toBeNull()
    expect(lineOf(after, trayId, 'floss').omitted).toMatchObject({
      reason: 'contacts too tight',
      by: dentist.id,
    })
  })
  it('a lot on the shelf does not overrule what a person said a substitute contains', () => {
    const { world, trayId } = claimed()
    const lot = {
      clinicId: CLINIC,
      id: nextId<StockLineId>(),
      item: 'cord',
      name: 'stabilising cord',
      lot: 'C-7',
      expires: null,
      count: 20,
      reorderAt: 5,
      contents: { latex: 'free' as const },
    }
    const stocked = { ...world, stockLine: [...world.stockLine, lot] }
    const lineId = lineOf(stocked, trayId, 'cord').id
    const swapped = performed(TRAY_COMMANDS['tray.swap'], {
      world: stocked,
      input: { trayId, lineId, name: 'stabilising cord, rubber', contents: { latex: 'contains' } },
      by: ana,
    })
    const ticked = performed(TRAY_COMMANDS['tray.tick'], {
      world: swapped,
      input: { trayId, lineId, stockLineId: lot.id, inspected: true },
      by: ana,
    })
    expect(lineOf(ticked, trayId, 'cord')).toMatchObject({
      stockLineId: lot.id,
      contents: { latex: 'contains' },
    })
  })
  it('a swapped line loses its tick, and of latex it knows only what the new label says', () => {
    const { world, appointmentId, trayId } = claimed()
    const ready = checked(world, trayId)
    const input = { trayId, lineId: lineOf(world, trayId, 'cord').id, name: 'floss as cord', contents: {} }
    const after = performed(TRAY_COMMANDS['tray.swap'], { world: ready, input, by: ana })
    expect(lineOf(after, trayId, 'cord')).toMatchObject({
      tick: null,
      contents: { latex: 'unknown' },
      swapped: { instead: 'stabilising cord, made without latex' },
    })
    expect(trayOf(after, appointmentId).life.kind).toBe('laid-out')
    // The plan's next re-draw does not put the old item back.
    const redrawn = withTray(after, appointmentId)
    expect(lineOf(redrawn, trayId, 'cord').name).toBe('floss as cord')
  })
})

describe('opening, counting back, clearing', () => {
  const look = (world: World, more = {}) => ({
    looked: world.pack
      .filter(({ life }) => life.kind === 'reserved')
      .map(({ id }) => ({ packId: id, outside: 'sound', outer: 'changed', inner: 'changed', ...more })),
  })
  const stocked = (world: World, trayId: TrayLine['trayId']): World => {
    const lot = {
      clinicId: CLINIC,
      id: nextId<NonNullable<TrayLine['stockLineId']>>(),
      item: 'floss',
      name: 'waxed floss ligature',
      lot: 'F1',
      expires: null,
      count: 10,
      reorderAt: 8,
      contents: {},
    }
    const lineId = lineOf(world, trayId, 'floss').id
    const more = { ...world, stockLine: [lot] }
    return performed(TRAY_COMMANDS['tray.tick'], {
      world: more,
      input: { trayId, lineId, stockLineId: lot.id },
      by: ana,
    })
  }
  const ready = () => {
    const { world, appointmentId, trayId } = claimed()
    const filled = stocked(fill(world, trayId, ['floss']), trayId)
    const out = laidOut(filled, trayId)
    return {
      world: performed(TRAY_COMMANDS['tray.check'], { world: out, input: { trayId }, by: ana }),
      appointmentId,
      trayId,
    }
  }
  it('[pack/not-looked-at] a tray is not opened with a pack unseen', () => {
    const { world, trayId } = ready()
    const decision = decideOn(TRAY_COMMANDS['tray.open'], { world, input: { trayId, looked: [] }, by: ana })
    expect(new Set(reasonsOf(decision))).toEqual(new Set(['pack/not-looked-at']))
  })
  it('opening takes packs into use and what is used up off the shelf', () => {
    const { world, appointmentId, trayId } = ready()
    const opened = performed(TRAY_COMMANDS['tray.open'], {
      world,
      input: { trayId, ...look(world) },
      by: ana,
    })
    expect(opened.pack.filter(({ life }) => life.kind === 'opened')).toHaveLength(3)
    expect(opened.stockLine[0]?.count).toBe(8)
    expect(trayOf(opened, appointmentId).life.kind).toBe('opened')
  })
  it('a tray sent back and opened again takes from the shelf only what is new', () => {
    const { world, trayId } = ready()
    const opened = performed(TRAY_COMMANDS['tray.open'], {
      world,
      input: { trayId, ...look(world) },
      by: ana,
    })
    const damSet = lineOf(opened, trayId, 'dam-set').id
    const dirty = performed(TRAY_COMMANDS['tray.fault'], {
      world: opened,
      input: { trayId, lineId: damSet, why: 'debris on opening' },
      by: ana,
      now: at('09:10'),
    })
    const again = performed(TRAY_COMMANDS['tray.scan'], {
      world: dirty,
      input: { trayId, code: 'P4' },
      by: ana,
      now: at('09:12'),
    })
    const out = checkedAgain(again, trayId)
    const looked = linesOf(out, trayId).flatMap(({ packId }) =>
      packId === null ? [] : [{ packId, outside: 'sound', outer: 'changed', inner: 'changed' }],
    )
    const second = performed(TRAY_COMMANDS['tray.open'], { world: out, input: { trayId, looked }, by: ana })
    expect(second.stockLine[0]?.count).toBe(opened.stockLine[0]?.count)
  })
  const checkedAgain = (world: World, trayId: TrayLine['trayId']): World =>
    performed(TRAY_COMMANDS['tray.check'], { world: laidOut(world, trayId), input: { trayId }, by: ana })
  it.each([
    ['torn', { outside: 'torn' }, 'torn'],
    ['wet', { outside: 'wet' }, 'wet'],
    ['an unchanged mark', { inner: 'not-changed' }, 'indicator not changed'],
    ['a mark nobody saw', { inner: 'not-seen' }, 'indicator not changed'],
  ])('%s at opening sends the packs back and the tray with them', (_, seen, why) => {
    const { world, appointmentId, trayId } = ready()
    const after = performed(TRAY_COMMANDS['tray.open'], {
      world,
      input: { trayId, ...look(world, seen) },
      by: ana,
    })
    expect(trayOf(after, appointmentId).life.kind).toBe('laid-out')
    expect(lineOf(after, trayId, 'dam-set').fault?.why).toBe(why)
    expect(after.pack.filter(({ life }) => life.kind === 'returned')).toHaveLength(3)
    expect(after.pack.find(({ life }) => life.kind === 'returned')?.seen).toMatchObject(seen)
  })
  it('[tray/count-short] what went to the chair comes back by number, or the tray stays open', () => {
    const { world, appointmentId, trayId } = ready()
    const opened = performed(TRAY_COMMANDS['tray.open'], {
      world,
      input: { trayId, ...look(world) },
      by: ana,
    })
    const counts = linesOf(opened, trayId)
      .filter((line) => line.countedBack)
      .map((line) => ({ lineId: line.id, counted: line.count }))
    const short = counts.map((each, at) => (at === 0 ? { ...each, counted: each.counted - 1 } : each))
    const decision = decideOn(TRAY_COMMANDS['tray.count-back'], {
      world: opened,
      input: { trayId, counts: short },
      by: ana,
    })
    expect(findingOf(decision)).toMatchObject({ rule: 'tray/count-short', wanted: 2, counted: 1 })
    const silent = decideOn(TRAY_COMMANDS['tray.count-back'], {
      world: opened,
      input: { trayId, counts: [] },
      by: ana,
    })
    expect(findingOf(silent)).toMatchObject({ rule: 'tray/count-short', counted: null })
    expect(
      reasonsOf(decideOn(TRAY_COMMANDS['tray.clear'], { world: opened, input: { trayId }, by: ana })),
    ).toEqual(['tray/not-now'])
    const back = performed(TRAY_COMMANDS['tray.count-back'], {
      world: opened,
      input: { trayId, counts },
      by: ana,
    })
    expect(back.pack.filter(({ life }) => life.kind === 'returned')).toHaveLength(3)
    const cleared = performed(TRAY_COMMANDS['tray.clear'], { world: back, input: { trayId }, by: ana })
    expect(trayOf(cleared, appointmentId).life.kind).toBe('cleared')
    expect(cleared.pack.filter(({ life }) => life.kind === 'shelf')).toHaveLength(1)
  })
})

describe('stock', () => {
  const lot = {
    item: 'sheet',
    name: 'non-latex sheet',
    lot: 'A1',
    expires: '2027-01-31',
    count: 40,
    reorderAt: 10,
    contents: {},
  }
  it('a new lot knows of latex only what its label says', () => {
    const world = performed(TRAY_COMMANDS['stock.receive'], { world: bareClinic(), input: lot, by: lead })
    expect(world.stockLine[0]).toMatchObject({ contents: { latex: 'unknown' }, expires: '2027-01-31' })
  })
  it('[stock/reorder] a count at the level is told; lots of one item count together, expired ones not at all', () => {
    const world = performed(TRAY_COMMANDS['stock.receive'], { world: bareClinic(), input: lot, by: lead })
    const [line] = world.stockLine
    const counted = performed(TRAY_COMMANDS['stock.count'], {
      world,
      input: { stockLineId: line?.id, count: 10 },
      by: lead,
    })
    expect(judgeStock(counted.stockLine)).toMatchObject([{ rule: 'stock/reorder', left: 10 }])
    const old = counted.stockLine.map((each) => ({
      ...each,
      lot: 'A0',
      expires: '2026-01-31' as typeof TODAY,
      count: 99,
    }))
    expect(judgeStock([...counted.stockLine, ...old], TODAY)).toMatchObject([{ left: 10 }])
    expect(judgeStock([...counted.stockLine, ...old], '2026-01-31' as typeof TODAY)).toEqual([])
  })
  it('a count is judged with the other lots of its item, and its reorder level can be set with it', () => {
    const one = performed(TRAY_COMMANDS['stock.receive'], { world: bareClinic(), input: lot, by: lead })
    const world = performed(TRAY_COMMANDS['stock.receive'], {
      world: one,
      input: { ...lot, lot: 'A2' },
      by: lead,
    })
    const told = (more: object) => {
      const input = { stockLineId: world.stockLine[0]?.id, ...more }
      const decision = decideOn(TRAY_COMMANDS['stock.count'], { world, input, by: lead })
      return decision.ok ? decision.value.findings : null
    }
    expect(told({ count: 5 })).toEqual([])
    expect(told({ count: 5, reorderAt: 50 })).toMatchObject([{ rule: 'stock/reorder', left: 45 }])
  })
  it('lots for a line: in date before past it, the earliest first, undated last, none used up, none for a swapped line', () => {
    const lotAt = (name: string, expires: string | null, more: object = {}): Facts['stockLine'] => ({
      ...lot,
      clinicId: CLINIC,
      id: nextId(),
      item: 'cartridge',
      lot: name,
      expires: expires as typeof TODAY | null,
      ...more,
    })
    const shelf = [
      lotAt('undated', null),
      lotAt('late', '2027-06-30'),
      lotAt('past', '2026-11-23'),
      lotAt('today', '2026-11-24'),
      lotAt('empty', '2026-12-01', { count: 0 }),
      lotAt('other', '2026-12-01', { item: 'gloves' }),
    ]
    const line = { item: 'cartridge/lidocaine 2 %', packKind: null, swapped: null }
    expect(lotsFor(line, shelf, TODAY).map((each) => each.lot)).toEqual(['today', 'late', 'undated', 'past'])
    const swapped = { instead: 'cartridge', by: ana.id, at: at('12:00') }
    expect(lotsFor({ ...line, swapped }, shelf, TODAY)).toEqual([])
    expect(lotsFor({ ...line, packKind: 'dam-set' }, shelf, TODAY)).toEqual([])
  })
  it('[stock/not-found] a lot that is not in the list', () => {
    const input = { stockLineId: nextId(), count: 1 }
    expect(
      reasonsOf(decideOn(TRAY_COMMANDS['stock.count'], { world: bareClinic(), input, by: lead })),
    ).toEqual(['stock/not-found'])
  })
})

describe('kits', () => {
  const gloves = {
    item: 'gloves',
    name: 'vinyl gloves',
    count: 1,
    class: 'single-use',
    packKind: null,
    contents: {},
    countedBack: false,
  }
  const change = (world: World, dentistId: string | null) =>
    performed(TRAY_COMMANDS['kit.change'], {
      world,
      input: { key: 'examination', dentistId, lines: [gloves] },
      by: dentist,
    })
  it('a kit is changed in its place; of latex it knows what its label says', () => {
    const world = change(bareClinic(), null)
    const kits = world.kit.filter(({ key }) => key === 'examination')
    expect(kits).toMatchObject([
      { dentistId: null, lines: [{ name: 'vinyl gloves', contents: { latex: 'unknown' } }] },
    ])
  })
  it('a dentist’s variant stands beside it and is laid out for that dentist alone', () => {
    const { world, appointmentId } = book(change(bareClinic(), dentist.id))
    const mine = withTray(world, appointmentId)
    expect(lineOf(mine, trayOf(mine, appointmentId).id, 'gloves').name).toBe('vinyl gloves')
    const moved = {
      ...world,
      appointment: world.appointment.map((each) => ({ ...each, dentistId: PEOPLE.other.id })),
    }
    const theirs = withTray(moved, appointmentId)
    expect(lineOf(theirs, trayOf(theirs, appointmentId).id, 'gloves').name).toBe('nitrile gloves')
  })
  it('[kit/not-found] a dentist’s own list can be dropped; the clinic’s cannot, and is laid out from then on', () => {
    const world = change(bareClinic(), dentist.id)
    const own = world.kit.find(({ dentistId }) => dentistId === dentist.id)
    const dropped = performed(TRAY_COMMANDS['kit.drop'], { world, input: { kitId: own?.id }, by: dentist })
    const { world: booked, appointmentId } = book(dropped)
    const mine = withTray(booked, appointmentId)
    expect(lineOf(mine, trayOf(mine, appointmentId).id, 'gloves').name).toBe('nitrile gloves')
    const clinics = world.kit.find(({ dentistId, key }) => dentistId === null && key === 'examination')
    const refused = decideOn(TRAY_COMMANDS['kit.drop'], { world, input: { kitId: clinics?.id }, by: dentist })
    expect(reasonsOf(refused)).toEqual(['kit/not-found'])
  })
})
