import { type Instant, parseDay, type Zone } from '#shared/base/moment.ts'
import { findFact, type World } from '#shared/facts.ts'
import type { AppointmentId, PackId } from '#shared/ids.ts'
import {
  judgeRecall,
  planRecall,
  type Recall,
  type RecalledPack,
  type RecallFrom,
} from '#shared/sterility/recall.ts'
import { say } from '#shared/words/en.ts'
import { badUsage, type VerbAnswer } from './answer.ts'
import { makeIso } from './board.ts'

/** Where a recall starts, as a person names it: an id, or what is printed on the thing. */
export interface RecallRequest {
  load?: string
  steriliser?: string
  pack?: string
  indicator?: string
  /** Alone, or with a steriliser: its loads of that day. */
  day?: string
}

/** Finds what is named; a sentence where it cannot be told. */
export function findRecallFrom(world: World, request: RecallRequest): RecallFrom | string {
  const { load, steriliser, pack, indicator, day } = request
  const starts = [load, pack, indicator, steriliser ?? day].filter((each) => each !== undefined)
  if (starts.length !== 1) {
    return 'A recall starts from one thing, so nothing was looked up. Name one of --load, --pack, --indicator, --steriliser, --day; a day may be named with a steriliser.'
  }
  if (day !== undefined) return findDay(world, { day, steriliser })
  if (load !== undefined) {
    const found = only(world.load, ({ id, number }) => [id, number], load)
    return typeof found === 'string' ? found : { kind: 'load', loadId: found.id }
  }
  if (indicator !== undefined) {
    const found = only(world.indicator, ({ id }) => [id], indicator)
    return typeof found === 'string' ? found : { kind: 'indicator', indicatorId: found.id }
  }
  if (steriliser !== undefined) {
    const found = findSteriliser(world, steriliser)
    return typeof found === 'string'
      ? found
      : { kind: 'steriliser', steriliserId: found.id, since: null, until: null }
  }
  const found = only(world.pack, ({ id, code }) => [id, code], pack ?? '')
  return typeof found === 'string' ? found : { kind: 'pack', packId: found.id }
}

const findSteriliser = (world: World, wanted: string) =>
  only(world.steriliser, ({ id, name }) => [id, name], wanted)

function findDay(
  world: World,
  { day: text, steriliser }: { day: string; steriliser: string | undefined },
): RecallFrom | string {
  const day = parseDay(text)
  if (day === null) return `${text} is no day, so nothing was looked up. Write it as YYYY-MM-DD.`
  if (steriliser === undefined) return { kind: 'day', day, steriliserId: null }
  const found = findSteriliser(world, steriliser)
  return typeof found === 'string' ? found : { kind: 'day', day, steriliserId: found.id }
}

function only<T>(facts: readonly T[], names: (fact: T) => string[], wanted: string): T | string {
  const found = facts.filter((fact) => names(fact).includes(wanted))
  const [one] = found
  if (one === undefined) return `Nothing here is called ${wanted}, so nothing was recalled. Check the label.`
  return found.length === 1
    ? one
    : `${found.length} are called ${wanted}, and recalling the wrong one would miss packs. Give its id.`
}

/** What `recall` prints: exactly the packs of the suspect loads, and where they went. It changes nothing. */
export function recallAnswer(
  world: World,
  request: RecallRequest,
  { zone, revision, now }: { zone: Zone; revision: number; now: Instant },
): VerbAnswer {
  const from = findRecallFrom(world, request)
  if (typeof from === 'string') return badUsage(from)
  return { body: { revision, ...printRecall(world, planRecall(world, from, now), zone) }, exit: 0 }
}

export const printRecall = (world: World, recall: Recall, zone: Zone) => ({
  loads: recall.loads.map((id) => ({ id, number: findFact(world, 'load', id)?.number ?? null })),
  packs: recall.packs.map((pack) => ({ code: pack.code, ...printWhere(world, pack, zone) })),
  trays: recall.trays.map(({ appointmentId, replacements }) => ({
    ...printAppointment(world, appointmentId, zone),
    replacements: codesOf(world, replacements),
  })),
  patients: recall.patients.map(({ appointmentId, patientId, at, codes }) => ({
    patient: patientId,
    name: nameOf(world, patientId),
    ...printAppointment(world, appointmentId, zone),
    used: makeIso(at, zone),
    packs: codes,
  })),
  cannotNarrow: codesOf(world, recall.cannotNarrow),
  findings: judgeRecall(recall).map((finding) => ({ ...finding, text: say(finding) })),
})

function printWhere(world: World, { where }: RecalledPack, zone: Zone): object {
  switch (where.kind) {
    case 'shelf':
      return { where: 'shelf', place: where.place }
    case 'tray':
      return { where: 'tray' }
    case 'transit':
      return { where: 'on its way', to: findFact(world, 'site', where.to)?.name ?? where.to }
    case 'used':
      return { where: 'used', at: makeIso(where.at, zone) }
    case 'gone':
      return { where: 'no longer on the shelf' }
  }
}

function printAppointment(world: World, id: AppointmentId, zone: Zone): object {
  const appointment = findFact(world, 'appointment', id)
  const start: Instant | null = appointment?.start ?? null
  return {
    appointment: id,
    operatory: findFact(world, 'operatory', appointment?.operatoryId ?? null)?.name ?? null,
    start: start === null ? null : makeIso(start, zone),
  }
}

const nameOf = (world: World, id: string): string | null => {
  const patient = findFact(world, 'patient', id)
  return patient ? `${patient.given} ${patient.family}` : null
}
const codesOf = (world: World, ids: readonly PackId[]): string[] =>
  ids.flatMap((id) => findFact(world, 'pack', id)?.code ?? [])
