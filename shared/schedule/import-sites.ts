import { clockTimeOf, dayOf } from '../base/moment.ts'
import type { World } from '../facts.ts'
import type { ImportSource } from './import-batch.ts'
import { openPlaces } from './import-places.ts'
import { noSuchTime, rowProblem } from './import-problems.ts'
import type { IncomingAppointment, IncomingProblem } from './incoming.ts'
import { localInstant } from './local-time.ts'

interface AtSites {
  rows: IncomingAppointment[]
  problems: IncomingProblem[]
}

/**
 * Rows by the clock of the site whose operatory they name, where sites stand in several zones: a time that was given by
 * the clock alone is that site's, one with its offset is only shown by it.
 */
export function atSites(world: World, source: ImportSource, rows: readonly IncomingAppointment[]): AtSites {
  if (new Set(world.site.map(({ zone }) => zone)).size < 2) return { rows: [...rows], problems: [] }
  const places = openPlaces(world, source)
  const zones = new Map(world.site.map(({ id, zone }) => [id, zone]))
  const placed: AtSites = { rows: [], problems: [] }
  for (const row of rows) {
    const id = row.operatory === null ? null : places.operatoryOf(row.operatory)
    const operatory = world.operatory.find((each) => each.id === id)
    const zone = (operatory && zones.get(operatory.siteId)) ?? row.zone
    if (zone === row.zone) placed.rows.push(row)
    else if (row.byClock) {
      const at = localInstant(row.day, row.startsAt, zone)
      if (at.ok) placed.rows.push({ ...row, zone, start: at.value })
      else placed.problems.push(rowProblem(row, 'time', noSuchTime(row, zone)))
    } else
      placed.rows.push({ ...row, zone, day: dayOf(row.start, zone), startsAt: clockTimeOf(row.start, zone) })
  }
  return placed
}
