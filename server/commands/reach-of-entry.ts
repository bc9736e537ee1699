import type { Change } from '#shared/change.ts'
import type { JournalEntry, Reach } from '#shared/command.ts'
import { FACT_NAMES, type FactName, type World } from '#shared/facts.ts'
import type { AppointmentId, IncidentId, OperatoryId, PackId, PatientId, TrayId } from '#shared/ids.ts'

interface Row {
  id: string
  appointmentId?: string | null
  patientId?: string | null
  trayId?: string | null
  operatoryId?: string | null
}

/** All that an entry touched, so that undoing it can be decided. */
export function reachOfEntry(own: Reach, { change, before }: JournalEntry): Reach {
  const appointments = new Set<string>()
  const patients = new Set<string>()
  const trays = new Set<string>()
  const operatories = new Set<string>()
  const ids = { appointment: appointments, patient: patients, tray: trays } as Partial<
    Record<string, Set<string>>
  >
  const packs = new Set<string>()
  const incidents = new Set<string>()
  let stock = false
  for (const name of FACT_NAMES) {
    const rows = [...(change.put[name] ?? []), ...(before.put[name] ?? [])] as Row[]
    for (const row of rows) {
      ids[name]?.add(row.id)
      if (row.appointmentId) appointments.add(row.appointmentId)
      if (row.patientId) patients.add(row.patientId)
      if (row.trayId) trays.add(row.trayId)
      if (row.operatoryId) operatories.add(row.operatoryId)
      if (name === 'pack') packs.add(row.id)
      if (name === 'incident') incidents.add(row.id)
      if (name === 'stockLine') stock = true
    }
  }
  return {
    ...own,
    appointments: [...appointments] as AppointmentId[],
    patients: [...patients] as PatientId[],
    trays: [...trays] as TrayId[],
    operatories: [...operatories] as OperatoryId[],
    packs: [...packs] as PackId[],
    incidents: [...incidents] as IncidentId[],
    ...(stock ? { stock: true as const } : {}),
  }
}

/** The ids of every fact an entry put or removed. */
export function idsOfEntry({ change }: JournalEntry): Partial<Record<FactName, string[]>> {
  const ids: Partial<Record<FactName, string[]>> = {}
  for (const name of FACT_NAMES) {
    const touched = [...(change.put[name] ?? []).map((fact) => fact.id), ...(change.remove[name] ?? [])]
    if (touched.length > 0) ids[name] = touched
  }
  return ids
}

/** The appointments a change touches, also through their trays. */
export function appointmentsOf(world: World, change: Change): string[] {
  const trays = new Map<string, string>()
  for (const tray of [...world.tray, ...(change.put.tray ?? [])]) trays.set(tray.id, tray.appointmentId)
  const ids = new Set<string>()
  for (const name of FACT_NAMES) {
    const gone = new Set<string>(change.remove[name] ?? [])
    const rows = [...(change.put[name] ?? []), ...world[name].filter((fact) => gone.has(fact.id))] as Row[]
    for (const row of rows) {
      if (name === 'appointment') ids.add(row.id)
      if (row.appointmentId) ids.add(row.appointmentId)
      const ofTray = row.trayId ? trays.get(row.trayId) : undefined
      if (ofTray) ids.add(ofTray)
    }
  }
  return [...ids]
}
