import { isTooth, type Tooth } from '../teeth/tooth.ts'
import type { BreathingReason } from './findings.ts'

/** What free notes say that bears on isolation. Words decide; what is not recognised changes nothing. */
export interface NoteSigns {
  breathing: BreathingReason | null
  gag: boolean
  epilepsy: boolean
  partlyErupted: boolean
  brokenDown: boolean
  crowded: boolean
  wire: boolean
  /** Teeth said to stand inside or outside the arch; null: said of no tooth by number. */
  malposed: { tooth: Tooth | null; towards: 'lingual' | 'facial' | 'unsaid' }[]
  /** Pairs of teeth whose contact floss does not pass. */
  closedContacts: [Tooth, Tooth][]
}

const BREATHING: [BreathingReason, RegExp][] = [
  [
    'nose',
    /\b(block(ed)? nose|nose (is )?block|stuffy|nasal (obstruct|congest|block|polyp)|mouth.?breath|can(no|')?t breathe|cannot breathe|heavy cold|has a cold|sinusitis)/i,
  ],
  ['asthma', /\basthma/i],
  ['panic', /\b(panic|claustrophob)/i],
]
const GAG = /\b(gag|retch)/i
const EPILEPSY = /\b(epilep|seizure)/i
const PARTLY = /\b(part(ly|ially)[ -]?erupt|half[ -]?erupt|operculum|newly erupted)/i
const BROKEN = /\b(broken[ -]?down|crown gone|gone below (the )?gum|root stump)/i
const CROWDED = /\bcrowd/i
const WIRE = /\b(archwire|fixed wire|braces|brackets?)\b/i
/** A surface word alone names a cavity, not a place: only with one of these does it say where a tooth stands. */
const MALPOSED =
  /\b(rotated|malposed|displaced|tipped|tilted|instanding|outstanding|out of (the )?(line|arch)|(lingual|palatal|buccal|labial)ly (placed|standing|positioned))\b/i
const LINGUAL = /\b(lingual|palatal|instanding)/i
const FACIAL = /\b(buccal|labial|outstanding)/i
const CONTACT = /\b([1-8][1-8])\s*[/–-]\s*([1-8][1-8])\b[^.;]*\b(does not|doesn't|won't|will not|not) pass/i
const TWO_DIGITS = /\b([1-8][1-8])\b/g
const NEGATED = /\b(no|not|denies|never|without)\b[^,.;]*$/i

/** Reads notes by rules. A sign with a plain "no" before it in the same clause is not taken. */
export function readNotes(notes: readonly string[]): NoteSigns {
  const has = (pattern: RegExp): boolean => notes.some((note) => says(note, pattern))
  return {
    breathing: BREATHING.find(([, pattern]) => has(pattern))?.[0] ?? null,
    gag: has(GAG),
    epilepsy: has(EPILEPSY),
    partlyErupted: has(PARTLY),
    brokenDown: has(BROKEN),
    crowded: has(CROWDED),
    wire: has(WIRE),
    malposed: notes.flatMap(readMalposed),
    closedContacts: notes.flatMap(readContact),
  }
}

function says(note: string, pattern: RegExp): boolean {
  const found = pattern.exec(note)
  return found !== null && !NEGATED.test(note.slice(0, found.index))
}

function readMalposed(note: string): NoteSigns['malposed'] {
  if (!says(note, MALPOSED)) return []
  const towards = LINGUAL.test(note) ? 'lingual' : FACIAL.test(note) ? 'facial' : 'unsaid'
  const teeth = [...note.matchAll(TWO_DIGITS)].map(([text]) => text).filter(isTooth)
  return teeth.length === 0 ? [{ tooth: null, towards }] : teeth.map((tooth) => ({ tooth, towards }))
}

function readContact(note: string): [Tooth, Tooth][] {
  const [, a = '', b = ''] = CONTACT.exec(note) ?? []
  return isTooth(a) && isTooth(b) ? [[a, b]] : []
}
