import { refuse } from '../base/result.ts'
import { type Change, joinChanges, putting } from '../change.ts'
import type { CommandContext, Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { TrayId, TrayLineId } from '../ids.ts'
import { moveOf, type TrayEvent } from './lifecycle.ts'
import { withSummary } from './summary.ts'
import type { Tray, TrayLine } from './tray.ts'

/** A tray with its lines, as a command finds it. */
export interface Laid {
  world: World
  tray: Tray
  lines: TrayLine[]
  context: CommandContext
}

export const done = (change: Change, findings: Finding[] = []): Decision => ({
  ok: true,
  value: { change, findings },
})

/** Decides on a tray by its id; one that is not there is refused. */
export function onTray(
  { world, context, trayId }: { world: World; context: CommandContext; trayId: TrayId },
  decide: (laid: Laid) => Decision,
): Decision {
  const tray = findFact(world, 'tray', trayId)
  if (!tray) return refuse({ rule: 'tray/not-found', level: 'stop', about: `tray:${trayId}`, id: trayId })
  const lines = world.trayLine.filter((line) => line.trayId === trayId)
  return decide({ world, tray, lines, context })
}

/** The same for one of its lines. */
export function onLine(
  laid: Laid,
  lineId: TrayLineId,
  decide: (laid: Laid & { line: TrayLine }) => Decision,
): Decision {
  const line = laid.lines.find((each) => each.id === lineId)
  return line
    ? decide({ ...laid, line })
    : refuse({ rule: 'tray/line-not-found', level: 'stop', about: `tray:${laid.tray.id}`, id: lineId })
}

/** The refusal of an event that its table does not list. */
export const notNow = ({ tray }: Laid, event: TrayEvent | 'tick'): Decision =>
  refuse({ rule: 'tray/not-now', level: 'stop', about: `tray:${tray.id}`, state: tray.life.kind, event })

/** Puts the tray in its next life, if its table lists the event. */
export const move = (laid: Laid, event: TrayEvent, life: Tray['life']): Decision =>
  moveOf(laid.tray.life.kind, event) === life.kind
    ? done(putting('tray', { ...laid.tray, life }))
    : notNow(laid, event)

/** The tray after some of its lines changed: summary kept right, and a claim known to be at work. */
export function putLines(
  laid: Laid,
  changed: readonly TrayLine[],
  life: Tray['life'] = laid.tray.life,
): Change {
  const byId = new Map(changed.map((line) => [line.id, line]))
  const lines = laid.lines.map((line) => byId.get(line.id) ?? line)
  const touched = life.kind === 'claimed' ? { ...life, touched: laid.context.now } : life
  return joinChanges(
    putting('tray', withSummary({ ...laid.tray, life: touched }, lines)),
    putting('trayLine', ...changed),
  )
}

/** Whose tray it is now; null where nobody's. */
export const ownerOf = ({ life }: Tray) =>
  life.kind === 'claimed' || life.kind === 'laid-out' || life.kind === 'checked' ? life.by : null
