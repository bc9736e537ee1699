import { isDeepStrictEqual } from 'node:util'
import { type Change, isEmpty } from '#shared/change.ts'
import { FACT_NAMES, type FactName, type Facts, type World } from '#shared/facts.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import type { TrayLine } from '#shared/trays/tray.ts'
import type { Window } from '#shared/window.ts'

interface Row {
  id: string
  appointmentId?: string | null
  patientId?: string | null
  trayId?: string | null
  operatoryId?: string | null
  packId?: string | null
  stockLineId?: string | null
  loadId?: string | null
  setId?: string | null
  siteId?: string
  day?: string
  life?: { kind: string }
}
const rowsOf = (facts: unknown): Row[] => (facts ?? []) as Row[]

/** What a window holds that others hang on. */
interface Anchors {
  window: Followed
  /** Of an appointment's window its own alone; `company` is everyone's of that day. */
  appointments: ReadonlySet<string>
  patients: ReadonlySet<string>
  operatories: ReadonlySet<string>
  trays: ReadonlySet<string>
  packs: ReadonlySet<string>
  company: { appointments: ReadonlySet<string>; patients: ReadonlySet<string> }
  siteDays: ReadonlySet<string>
}

const idsOf = (facts: readonly { id: string }[]): Set<string> => new Set(facts.map((fact) => fact.id))

type Belongs = (fact: Row, anchors: Anchors) => boolean
const always: Belongs = () => true
const toAppointment: Belongs = (fact, { appointments }) => appointments.has(fact.appointmentId ?? '')
const toPatient: Belongs = (fact, { patients }) => patients.has(fact.patientId ?? '')
const toOperatory: Belongs = (fact, { operatories }) => operatories.has(fact.operatoryId ?? '')

const HANGING: Partial<Record<FactName, Belongs>> = {
  clinic: always,
  site: always,
  policySet: always,
  member: always,
  appointment: (fact, { appointments }) => appointments.has(fact.id),
  patient: (fact, { patients }) => patients.has(fact.id),
  mouthChart: toPatient,
  allergyRecord: toPatient,
  work: toAppointment,
  isolationChoice: toAppointment,
  plan: toAppointment,
  word: toAppointment,
  asPlaced: toAppointment,
  visit: toAppointment,
  anaesthetic: toAppointment,
  dose: toAppointment,
  numbness: toAppointment,
  tray: toAppointment,
  occupancy: toOperatory,
}

type Followed = Exclude<Window, { kind: 'sterility' | 'stock' }>

/** The facts of each kind of window that is followed: the same that reading it gives, which a law holds. */
const BELONGS: Record<Followed['kind'], Partial<Record<FactName, Belongs>>> = {
  day: {
    ...HANGING,
    operatory: (fact, { operatories }) => operatories.has(fact.id),
    roster: (fact, { window }) =>
      window.kind === 'day' && fact.siteId === window.siteId && fact.day === window.day,
    incident: (fact, anchors) =>
      fact.appointmentId
        ? toAppointment(fact, anchors)
        : toOperatory(fact, anchors) && fact.life?.kind === 'open',
  },
  appointment: {
    ...HANGING,
    guide: toAppointment,
    appointment: (fact, { company }) => company.appointments.has(fact.id),
    patient: (fact, { company }) => company.patients.has(fact.id),
    visit: (fact, { company }) => company.appointments.has(fact.appointmentId ?? ''),
    dose: (fact, { company, patients }) =>
      company.appointments.has(fact.appointmentId ?? '') && patients.has(fact.patientId ?? ''),
    roster: (fact, { siteDays }) => siteDays.has(siteDayOf(fact)),
    operatory: (fact, { operatories }) => operatories.has(fact.id),
    incident: toAppointment,
    kit: always,
    trayLine: (fact, { trays }) => trays.has(fact.trayId ?? ''),
    pack: (fact, { packs }) => packs.has(fact.id),
  },
}

/** Kinds behind a pack or a line, whose coming and going is read, not followed. */
const BEHIND: readonly FactName[] = ['pack', 'load', 'indicator', 'instrumentSet', 'stockLine']

const IN_STOCK: readonly FactName[] = [
  'clinic',
  'site',
  'policySet',
  'member',
  'kit',
  'stockLine',
  'instrumentSet',
  'pack',
]
const isTouched = ({ put, remove }: Change, name: FactName): boolean =>
  (put[name]?.length ?? 0) + (remove[name]?.length ?? 0) > 0
const NOTHING: Change = { put: {}, remove: {} }

const siteDayOf = ({ siteId, day }: { siteId?: string; day?: string }): string => `${siteId}/${day}`

/** The appointments that a window is about: a whole day's, or the one. */
const ownOf = (window: Followed, held: World): Appointment[] =>
  window.kind === 'day' ? held.appointment : held.appointment.filter(({ id }) => id === window.appointmentId)

/** Whether an appointment is in a day's window; in an appointment's, whether it is of the same site and day. */
function isIn(window: Followed, held: World, appointment: Appointment): boolean {
  if (window.kind === 'day') return siteDayOf(appointment) === siteDayOf(window)
  if (appointment.id === window.appointmentId) return true
  return ownOf(window, held).some((own) => siteDayOf(own) === siteDayOf(appointment))
}

/** In an appointment's window: its own going to another day brings other company. */
const changesDay = (window: Followed, stood: Appointment, appointment: Appointment): boolean =>
  window.kind === 'appointment' &&
  appointment.id === window.appointmentId &&
  siteDayOf(stood) !== siteDayOf(appointment)

/**
 * The part of a change that a window shows: facts put that belong, facts that leave removed. Where something enters
 * that the change does not carry whole, the answer is `reread`, and the difference to a fresh reading is sent.
 */
export function cutChange(window: Window, held: World, change: Change): Change | 'reread' {
  // Few look at it, and what comes into sight through a pack's load or set is more than a change carries.
  if (window.kind === 'sterility') return isEmpty(change) ? change : 'reread'
  if (window.kind === 'stock') return IN_STOCK.some((name) => isTouched(change, name)) ? 'reread' : NOTHING
  if (moves(window, held, change)) return 'reread'
  const anchors = anchorsOf(window, held, change)
  const put: Record<string, Row[]> = {}
  const remove: Record<string, string[]> = {}
  for (const name of FACT_NAMES) {
    const belongs = BELONGS[window.kind][name]
    if (!belongs) continue
    const holds = idsOf(held[name])
    const rows = rowsOf(change.put[name])
    const staying = rows.filter((fact) => belongs(fact, anchors))
    const leaving = rows.filter((fact) => !belongs(fact, anchors) && holds.has(fact.id)).map(({ id }) => id)
    const gone = [...leaving, ...(change.remove[name] ?? []).filter((id) => holds.has(id))]
    if (staying.length > 0) put[name] = staying
    if (gone.length > 0) remove[name] = gone
  }
  return { put: put as Change['put'], remove }
}

/** Whether an appointment or operatory enters or leaves, points at another patient or room, or a pack comes or goes. */
function moves(window: Followed, held: World, change: Change): boolean {
  const appointments = new Map<string, Appointment>(held.appointment.map((fact) => [fact.id, fact]))
  const moved = (change.put.appointment ?? []).some((fact) => {
    const stood = appointments.get(fact.id)
    if (isIn(window, held, fact) !== (stood !== undefined)) return true
    return (
      stood !== undefined &&
      (stood.patientId !== fact.patientId ||
        stood.operatoryId !== fact.operatoryId ||
        changesDay(window, stood, fact))
    )
  })
  if (moved || (change.remove.appointment ?? []).some((id) => appointments.has(id))) return true
  if (window.kind === 'day') {
    const rooms = idsOf(held.operatory)
    const roomMoved = (change.put.operatory ?? []).some(
      (room) => (room.siteId === window.siteId) !== rooms.has(room.id),
    )
    return roomMoved || (change.remove.operatory ?? []).some((id) => rooms.has(id))
  }
  return movesBehind(held, change)
}

/** In an appointment's window: anything that changes which packs, loads, sets or stock lie behind its tray. */
function movesBehind(held: World, change: Change): boolean {
  const lines = new Map<string, TrayLine>(held.trayLine.map((line) => [line.id, line]))
  const trays = new Set([...held.tray, ...(change.put.tray ?? [])].map((tray) => tray.id))
  const lineMoved = (change.put.trayLine ?? []).some((line) => {
    if (!trays.has(line.trayId)) return false
    const stood = lines.get(line.id)
    return (stood?.packId ?? null) !== line.packId || (stood?.stockLineId ?? null) !== line.stockLineId
  })
  if (lineMoved || (change.remove.trayLine ?? []).some((id) => lines.has(id))) return true
  return BEHIND.some((name) => {
    if (name === 'pack') return packsMoved(held, change)
    if (name === 'indicator') {
      const loads = idsOf(held.load)
      return (change.put.indicator ?? []).some((fact) => fact.loadId !== null && loads.has(fact.loadId))
    }
    const holds = idsOf(held[name])
    return rowsOf(change.put[name]).some((fact) => holds.has(fact.id))
  })
}

function packsMoved(held: World, change: Change): boolean {
  const packs = new Map(held.pack.map((pack) => [pack.id, pack]))
  return (change.put.pack ?? []).some((pack) => {
    const stood = packs.get(pack.id)
    return stood !== undefined && (stood.loadId !== pack.loadId || stood.setId !== pack.setId)
  })
}

function anchorsOf(window: Followed, held: World, change: Change): Anchors {
  const own = ownOf(window, held)
  const appointments = idsOf(own)
  const newTrays = (change.put.tray ?? []).filter((tray) => appointments.has(tray.appointmentId))
  return {
    window,
    appointments,
    patients: patientsOf(own),
    company: { appointments: idsOf(held.appointment), patients: patientsOf(held.appointment) },
    siteDays: new Set(own.map(siteDayOf)),
    operatories: idsOf(held.operatory),
    trays: new Set([...held.tray, ...newTrays].map((tray) => tray.id)),
    packs: idsOf(held.pack),
  }
}

const patientsOf = (appointments: readonly Appointment[]): Set<string> =>
  new Set(appointments.map((fact) => fact.patientId))

/** What turns one world into another. */
export function differenceOf(from: World, to: World): Change {
  const change: Change = { put: {}, remove: {} }
  for (const name of FACT_NAMES) addDifference(change, { name, from: from[name], to: to[name] })
  return change
}

function addDifference<Name extends FactName>(
  change: Change,
  { name, from, to }: { name: Name; from: Facts[Name][]; to: Facts[Name][] },
): void {
  const stood = new Map<string, Facts[Name]>(from.map((fact) => [fact.id, fact]))
  const put = to.filter((fact) => !isDeepStrictEqual(stood.get(fact.id), fact))
  for (const fact of to) stood.delete(fact.id)
  const puts: { [N in FactName]?: Facts[N][] } = change.put
  if (put.length > 0) puts[name] = put as (typeof puts)[Name]
  if (stood.size > 0) change.remove[name] = [...stood.keys()]
}
