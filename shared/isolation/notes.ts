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
    /\b(block(ed|s)?( up)? nose|nose (is |was )?(block|congest|stuff|runn|stream)|(stuffy|runny|streaming) nose|stuffy|bunged up|(nasal|nasally) (obstruct|congest|block|polyp)|mouth.?breath|(can't|cannot|can not|unable to|(trouble|difficulty|problems?|hard|struggles?) (to |with )?)\s*breath\w*|heavy cold|has a cold|sinusitis|rhinitis|hay ?fever|deviated (nasal )?septum|(large|big|enlarged) adenoids|adenoids (are )?(large|big|enlarged))/i,
  ],
  ['asthma', /\basthma/i],
  [
    'lungs',
    /\b(inhaler|salbutamol|albuterol|copd|emphysema|chronic bronchitis|wheez\w*|short(ness)? of breath|breathless\w*)/i,
  ],
  [
    'panic',
    /\b(panic|claustrophob|suffocat|smother|(hates?|fears?|fear of|afraid of|scared of|(anxious|nervous) (about|with|of|under)|(can't|cannot|can not|did not|didn't|does not|doesn't|unable to|could not|couldn't) (stand|bear|tolerate|cope with))\b[^.;]{0,25}\b(dam|sheet)\b)/i,
  ],
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
const NEGATED = /\b(no|not|nil|denies|denied|never|without|free of)\b[^,.;:]*$/i
/** "Asthma: no", "epilepsy - none": a form's own way to deny what stands before it. */
const DENIED_AFTER = /^\w*\s*[:=–-]\s*(no|none|nil|never)\s*([,.;]|$)/i

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

/** One telling that is not denied is enough, whatever else the note denies. */
function says(written: string, pattern: RegExp): boolean {
  const note = written.replace(/[\u2018\u2019\u00b4`]/g, "'")
  return [...note.matchAll(new RegExp(pattern, 'gi'))].some(
    ({ index, 0: found }) =>
      !NEGATED.test(note.slice(0, index)) && !DENIED_AFTER.test(note.slice(index + found.length)),
  )
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
