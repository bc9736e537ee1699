import { type Appointment, isOver } from './appointment.ts'
import type { ReadContent, Run } from './import-run.ts'
import { listedUnread } from './import-unread.ts'
import { isOlder } from './import-versions.ts'

/** What the file covers and no longer lists. Who is under way has not vanished. */
export function judgeVanished(run: Run, content: ReadContent): void {
  const missing = missingIn(run, content)
  const rowsWithoutId = new Set(
    content.appointments.filter(({ externalId }) => externalId === null).map(({ line }) => line),
  )
  const untaken = [...run.index.problems, ...run.problems].filter(({ line }) => rowsWithoutId.has(line))
  const rows = [...content.unread.rows, ...untaken]
  const listed = listedUnread(missing, { ids: content.unread.ids, rows }, run.patients)
  for (const known of missing) {
    if (listed.has(known.id)) continue
    run.outcomes.push({ line: 0, outcome: 'vanished', appointmentId: known.id })
    run.put.appointment.push({ ...known, vanished: { at: run.context.now } })
    run.findings.push({
      rule: 'appointment/vanished',
      level: 'ask',
      about: `appointment:${known.id}`,
      since: run.context.now,
    })
  }
}

function missingIn(run: Run, { covers, source }: ReadContent): Appointment[] {
  const days = new Set<string>(covers?.days)
  // A name that is not known here is no place: it speaks neither for one nor for those without.
  const places = covers?.operatories?.flatMap((name) => run.places.operatoryOf(name) ?? []) ?? null
  const isCovered = ({ day, operatoryId }: Appointment): boolean =>
    days.has(day) && (places === null || (operatoryId !== null && places.includes(operatoryId)))
  return run.world.appointment.filter(
    (known) =>
      known.external?.sourceId === source.id &&
      !run.index.listed.has(known.id) &&
      known.vanished === null &&
      !isOver(known.status) &&
      !run.underWay.has(known.id) &&
      (isCovered(known) || isGone(run, known)),
  )
}

/** Gone from a series that the file gives whole. */
function isGone({ index, context }: Run, { external, day }: Appointment): boolean {
  const asOf = index.goneAsOf.get(external?.externalId ?? '')
  return asOf !== undefined && external !== null && day >= context.today && !isOlder(asOf, external)
}
