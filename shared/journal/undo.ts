import { canonicalJson } from '../base/canonical.ts'
import type { Instant } from '../base/moment.ts'
import type { Change } from '../change.ts'
import type { JournalEntry } from '../command.ts'
import { FACT_NAMES, type FactName, type World } from '../facts.ts'
import type { Word } from '../isolation/isolation-facts.ts'

interface Row {
  id: string
  appointmentId?: string | null
  patientId?: string | null
  trayId?: string | null
}

const rowsOf = (facts: unknown): Row[] => (facts ?? []) as Row[]
const standing = (world: World, name: FactName): Map<string, Row> =>
  new Map(rowsOf(world[name]).map((fact) => [fact.id, fact]))

/** How many facts no longer stand as the entry left them, or hang on one that undoing would take away. */
export function countMoved(world: World, entry: JournalEntry): number {
  let moved = 0
  for (const name of FACT_NAMES) {
    const now = standing(world, name)
    for (const fact of rowsOf(entry.change.put[name])) {
      const stands = now.get(fact.id)
      if (!stands || canonicalJson(stands) !== canonicalJson(fact)) moved += 1
    }
    for (const id of entry.change.remove[name] ?? []) if (now.has(id)) moved += 1
  }
  return moved + countHanging(world, entry.before)
}

/** Facts made since that point at what undoing would remove. */
function countHanging(world: World, before: Change): number {
  const going = new Set(FACT_NAMES.flatMap((name) => before.remove[name] ?? []))
  if (going.size === 0) return 0
  return FACT_NAMES.flatMap((name) => rowsOf(world[name])).filter(
    (fact) =>
      !going.has(fact.id) &&
      [fact.appointmentId, fact.patientId, fact.trayId].some((id) => id != null && going.has(id)),
  ).length
}

/**
 * What puts back what stood before an entry. Plans are left to be made anew under the next number; a word that the
 * entry let lapse stays lapsed, and one that it gave is withdrawn, never forgotten.
 */
export function undoing(world: World, entry: JournalEntry, now: Instant): Change {
  const { put, remove } = entry.before
  const { plan: _plans, word: _words, ...back } = put
  const { plan: newPlans = [], word: newWords = [], ...away } = remove
  const goneAppointments = new Set<string>(remove.appointment ?? [])
  const isGone = (fact: { appointmentId: string }): boolean => goneAppointments.has(fact.appointmentId)
  const plans = world.plan.filter((plan) => newPlans.includes(plan.id) && isGone(plan))
  const words = world.word.filter((word) => newWords.includes(word.id))
  const withdrawn = words.filter((word) => !isGone(word)).map((word) => withdraw(word, now))
  const forgotten = words.filter(isGone)
  return {
    put: withdrawn.length > 0 ? { ...back, word: withdrawn } : back,
    remove: {
      ...away,
      ...(plans.length > 0 ? { plan: plans.map(({ id }) => id) } : {}),
      ...(forgotten.length > 0 ? { word: forgotten.map(({ id }) => id) } : {}),
    },
  }
}

const withdraw = (word: Word, at: Instant): Word =>
  word.life.kind === 'live' ? { ...word, life: { kind: 'lapsed', at, why: 'withdrawn' } } : word
