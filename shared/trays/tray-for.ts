import type { Instant } from '../base/moment.ts'
import { type Change, joinChanges, nothing, putting, removing } from '../change.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId, MemberId, TrayId, TrayLineId } from '../ids.ts'
import type { Appointment } from '../schedule/appointment.ts'
import type { Pack } from '../sterility/sterility-facts.ts'
import { moveOf } from './lifecycle.ts'
import { kitsFor, linesFor, type TrayNeeds } from './needs.ts'
import { withSummary } from './summary.ts'
import type { Kit, KitKey, KitLine, Tray, TrayDifference, TrayLine } from './tray.ts'

export interface Maker {
  newId: <Id>() => Id
  now: Instant
}

const CALLED_OFF = new Set(['cancelled', 'noshow', 'entered-in-error'])
export const isCalledOff = ({ status }: Pick<Appointment, 'status'>): boolean => CALLED_OFF.has(status)

/**
 * The tray an appointment needs as a change: made where there is none, else the difference only. Ticks, faults
 * and omissions of lines that stay are kept; a checked tray whose lines differ is to be checked again. Where the
 * appointment is called off, an unopened tray gives its packs back; an opened one is left to be counted and
 * cleared by a person.
 */
export function trayFor(world: World, appointmentId: AppointmentId, maker: Maker): Change {
  const appointment = findFact(world, 'appointment', appointmentId)
  if (!appointment) return nothing
  const tray = world.tray.find((each) => each.appointmentId === appointmentId)
  if (isCalledOff(appointment)) return tray ? giveBack(world, tray, maker) : nothing
  if (appointment.status === 'fulfilled') return nothing
  const needs = needsOf(world, appointment)
  return tray ? redraw(world, tray, { needs, maker }) : lay(world, appointment, { needs, maker })
}

/** What of a world decides the lines of one appointment's tray. */
export function needsOf(world: World, appointment: Appointment): TrayNeeds {
  const of = <T extends { appointmentId: AppointmentId }>(facts: T[]): T[] =>
    facts.filter((fact) => fact.appointmentId === appointment.id)
  return {
    work: of(world.work).sort((a, b) => a.position - b.position),
    agreed: of(world.plan).sort((a, b) => b.number - a.number)[0]?.agreed ?? null,
    latex: world.allergyRecord.find((each) => each.patientId === appointment.patientId)?.latex ?? 'not-asked',
    anaesthetic: of(world.anaesthetic)[0] ?? null,
    language: findFact(world, 'patient', appointment.patientId)?.interpreter?.language ?? null,
    kits: kitsOfDentist(world.kit, appointment.dentistId),
  }
}

/** Each kit once: the dentist's own variant before the clinic's. */
function kitsOfDentist(kits: readonly Kit[], dentistId: MemberId | null): Map<KitKey, Kit> {
  const chosen = new Map<KitKey, Kit>()
  for (const kit of kits) {
    const isOwn = kit.dentistId !== null && kit.dentistId === dentistId
    if (isOwn || (kit.dentistId === null && !chosen.has(kit.key))) chosen.set(kit.key, kit)
  }
  return chosen
}

const planNumberOf = (world: World, appointmentId: AppointmentId): number =>
  Math.max(0, ...world.plan.filter((plan) => plan.appointmentId === appointmentId).map((plan) => plan.number))

interface Drawing {
  needs: TrayNeeds
  maker: Maker
}

function lay(world: World, appointment: Appointment, { needs, maker }: Drawing): Change {
  const kits = kitsFor(needs)
  const bare: Tray = {
    clinicId: appointment.clinicId,
    id: maker.newId<TrayId>(),
    appointmentId: appointment.id,
    kits,
    planNumber: planNumberOf(world, appointment.id),
    standby: kits.includes('dam-standby'),
    life: { kind: 'needed' },
    done: 0,
    of: 0,
    firstMissing: null,
    contains: [],
  }
  const lines = linesFor(needs, kits).map((kitLine, position) => makeLine(bare, kitLine, { position, maker }))
  return joinChanges(putting('tray', withSummary(bare, lines)), putting('trayLine', ...lines))
}

const makeLine = (
  tray: Tray,
  kitLine: KitLine,
  { position, maker }: { position: number; maker: Maker },
): TrayLine => ({
  clinicId: tray.clinicId,
  id: maker.newId<TrayLineId>(),
  trayId: tray.id,
  position,
  ...kitLine,
  packId: null,
  stockLineId: null,
  tick: null,
  fault: null,
  swapped: null,
  omitted: null,
})

/** Fixed by use: what is opened or cleared is not laid out again. */
const isFixed = (tray: Tray): boolean => tray.life.kind === 'counted-back' || tray.life.kind === 'cleared'

function redraw(world: World, tray: Tray, { needs, maker }: Drawing): Change {
  if (tray.life.kind === 'counted-back') return nothing
  if (tray.life.kind === 'cleared') return needAgain(world, tray, { needs, maker })
  const kits = kitsFor(needs)
  const lines = world.trayLine.filter((line) => line.trayId === tray.id)
  const wanted = linesFor(needs, kits)
  const diff = diffLines(lines, wanted)
  const planNumber = planNumberOf(world, tray.appointmentId)
  const same = diff.added.length === 0 && diff.removed.length === 0
  const isStanding = diff.kept.every(({ line, as }) => line.count === as.count)
  if (same && isStanding && planNumber === tray.planNumber && `${kits}` === `${tray.kits}`) return nothing
  const added = diff.added.map((kitLine) =>
    makeLine(tray, kitLine, { position: wanted.indexOf(kitLine), maker }),
  )
  const kept = diff.kept.map(({ line, as }) => ({ ...line, count: as.count, position: wanted.indexOf(as) }))
  const next: Tray = {
    ...tray,
    kits,
    planNumber,
    standby: kits.includes('dam-standby'),
    life: same ? keepChecked(tray, planNumber) : reopen(tray, diff),
  }
  return joinChanges(
    putting('tray', withSummary(next, [...kept, ...added])),
    putting('trayLine', ...kept, ...added),
    removing('trayLine', ...diff.removed.map((line) => line.id)),
    freePacks(world, diff.removed, maker.now),
  )
}

/** An appointment that was called off and stands again gets a tray from the start. */
function needAgain(world: World, tray: Tray, drawing: Drawing): Change {
  const appointment = findFact(world, 'appointment', tray.appointmentId)
  if (
    !appointment ||
    world.visit.some((visit) => visit.appointmentId === tray.appointmentId && isSeated(visit))
  )
    return nothing
  const lines = world.trayLine.filter((line) => line.trayId === tray.id)
  const fresh = lay(world, appointment, drawing)
  const newTray = fresh.put.tray?.[0]
  if (!newTray) return nothing
  return joinChanges(
    removing('trayLine', ...lines.map((line) => line.id)),
    putting('tray', { ...newTray, id: tray.id }),
    putting('trayLine', ...(fresh.put.trayLine ?? []).map((line) => ({ ...line, trayId: tray.id }))),
  )
}

const isSeated = ({ stage }: World['visit'][number]): boolean => stage !== 'expected' && stage !== 'arrived'

/** Nothing on it changed: a check stays a check, of the plan as it is numbered now. */
const keepChecked = (tray: Tray, planNumber: number): Tray['life'] =>
  tray.life.kind === 'checked' ? { ...tray.life, planNumber } : tray.life

/** A tray laid out or checked is to be checked again, and says what is different. */
function reopen({ life }: Tray, { added, removed }: LineDifference): Tray['life'] {
  if (life.kind !== 'laid-out' && life.kind !== 'checked') return life
  const standing = life.kind === 'laid-out' ? life.recheck : null
  const recheck: TrayDifference = {
    added: [...(standing?.added ?? []), ...added.map((line) => line.name)],
    removed: [...(standing?.removed ?? []), ...removed.map((line) => line.name)],
  }
  return { kind: 'laid-out', by: life.by, at: life.at, recheck }
}

export interface LineDifference {
  kept: { line: TrayLine; as: KitLine }[]
  added: KitLine[]
  removed: TrayLine[]
}

/**
 * What a tray has against what it needs. A line stays when item and name agree and it still has enough; a set
 * stays as long as its kind of pack does, so that a kit on standby becomes the kit in use without being scanned
 * again. A line that somebody swapped for a substitute stays too.
 */
export function diffLines(lines: readonly TrayLine[], wanted: readonly KitLine[]): LineDifference {
  const left = new Map(lines.map((line) => [line.item, line]))
  const kept: LineDifference['kept'] = []
  const added: KitLine[] = []
  for (const as of wanted) {
    const line = left.get(as.item)
    if (line && isSameLine(line, as)) {
      kept.push({ line: line.packKind === null ? line : { ...line, name: as.name }, as })
      left.delete(as.item)
    } else added.push(as)
  }
  return { kept, added, removed: [...left.values()] }
}

const isSameLine = (line: TrayLine, as: KitLine): boolean => {
  if (line.packKind !== null || as.packKind !== null) return line.packKind === as.packKind
  const swapped = line.swapped !== null
  return (line.name === as.name || swapped) && (line.tick === null || line.count >= as.count)
}

/**
 * Packs of these lines leave the tray: unopened ones go back to where they stood, opened ones are reprocessed and
 * their sets are dirty.
 */
export function freePacks(world: World, lines: readonly TrayLine[], now: Instant): Change {
  const ids = new Set(lines.map((line) => line.packId).filter((id) => id !== null))
  return joinChanges(
    ...world.pack.filter((pack) => ids.has(pack.id)).map((pack) => freePack(world, pack, now)),
  )
}

function freePack(world: World, pack: Pack, now: Instant): Change {
  if (pack.life.kind === 'reserved') {
    return putting('pack', { ...pack, life: { kind: 'shelf', place: pack.life.place } })
  }
  return pack.life.kind === 'opened' ? reprocess(world, pack, now) : nothing
}

/** An opened or doubtful pack never goes back to the shelf. One that came back already says nothing of its set. */
export function reprocess(world: World, pack: Pack, now: Instant): Change {
  if (pack.life.kind === 'returned') return nothing
  const set = findFact(world, 'instrumentSet', pack.setId)
  const returned = putting('pack', { ...pack, life: { kind: 'returned', at: now } })
  const dirty = { kind: 'dirty', siteId: pack.siteId, since: now } as const
  return set ? joinChanges(returned, putting('instrumentSet', { ...set, place: dirty })) : returned
}

/**
 * A tray cleared: its packs leave it. Lines keep the name of a pack that went into a mouth, so that a recall finds
 * for whom it was used; where the patient never came, or the pack stayed closed, they let go of it.
 */
export function clearTray(world: World, tray: Tray, { now, used }: { now: Instant; used: boolean }): Change {
  const lines = world.trayLine.filter((line) => line.trayId === tray.id)
  const bare = lines.map((line) =>
    used && wasOpened(world, line) ? line : { ...line, packId: null, tick: used ? line.tick : null },
  )
  const cleared: Tray = { ...tray, life: { kind: 'cleared', at: now } }
  return joinChanges(
    putting('tray', withSummary(cleared, bare)),
    putting('trayLine', ...bare),
    freePacks(world, lines, now),
  )
}

const wasOpened = (world: World, { packId }: TrayLine): boolean => {
  const kind = findFact(world, 'pack', packId)?.life.kind
  return kind === 'opened' || kind === 'returned'
}

/** A called-off, unopened tray gives back what it held. */
function giveBack(world: World, tray: Tray, { now }: Maker): Change {
  const isGone = isFixed(tray) || tray.life.kind === 'opened' || moveOf(tray.life.kind, 'clear') === null
  return isGone ? nothing : clearTray(world, tray, { now, used: false })
}
