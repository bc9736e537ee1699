import { z } from 'zod'
import { refuse } from '../base/result.ts'
import { joinChanges, nothing, putting } from '../change.ts'
import { commandRule, type Decision } from '../command.ts'
import { findFact } from '../facts.ts'
import type { PackId, TrayId, TrayLineId } from '../ids.ts'
import { judgeOpening, type Seen } from '../sterility/pack.ts'
import { done, type Laid, move, notNow, onTray, putLines } from './decide.ts'
import { moveOf } from './lifecycle.ts'
import { lessStock, returnPack } from './line-commands.ts'
import type { TrayLine } from './tray.ts'

const trayId = z.uuid().transform((id) => id as TrayId)

export const USE_COMMANDS = {
  /**
   * Every pack is looked at: outside, outer mark, inner mark. One that is torn, wet or not changed is sent to be
   * reprocessed and its tray goes back; else packs are opened and what is used up leaves the shelf.
   */
  'tray.open': commandRule({
    kind: 'tray.open',
    needs: 'tray:use',
    input: z.object({
      trayId,
      looked: z
        .array(
          z.object({
            packId: z.uuid().transform((id) => id as PackId),
            outside: z.enum(['sound', 'torn', 'wet']),
            outer: z.enum(['changed', 'not-changed']),
            inner: z.enum(['changed', 'not-changed', 'not-seen']),
          }),
        )
        .max(50),
    }),
    reach: (input) => ({ trays: [input.trayId], stock: true }),
    decide: (world, input, context) =>
      onTray({ world, context, trayId: input.trayId }, (laid) =>
        openTray(laid, new Map(input.looked.map(({ packId, ...seen }) => [packId, seen]))),
      ),
  }),
  'tray.count-back': commandRule({
    kind: 'tray.count-back',
    needs: 'tray:use',
    input: z.object({
      trayId,
      counts: z
        .array(
          z.object({
            lineId: z.uuid().transform((id) => id as TrayLineId),
            counted: z.number().int().min(0).max(200),
          }),
        )
        .max(200),
    }),
    reach: (input) => ({ trays: [input.trayId] }),
    decide: (world, input, context) =>
      onTray({ world, context, trayId: input.trayId }, (laid) =>
        countBack(laid, new Map(input.counts.map(({ lineId, counted }) => [lineId, counted]))),
      ),
  }),
}

function openTray(laid: Laid, looked: ReadonlyMap<PackId, Seen>): Decision {
  if (moveOf(laid.tray.life.kind, 'open') === null) return notNow(laid, 'open')
  const packed = laid.lines.filter((line) => line.packId !== null && line.omitted === null)
  const judged = packed.map((line) => ({ line, findings: judgeLine(laid, line, looked) }))
  const unseen = judged.flatMap(({ findings }) =>
    findings.filter((finding) => finding.rule === 'pack/not-looked-at'),
  )
  if (unseen.length > 0) return { ok: false, reasons: unseen }
  const failed = judged.filter(({ findings }) => findings.length > 0)
  return failed.length > 0 ? sendBack(laid, looked, failed) : open(laid, looked, packed)
}

function judgeLine({ world }: Laid, line: TrayLine, looked: ReadonlyMap<PackId, Seen>) {
  const pack = findFact(world, 'pack', line.packId)
  if (!pack) return []
  return judgeOpening(pack, looked.get(pack.id) ?? null)
}

type Judged = { line: TrayLine; findings: ReturnType<typeof judgeLine> }

/** What was seen is kept with the pack, and the line says why it no longer counts. */
function sendBack(laid: Laid, looked: ReadonlyMap<PackId, Seen>, failed: readonly Judged[]): Decision {
  const { context, world } = laid
  const faulty = failed.map(
    ({ line, findings }): TrayLine => ({
      ...line,
      packId: null,
      fault: { why: whyOf(findings), at: context.now, by: context.by.id },
    }),
  )
  const life = { kind: 'laid-out', by: context.by.id, at: context.now, recheck: null } as const
  const packs = failed.map(({ line }) =>
    joinChanges(returnPack(world, line, context), seenPack(laid, line, { looked, returned: true })),
  )
  return done(
    joinChanges(putLines(laid, faulty, life), ...packs),
    failed.flatMap(({ findings }) => findings),
  )
}

const whyOf = (findings: Judged['findings']): string => {
  switch (findings[0]?.rule) {
    case 'pack/torn':
      return 'torn'
    case 'pack/wet':
      return 'wet'
    default:
      return 'indicator not changed'
  }
}

interface Look {
  looked: ReadonlyMap<PackId, Seen>
  returned: boolean
}

function seenPack({ world, context, tray }: Laid, line: TrayLine, { looked, returned }: Look) {
  const pack = findFact(world, 'pack', line.packId)
  const seen = pack && looked.get(pack.id)
  if (!pack || !seen) return nothing
  return putting('pack', {
    ...pack,
    seen: { ...seen, by: context.by.id, at: context.now },
    life: returned
      ? { kind: 'returned', at: context.now }
      : { kind: 'opened', appointmentId: tray.appointmentId, at: context.now },
  })
}

function open(laid: Laid, looked: ReadonlyMap<PackId, Seen>, packed: readonly TrayLine[]): Decision {
  const { world, context } = laid
  const opened = move(laid, 'open', { kind: 'opened', by: context.by.id, at: context.now })
  if (!opened.ok) return opened
  const sets = packed.flatMap((line) => {
    const pack = findFact(world, 'pack', line.packId)
    const set = findFact(world, 'instrumentSet', pack?.setId ?? null)
    return pack && set ? [{ ...set, place: { kind: 'in-use' as const, siteId: pack.siteId } }] : []
  })
  const used = laid.lines.filter((line) => line.omitted === null && isNewSince(line, openedBefore(laid)))
  return done(
    joinChanges(
      opened.value.change,
      ...packed.map((line) => seenPack(laid, line, { looked, returned: false })),
      putting('instrumentSet', ...sets),
      takeFromStock(laid, used),
    ),
  )
}

/** When this tray was opened before, should a fault have sent it back since; what was used then is not taken again. */
const openedBefore = ({ world, tray }: Laid): number =>
  Math.max(
    Number.NEGATIVE_INFINITY,
    ...world.pack.flatMap(({ life }) =>
      life.kind === 'opened' && life.appointmentId === tray.appointmentId ? [life.at] : [],
    ),
  )
const isNewSince = ({ tick }: TrayLine, at: number): boolean => tick !== null && tick.at > at

/** Lines from one lot add up before they are taken off it. */
function takeFromStock({ world }: Laid, lines: readonly TrayLine[]) {
  const sums = new Map<string, TrayLine>()
  for (const line of lines) {
    if (line.stockLineId === null) continue
    const sum = sums.get(line.stockLineId)
    sums.set(line.stockLineId, sum ? { ...sum, count: sum.count + line.count } : line)
  }
  return joinChanges(...[...sums.values()].map((line) => lessStock(world, line)))
}

/** What went to the chair comes back from it: each line by its number, none by a glance. */
function countBack(laid: Laid, counts: ReadonlyMap<TrayLineId, number>): Decision {
  const { tray, lines, world, context } = laid
  if (moveOf(tray.life.kind, 'count-back') === null) return notNow(laid, 'count-back')
  const short = lines.find(
    (line) => line.countedBack && line.omitted === null && counts.get(line.id) !== line.count,
  )
  if (short) {
    return refuse({
      rule: 'tray/count-short',
      level: 'stop',
      about: `tray:${tray.id}`,
      line: short.name,
      wanted: short.count,
      counted: counts.get(short.id) ?? null,
    })
  }
  const moved = move(laid, 'count-back', { kind: 'counted-back', by: context.by.id, at: context.now })
  if (!moved.ok) return moved
  return done(joinChanges(moved.value.change, ...lines.map((line) => returnPack(world, line, context))))
}
