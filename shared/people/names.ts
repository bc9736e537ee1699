import type { NameAlertKind } from './findings.ts'
import type { Patient } from './patient.ts'

/** One patient's place in a day: whom they see, and when. */
export interface Coming {
  patient: Patient
  /** Who treats them; null: not known. */
  seenBy: string | null
  start: number
}

export interface NameAlert {
  kind: NameAlertKind
  other: Patient
}

/** A name as it sounds on the phone: no case, no accents, no hyphens or spaces. */
export const plainName = (name: string): string =>
  PLAIN.test(name)
    ? name.toLowerCase()
    : name
        .normalize('NFD')
        .replace(/\p{Mn}/gu, '')
        .toLowerCase()
        .replace(/ß/g, 'ss')
        .replace(/ø/g, 'o')
        .replace(/ł/g, 'l')
        .replace(/[^\p{L}\p{N}]/gu, '')
const PLAIN = /^[a-zA-Z]*$/

/** Whether one letter more, less or other, or two neighbours swapped, turn one name into the other. */
export function isOneSlipApart(some: string, other: string): boolean {
  const [a, b] = some.length <= other.length ? [some, other] : [other, some]
  if (b.length - a.length > 1) return false
  let from = 0
  while (from < a.length && a[from] === b[from]) from += 1
  if (a.length < b.length) return a.slice(from) === b.slice(from + 1)
  if (a.slice(from + 1) === b.slice(from + 1)) return true
  return a[from] === b[from + 1] && a[from + 1] === b[from] && a.slice(from + 2) === b.slice(from + 2)
}

const SHORTEST_TO_COMPARE = 3
const isLike = (some: string, other: string): boolean =>
  some === other ||
  (Math.min(some.length, other.length) >= SHORTEST_TO_COMPARE && isOneSlipApart(some, other))

/** One coming with its name as it sounds. */
interface Heard extends Coming {
  /** In the order of the day. */
  place: number
  given: string
  family: string
  givenWords: readonly string[]
  familyWords: readonly string[]
}
const hear = (coming: Coming, place: number): Heard => ({
  ...coming,
  place,
  given: plainName(coming.patient.given),
  family: plainName(coming.patient.family),
  givenWords: wordsOf(coming.patient.given),
  familyWords: wordsOf(coming.patient.family),
})
const wordsOf = (name: string): string[] =>
  name
    .split(/[\s-]+/)
    .map(plainName)
    .filter(Boolean)

/** A middle name left out, or one half of a double name. */
function isPartOf(some: readonly string[], other: readonly string[]): boolean {
  const [few, many] = some.length <= other.length ? [some, other] : [other, some]
  return few.length > 0 && few.every((word) => word.length >= SHORTEST_TO_COMPARE && many.includes(word))
}

/** Why these two may be taken for each other, wherever in the day they come; null where nothing suggests it. */
function compare(one: Heard, two: Heard): NameAlertKind | null {
  const sameFamily = one.family === two.family
  if (one.given === two.given && sameFamily) return 'same-name'
  const swapped = one.given === two.family && one.family === two.given
  const isGivenAlike = isLike(one.given, two.given) || isPartOf(one.givenWords, two.givenWords)
  const isFamilyAlike = isLike(one.family, two.family) || isPartOf(one.familyWords, two.familyWords)
  if (swapped || (isGivenAlike && isFamilyAlike)) return 'similar-name'
  const sameColumn = one.seenBy !== null && one.seenBy === two.seenBy
  const { born } = one.patient
  if (born !== null && born === two.patient.born && (sameFamily || sameColumn)) return 'same-birth-day'
  return sameFamily && sameColumn ? 'sibling-next' : null
}

/**
 * Every patient of a day who may be taken for another, both ways. Two strangers born on one day are only mixed up
 * where one person treats both; two of one family name are siblings in a row where one follows the other.
 */
export function nameAlerts(day: readonly Coming[]): Map<string, NameAlert[]> {
  const heard = day.map(hear)
  const alerts = new Map<string, NameAlert[]>()
  const add = (to: Patient, alert: NameAlert): void => {
    const known = alerts.get(to.id) ?? []
    if (!known.some((each) => each.other.id === alert.other.id)) alerts.set(to.id, [...known, alert])
  }
  for (const [one, two] of pairsToCompare(heard)) {
    if (one.patient.id === two.patient.id) continue
    const kind = compare(one, two)
    if (kind === null || (kind === 'sibling-next' && !areInARow(day, one, two))) continue
    add(one.patient, { kind, other: two.patient })
    add(two.patient, { kind, other: one.patient })
  }
  return alerts
}

/** The pairs of a day that share a trait, without which nothing alerts, in the order of the day. */
function pairsToCompare(heard: readonly Heard[]): [Heard, Heard][] {
  const sharing = new Map<string, Heard[]>()
  const pairs = heard.toReversed().map((one) => {
    const groups = traitsOf(one).map((trait) => {
      const group = sharing.get(trait) ?? []
      sharing.set(trait, group)
      return group
    })
    const later = new Set(groups.flat())
    for (const group of groups) group.push(one)
    return [...later].sort((a, b) => a.place - b.place).map((two): [Heard, Heard] => [one, two])
  })
  return pairs.reverse().flat()
}

/**
 * What two patients must share for any alert. One slip leaves a name its first or its last letter, so two names
 * that are alike share one of the two, and so do the words that one name has of another.
 */
function traitsOf({ given, family, givenWords, familyWords, seenBy, patient }: Heard): string[] {
  const familyEnds = familyWords.flatMap(endsOf)
  const alike = givenWords.flatMap(endsOf).flatMap((some) => familyEnds.map((other) => some + other))
  const swapped = given < family ? `${given} ${family}` : `${family} ${given}`
  return [...alike, swapped, `${family}/${seenBy}`, ...(patient.born === null ? [] : [patient.born])]
}
const endsOf = (name: string): string[] => [`${name.at(0)}-`, `-${name.at(-1)}`]

function areInARow(day: readonly Coming[], one: Coming, two: Coming): boolean {
  const [first, last] = one.start <= two.start ? [one, two] : [two, one]
  return !day.some(
    ({ seenBy, start, patient }) =>
      seenBy === one.seenBy &&
      start > first.start &&
      start < last.start &&
      patient.id !== one.patient.id &&
      patient.id !== two.patient.id,
  )
}
