import { type Day, parseDay } from './base/moment.ts'
import { type AppointmentId, parseId, type SiteId } from './ids.ts'

/**
 * What a screen holds: never the clinic. A day window carries the board's facts of one site and day, without
 * tray lines; an appointment window carries all that hangs on one appointment, tray lines included, and who
 * else comes to that site that day and how far they are; a sterility window
 * carries the day and what is wrapped, sterilised and wanted at that site; the stock window carries the clinic's
 * lots and kits and the sets on their way between its sites.
 */
export type Window =
  | { kind: 'day'; siteId: SiteId; day: Day }
  | { kind: 'appointment'; appointmentId: AppointmentId }
  | { kind: 'sterility'; siteId: SiteId; day: Day }
  | { kind: 'stock' }

/** A window as one line of text, the key under which it is encoded once for all screens. */
export function makeWindow(window: Window): string {
  switch (window.kind) {
    case 'appointment':
      return `appointment/${window.appointmentId}`
    case 'stock':
      return 'stock'
    default:
      return `${window.kind}/${window.siteId}/${window.day}`
  }
}

export function parseWindow(text: string): Window | null {
  const [kind, id = '', dayText = ''] = text.split('/')
  if (kind === 'stock') return { kind }
  if (kind === 'appointment') {
    const appointmentId = parseId<AppointmentId>(id)
    return appointmentId && { kind, appointmentId }
  }
  const siteId = parseId<SiteId>(id)
  const day = parseDay(dayText)
  return (kind === 'day' || kind === 'sterility') && siteId && day ? { kind, siteId, day } : null
}
