import { isOver } from './appointment.ts'
import type { Run } from './import-run.ts'

/**
 * Cancelled and booked again on the same day by one file: what was begun on the tray goes over to the new visit
 * with its claim and its ticks. Where it was not booked again, the tray is given back, and whoever began it is told.
 * An untouched or an opened tray stays where it is.
 */
export function carryTrays(run: Run): void {
  for (const { id: from, patientId, day } of run.cancelled) {
    const tray = run.world.tray.find(
      ({ appointmentId, life }) => appointmentId === from && BEGUN.has(life.kind),
    )
    const again = run.added.filter(
      (each) => each.patientId === patientId && each.day === day && !isOver(each.status),
    )
    const [to, ...more] = again
    if (tray === undefined) continue
    if (to === undefined || more.length > 0) {
      run.findings.push({ rule: 'import/tray-released', level: 'note', about: `appointment:${from}` })
      continue
    }
    run.put.tray.push({ ...tray, appointmentId: to.id })
    run.findings.push({ rule: 'import/tray-carried', level: 'note', about: `appointment:${to.id}`, from })
  }
}
const BEGUN = new Set(['claimed', 'laid-out', 'checked', 'held'])
