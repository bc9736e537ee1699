import { digestOf } from '../base/digest.ts'
import type { Finding } from '../finding.ts'
import type { Patient } from '../people/patient.ts'
import type { Work } from '../procedures/work.ts'
import type { Appointment } from '../schedule/appointment.ts'
import type { MouthChart } from '../teeth/mouth-chart.ts'
import type { TrayLine } from '../trays/tray.ts'
import type { Shown } from './findings.ts'

/*
 * What a screen showed, as a short key: whoever answers there sends it along, so that no answer stands for what
 * nobody read. It is the same key as long as the same is to be read.
 */

export const shownWork = (work: readonly Work[]): string =>
  digestOf(
    work.map(({ id, text, kind, teeth, surfaces }) => ({ id, text, kind, teeth, surfaces })).sort(byId),
  )

export const shownHistory = ({ id, history }: Patient): string =>
  digestOf({ id, history: history.map(({ text }) => text) })

export const shownMouth = (chart: MouthChart | null): string =>
  digestOf(
    Object.fromEntries(Object.entries(chart?.teeth ?? {}).map(([tooth, entry]) => [tooth, entry.conditions])),
  )

export const shownTray = (lines: readonly TrayLine[]): string =>
  digestOf(
    lines
      .map(({ id, item, count, packId, stockLineId, omitted }) => ({
        id,
        item,
        count,
        packId,
        stockLineId,
        omitted: omitted?.reason ?? null,
      }))
      .sort(byId),
  )

export const shownPlace = ({ day, startsAt, minutes, operatoryId, dentistId }: Appointment): string =>
  digestOf({ day, startsAt, minutes, operatoryId, dentistId })

const byId = (one: { id: string }, other: { id: string }): number => (one.id < other.id ? -1 : 1)

/** Nothing where the answer says nothing of what it saw: it came from no screen. */
export const judgeShown = (
  saw: string | null,
  { stands, what, about }: { stands: string; what: Shown; about: string },
): Finding[] => (saw === null || saw === stands ? [] : [{ rule: 'shown/moved', level: 'stop', about, what }])
