import { type Day, type Instant, parseDay } from '../base/moment.ts'
import type { AppointmentId } from '../ids.ts'
import type { Agent, Anaesthetic, CartridgeReading, Label, PlannedDose } from './anaesthetic.ts'
import type { AnaesthesiaFinding } from './findings.ts'

/** What the labels read at the chair are judged on. */
export interface LabelSight {
  appointmentId: AppointmentId
  anaesthetic: Anaesthetic | null
  /** When the patient last sat down: what was read at another sitting counts no more. Null: not seated. */
  seatedAt: Instant | null
  /** The house's own: agents that are not for blocks here. */
  notForBlocks: readonly Agent[]
}

/** Drug, strength and vasoconstrictor, whatever the size of the cartridge. */
export const solutionKey = ({ agent, milliPercent, vasoconstrictor, ratio }: Label): string =>
  [agent, milliPercent, vasoconstrictor, ratio].join('/')

const isOf =
  (one: Label) =>
  (other: Label): boolean =>
    solutionKey(one) === solutionKey(other)

const readingsOf = ({ anaesthetic, seatedAt }: LabelSight): CartridgeReading[] =>
  seatedAt === null ? [] : (anaesthetic?.readings ?? []).filter(({ read }) => read.at >= seatedAt)

/** The label read last at this sitting, or null. */
export const latestReading = (sight: LabelSight): CartridgeReading | null => readingsOf(sight).at(-1) ?? null

const plannedOf = ({ anaesthetic }: LabelSight): readonly PlannedDose[] => anaesthetic?.planned ?? []
const isPlanned = (label: Label, sight: LabelSight): boolean =>
  plannedOf(sight).length === 0 || plannedOf(sight).some(isOf(label))

/** The label read last against the plan, and the house's own rule where it would go into a block. */
export function judgeLabelRead(sight: LabelSight): AnaesthesiaFinding[] {
  const latest = latestReading(sight)
  if (latest === null || isPlanned(latest, sight)) return []
  const about = `appointment:${sight.appointmentId}`
  const { agent, milliPercent, vasoconstrictor, ratio } = latest
  const label = { agent, milliPercent, vasoconstrictor, ratio }
  const found: AnaesthesiaFinding[] = [
    { rule: 'dose/not-as-planned', level: 'stop', about, label, planned: plannedOf(sight).map(labelOf) },
  ]
  const isForBlock = plannedOf(sight).some(({ technique }) => technique === 'block')
  return isForBlock && sight.notForBlocks.includes(agent)
    ? [...found, { rule: 'dose/not-for-blocks', level: 'note', about, agent }]
    : found
}

export const labelOf = ({ agent, milliPercent, vasoconstrictor, ratio }: Label): Label => ({
  agent,
  milliPercent,
  vasoconstrictor,
  ratio,
})

/** Whether drug, strength and expiry were read by one and answered by another: of this solution, else of any that is planned. */
export function judgeLabelAnswered(sight: LabelSight, given: Label | null = null): AnaesthesiaFinding[] {
  const fitting = readingsOf(sight).filter((each) => (given ? isOf(given)(each) : isPlanned(each, sight)))
  if (fitting.some(({ answered }) => answered !== null)) return []
  const about = `appointment:${sight.appointmentId}`
  return [{ rule: 'cartridge/not-read-back', level: 'ask', about, readBy: fitting.at(-1)?.read.by ?? null }]
}

const MONTH_LAST = /^(\d{4})-(\d{2})$/
const MONTH_FIRST = /^(\d{2})[/. -](\d{4})$/

/**
 * An expiry as it is printed: `2027-03-31`, `2027-03` or `03/2027`; a month counts to its last day. Null for anything
 * else: two digits for a year may be a month or a day as well, and are not guessed.
 */
export function parseExpiry(text: string): Day | null {
  const trimmed = text.trim()
  const [, year, month] = MONTH_LAST.exec(trimmed) ?? []
  if (year !== undefined && month !== undefined) return lastDayOf(year, month)
  const [, first, last] = MONTH_FIRST.exec(trimmed) ?? []
  return first !== undefined && last !== undefined ? lastDayOf(last, first) : parseDay(trimmed)
}

const lastDayOf = (year: string, month: string): Day | null =>
  ['31', '30', '29', '28'].map((day) => parseDay(`${year}-${month}-${day}`)).find((day) => day !== null) ??
  null
