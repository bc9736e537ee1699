import type { Change } from '#shared/change.ts'
import { FACT_NAMES, type FactName } from '#shared/facts.ts'

/** The name of a key in SQL: `appointmentId` is `appointment_id`. */
export const snake = (key: string): string => key.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`)

const asRow = (fact: object): object =>
  Object.fromEntries(Object.entries(fact).map(([key, value]) => [snake(key), value]))

/** A change as it is written: the facts of each kind as one JSON text, and which of them must not have been there. */
export interface Rows {
  put: { name: FactName; text: string; fresh: readonly string[] }[]
  remove: { name: FactName; ids: readonly string[] }[]
}

/** In the order in which it may be written: what is removed from the last kind on, what is put from the first. */
export const rowsOf = (change: Change, before: Change): Rows => ({
  remove: [...FACT_NAMES].reverse().flatMap((name) => {
    const ids = change.remove[name] ?? []
    return ids.length > 0 ? [{ name, ids }] : []
  }),
  put: FACT_NAMES.flatMap((name) => {
    const facts: object[] = change.put[name] ?? []
    if (facts.length === 0) return []
    return [{ name, text: JSON.stringify(facts.map(asRow)), fresh: before.remove[name] ?? [] }]
  }),
})
