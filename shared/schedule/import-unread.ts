import type { World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import type { Appointment } from './appointment.ts'
import { OWN } from './import-matches.ts'
import type { IncomingAppointment, IncomingProblem } from './incoming.ts'

/** What of a file could not be read. It is listed all the same. */
export interface Unread {
  /** The source's own ids, or ours, that such rows name. */
  ids: ReadonlySet<string>
  /** Rows that name none for certain, each with what is wrong in it. */
  rows: readonly Pick<IncomingProblem, 'field' | 'original'>[]
}

/** Rows among the problems that are not among what was read. A cell may have slipped, so a broken row's id proves little. */
export function unreadIn(
  problems: readonly IncomingProblem[],
  read: readonly Pick<IncomingAppointment, 'line'>[],
): Unread {
  const taken = new Set(read.map(({ line }) => line))
  return {
    ids: new Set(problems.flatMap(({ externalId }) => externalId ?? [])),
    rows: problems.filter(
      ({ line, field, externalId }) => !taken.has(line) && (!externalId || field === 'row'),
    ),
  }
}

type Missing = Pick<Appointment, 'id' | 'patientId' | 'startsAt' | 'external'>

/** Which of those that no readable row names are still listed by one that cannot be read. */
export function listedUnread(
  missing: readonly Missing[],
  unread: Unread,
  patients: ReadonlyMap<string, World['patient'][number]>,
): Set<AppointmentId> {
  const listed = new Set(
    missing
      .filter(
        ({ id, external }) => unread.ids.has(external?.externalId ?? '') || unread.ids.has(`${OWN}${id}`),
      )
      .map(({ id }) => id),
  )
  if (unread.rows.length === 0) return listed
  const named = missing.map((each) => ({ each, names: namesOf(patients.get(each.patientId)) }))
  for (const row of unread.rows) {
    const words = wordsOf(row.original)
    const byTime = row.field === 'patient' || row.original.includes(LOST)
    const fits = named.map(({ each, names }) => ({
      id: each.id,
      points: names.filter((name) => name.every((word) => stands(word, words))).length,
      onTime: byTime && row.original.includes(each.startsAt),
    }))
    const most = Math.max(0, ...fits.map(({ points }) => points))
    const best = fits.filter(({ points, onTime }) => points === most && (most > 0 || onTime))
    for (const { id } of best) listed.add(id)
  }
  return listed
}

const LOST = '\uFFFD'
const wordsOf = (text: string): Set<string> =>
  new Set(
    text
      .normalize('NFKC')
      .toLowerCase()
      .split(/[^\p{L}\p{M}\p{N}\uFFFD]+/u)
      .filter((word) => word !== ''),
  )

/** Family and given name, each in its words. */
const namesOf = (patient: World['patient'][number] | undefined): string[][] =>
  [patient?.family, patient?.given]
    .map((name) => [...wordsOf(name ?? '')])
    .filter((words) => words.length > 0)

/** Whether a word stands among others, be it with letters lost. */
const stands = (word: string, words: ReadonlySet<string>): boolean =>
  words.has(word) || [...words].some((other) => other.includes(LOST) && fitsLost(word, other))

function fitsLost(word: string, other: string): boolean {
  const parts = other.split(/\uFFFD+/)
  const [head = '', tail = ''] = [parts[0], parts.at(-1)]
  const lost = word.length - other.replaceAll(LOST, '').length
  return (
    lost > 0 && lost <= 4 && head.length + tail.length > 0 && word.startsWith(head) && word.endsWith(tail)
  )
}
