import type { Seen } from '#app/_live/seen.ts'
import { dayOf } from '#shared/base/moment.ts'
import { dateWords, timeOf } from './time-words.ts'

/** The weight as it was entered, with who and when. */
export function weightWords({ facts, zone, nameOf }: Seen): string {
  const weight = facts.patient?.weight ?? null
  if (weight === null) return 'Not known here.'
  const day = dayOf(weight.at, zone)
  const when = day === facts.appointment.day ? timeOf(weight.at, zone) : dateWords(day)
  return `${weight.entered.value} ${weight.entered.unit}, ${when}, ${nameOf(weight.by)}`
}
