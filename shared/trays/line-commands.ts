import { z } from 'zod'
import { SUBSTANCES, type Substance } from '../allergies/substance.ts'
import { must } from '../base/assert.ts'
import { refuse } from '../base/result.ts'
import { type Change, joinChanges, nothing, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { StockLineId, TrayId, TrayLineId } from '../ids.ts'
import { judgePack, sightOf } from '../sterility/pack.ts'
import type { Pack } from '../sterility/sterility-facts.ts'
import { done, type Laid, notNow, onLine, onTray, putLines } from './decide.ts'
import { moveOf } from './lifecycle.ts'
import { isPastDate } from './stock.ts'
import type { Contents, StockLine, Tray, TrayLine } from './tray.ts'
import { freePacks, reprocess } from './tray-for.ts'

/** Why a line that is there does not count. */
export const LINE_FAULTS = [
  'expired',
  'debris on opening',
  'damaged',
  'rusted or cracked',
  'incomplete',
  'torn',
  'wet',
  'indicator not changed',
] as const
export type LineFault = (typeof LINE_FAULTS)[number]

const trayId = z.uuid().transform((id) => id as TrayId)
const lineId = z.uuid().transform((id) => id as TrayLineId)
const reason = z.string().trim().min(1).max(200)
const contents = z
  .partialRecord(z.enum(SUBSTANCES), z.enum(['free', 'contains', 'unknown']))
  .transform((known) => known as Contents)
const reach = (input: { trayId: TrayId }) => ({ trays: [input.trayId] })

type LaidLine = Laid & { line: TrayLine }
const onLineOf = (
  {
    world,
    context,
    input,
  }: { world: World; context: CommandContext; input: { trayId: TrayId; lineId: TrayLineId } },
  decide: (laid: LaidLine) => Decision,
): Decision => onTray({ world, context, trayId: input.trayId }, (laid) => onLine(laid, input.lineId, decide))

/** Lines are ticked from the claim until the tray is opened; anyone may, each tick keeps who made it. */
const TICKABLE: readonly Tray['life']['kind'][] = ['claimed', 'laid-out', 'opened']

interface Tick {
  inspected: boolean
  stockLineId: StockLineId | null
}

function tick(laid: LaidLine, { inspected, stockLineId }: Tick): Decision {
  const { line, tray, context, world } = laid
  if (!TICKABLE.includes(tray.life.kind)) return notNow(laid, 'tick')
  const about = `tray:${tray.id}`
  if (line.packKind !== null && line.packId === null) {
    return refuse({ rule: 'tray/needs-pack', level: 'stop', about, line: line.name })
  }
  if (line.item.startsWith('clamp') && !inspected) {
    return refuse({ rule: 'tray/not-inspected', level: 'stop', about, line: line.name })
  }
  const stock = findFact(world, 'stockLine', stockLineId)
  if (stockLineId !== null && !stock) {
    return refuse({ rule: 'stock/not-found', level: 'stop', about, id: stockLineId })
  }
  const ticked: TrayLine = {
    ...line,
    ...fromStock(stock, laid),
    tick: { by: context.by.id, at: context.now, inspected },
  }
  return done(putLines(laid, [ticked]))
}

/** The lot in hand says what it contains and whether it is past its date. */
function fromStock(stock: StockLine | undefined, { line, context }: LaidLine): Partial<TrayLine> {
  if (!stock) return { fault: null }
  const expired = isPastDate(stock, context.today)
  return {
    stockLineId: stock.id,
    contents: contentsOf(line, stock),
    fault: expired ? { why: 'expired', at: context.now, by: context.by.id } : null,
  }
}

/** A lot says more than the kit's list; but of a line that a person swapped, what they said it contains stands. */
function contentsOf({ contents, swapped }: TrayLine, stock: StockLine): TrayLine['contents'] {
  if (!swapped) return { ...contents, ...stock.contents }
  const told = Object.entries(contents).filter(([, known]) => known !== 'unknown')
  return { ...contents, ...stock.contents, ...Object.fromEntries(told) }
}

function untick(laid: LaidLine): Decision {
  if (!TICKABLE.includes(laid.tray.life.kind)) return notNow(laid, 'tick')
  const bare: TrayLine = { ...laid.line, tick: null, fault: null, packId: null, stockLineId: null }
  return done(joinChanges(putLines(laid, [bare]), freePacks(laid.world, [laid.line], laid.context.now)))
}

/** A faulty line sends the tray back: its pack goes to be reprocessed, its material off the shelf. */
function fault(laid: LaidLine, why: LineFault): Decision {
  const { tray, line, context, world } = laid
  const next = moveOf(tray.life.kind, 'fault')
  if (next === null) return notNow(laid, 'fault')
  const faulty: TrayLine = { ...line, packId: null, fault: { why, at: context.now, by: context.by.id } }
  return done(
    joinChanges(
      putLines(laid, [faulty], backTo(next, laid)),
      returnPack(world, line, context),
      lessStock(world, line),
    ),
  )
}

const backTo = (next: Tray['life']['kind'], { tray, context }: Laid): Tray['life'] =>
  next === 'laid-out' && tray.life.kind !== 'laid-out'
    ? { kind: 'laid-out', by: context.by.id, at: context.now, recheck: null }
    : tray.life

/** The pack of a line goes to be reprocessed. */
export function returnPack(world: World, line: TrayLine, { now }: Pick<CommandContext, 'now'>): Change {
  const pack = findFact(world, 'pack', line.packId)
  return pack ? reprocess(world, pack, now) : nothing
}

/** Takes a line's material off its lot; a shelf never goes below nothing. */
export function lessStock(world: World, line: TrayLine): Change {
  const stock = findFact(world, 'stockLine', line.stockLineId)
  return stock ? putting('stockLine', { ...stock, count: Math.max(0, stock.count - line.count) }) : nothing
}

/** A scanned pack answers the line of its kind. A second pack of a kind is refused with both codes. */
function scan(laid: Laid, code: string): Decision {
  const { world, tray } = laid
  const about = `tray:${tray.id}`
  if (!TICKABLE.includes(tray.life.kind)) return notNow(laid, 'tick')
  const pack = world.pack.find((each) => each.code === code)
  if (!pack) return refuse({ rule: 'tray/pack-unknown', level: 'stop', about, code })
  const ofKind = laid.lines.filter((line) => line.packKind === pack.kind && line.omitted === null)
  const free = ofKind.find((line) => line.packId === null)
  if (ofKind.length === 0) {
    return refuse({ rule: 'tray/no-line-for-pack', level: 'stop', about, code, kind: pack.kind })
  }
  if (pack.life.kind === 'reserved') return refuseReserved(laid, pack)
  if (!free)
    return refuse({
      rule: 'tray/two-packs',
      level: 'stop',
      about,
      first: firstCode(laid, ofKind),
      second: code,
    })
  return reserve(laid, free, pack)
}

const firstCode = ({ world }: Laid, lines: readonly TrayLine[]): string =>
  findFact(world, 'pack', lines[0]?.packId ?? null)?.code ?? ''

function refuseReserved({ tray, lines }: Laid, pack: Pack): Decision {
  const about = `tray:${tray.id}`
  return lines.some((line) => line.packId === pack.id)
    ? done(nothing)
    : refuse({ rule: 'tray/pack-elsewhere', level: 'stop', about, code: pack.code })
}

function reserve(laid: Laid, line: TrayLine, pack: Pack): Decision {
  const { world, context, tray } = laid
  const about = `pack:${pack.id}`
  const appointment = findFact(world, 'appointment', tray.appointmentId)
  if (appointment && pack.life.kind === 'shelf' && pack.siteId !== appointment.siteId) {
    const site = findFact(world, 'site', pack.siteId)?.name ?? 'another site'
    return refuse({ rule: 'pack/other-site', level: 'stop', about, code: pack.code, site })
  }
  const sight = must(sightOf(world, pack, context.now), 'sites are always read')
  const findings = judgePack(pack, sight)
  const standing = findings.filter((finding) => finding.level !== 'note')
  if (standing.length > 0) return { ok: false, reasons: standing }
  const place = pack.life.kind === 'shelf' ? pack.life.place : ''
  const filled: TrayLine = {
    ...line,
    packId: pack.id,
    fault: null,
    tick: { by: context.by.id, at: context.now, inspected: false },
  }
  return done(
    joinChanges(
      putLines(laid, [filled]),
      putting('pack', { ...pack, life: { kind: 'reserved', trayId: tray.id, at: context.now, place } }),
    ),
    findings,
  )
}

export const LINE_COMMANDS = {
  'tray.tick': commandRule({
    kind: 'tray.tick',
    needs: 'tray:use',
    input: z.object({
      trayId,
      lineId,
      /** For a clamp: no rust, crack or bend, floss through both holes. */
      inspected: z.boolean().default(false),
      stockLineId: z
        .uuid()
        .transform((id) => id as StockLineId)
        .nullable()
        .default(null),
    }),
    reach: (input) => ({ trays: [input.trayId], stock: true }),
    decide: (world, input, context) => onLineOf({ world, context, input }, (laid) => tick(laid, input)),
  }),
  'tray.untick': commandRule({
    kind: 'tray.untick',
    needs: 'tray:use',
    input: z.object({ trayId, lineId }),
    reach,
    decide: (world, input, context) => onLineOf({ world, context, input }, untick),
  }),
  'tray.fault': commandRule({
    kind: 'tray.fault',
    needs: 'tray:use',
    input: z.object({ trayId, lineId, why: z.enum(LINE_FAULTS) }),
    reach: (input) => ({ trays: [input.trayId], stock: true }),
    decide: (world, input, context) => onLineOf({ world, context, input }, (laid) => fault(laid, input.why)),
  }),
  /** The dentist's own reason: what is left out is said, not hidden. */
  'tray.omit': commandRule({
    kind: 'tray.omit',
    needs: 'plan:choose',
    input: z.object({ trayId, lineId, reason }),
    reach,
    decide: (world, input, context) =>
      onLineOf({ world, context, input }, (laid) => {
        const omitted = { reason: input.reason, by: context.by.id, at: context.now }
        return isInUse(laid) ? done(putLines(laid, [{ ...laid.line, omitted }])) : notNow(laid, 'tick')
      }),
  }),
  /** Another item instead, with what its label says; it has to be ticked again. */
  'tray.swap': commandRule({
    kind: 'tray.swap',
    needs: 'tray:use',
    input: z.object({ trayId, lineId, name: z.string().trim().min(1).max(80), contents }),
    reach,
    decide: (world, input, context) => onLineOf({ world, context, input }, (laid) => swap(laid, input)),
  }),
  /** What the label of the very item says, read by a person. */
  'tray.read-label': commandRule({
    kind: 'tray.read-label',
    needs: 'tray:use',
    input: z.object({ trayId, lineId, contents }),
    reach,
    decide: (world, input, context) =>
      onLineOf({ world, context, input }, (laid) =>
        done(putLines(laid, [{ ...laid.line, contents: { ...laid.line.contents, ...input.contents } }])),
      ),
  }),
  'tray.scan': commandRule({
    kind: 'tray.scan',
    needs: 'tray:use',
    input: z.object({ trayId, code: z.string().trim().toUpperCase().min(1).max(40) }),
    reach: (input) => ({ trays: [input.trayId], allPacks: true as const }),
    decide: (world, input, context) =>
      onTray({ world, context, trayId: input.trayId }, (laid) => scan(laid, input.code)),
  }),
}

/** Not yet counted back: what is said of a line still bears on what is done. */
const isInUse = ({ tray }: Laid): boolean => tray.life.kind !== 'counted-back' && tray.life.kind !== 'cleared'

const SWAPPABLE: readonly Tray['life']['kind'][] = ['needed', 'claimed', 'laid-out', 'checked']

function swap(
  laid: LaidLine,
  other: { name: string; contents: Partial<Record<Substance, Contents[string]>> },
): Decision {
  const { line, tray, context, world } = laid
  if (!SWAPPABLE.includes(tray.life.kind)) return notNow(laid, 'redraw')
  const swapped: TrayLine = {
    ...line,
    name: other.name,
    // What the label does not say of latex is not known: the old item's word does not carry over.
    contents: { latex: 'unknown', ...other.contents },
    packId: null,
    stockLineId: null,
    tick: null,
    fault: null,
    swapped: { instead: line.swapped?.instead ?? line.name, by: context.by.id, at: context.now },
  }
  const life: Tray['life'] =
    tray.life.kind === 'checked'
      ? {
          kind: 'laid-out',
          by: tray.life.by,
          at: tray.life.at,
          recheck: { added: [other.name], removed: [line.name] },
        }
      : tray.life
  return done(joinChanges(putLines(laid, [swapped], life), freePacks(world, [line], context.now)))
}
