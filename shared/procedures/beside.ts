/**
 * Words that may stand beside a word of work and leave it as it is (COMMON). Any other makes it unsure: it may be the
 * one that says that the work is over, put off, or not meant.
 */
const KNOWN: ReadonlySet<string> = new Set(
  [
    // who, and how they are
    'pt patient px child kid adult nervous anxious phobic new urgent emergency emerg asap priority please pls only',
    // done today
    'start begin commence cont continue finish complete do perform',
    'today now then also first second third final last initial 1st 2nd 3rd visit appt',
    'appointment session stage part step min mins minutes hr hrs hour hours am pm morning afternoon of',
    // where
    'upper lower left right ur ul ll lr maxillary mandibular anterior posterior front back buccal lingual palatal',
    'mesial distal occlusal incisal cervical facial labial interproximal proximal tooth teeth quadrant quad arch side',
    'primary permanent deciduous baby milk molar molars premolar premolars bicuspid incisor incisors canine canines',
    'central centrals lateral laterals wisdom root roots rooted canal canals surface surfaces sixes sevens sides',
    // how, how much
    'small large big deep shallow minor simple routine complex surgical surg difficult long short quick full single',
    'multiple multi double all both several two three four five six direct indirect aesthetic esthetic cosmetic coloured colored white bonded',
    'vital nonvital non-vital necrotic caries carious decay decayed impacted retained mobile infected abscessed abscess',
    'pulpitis irreversible pain painful sore symptomatic',
    // of what
    'composite comp resin gic gi ceramic zirconia zir emax e-max pfm gold metal porcelain acrylic bulk flowable matrix',
    'crown crowns bridge onlay inlay veneer therapy treatment tx bonding ortho replacement arrest fissure pit mta vital strip pin fibre fiber cavity obturation obturate bmp access buildup',
    // with what
    'la ga iv sedation sed nitrous application placement bond rebond n2o dam rubber isolation isolite ohi',
  ].flatMap((words) => words.split(' ')),
)
/** Words that may stand before a work alone: behind it they say something else, as `sealants in place`. */
const KNOWN_BEFORE: ReadonlySet<string> = new Set(
  'redo replace renew repair repeat needs need wants requires due booked place phase'.split(' '),
)
/** What stands behind them is said of something else: `comp 36 with Dr Smith`. */
const LEADING: ReadonlySet<string> = new Set(
  'with w under using by for before prior then and plus n per via due'.split(' '),
)
const PASSED: ReadonlySet<string> = new Set('at in on to as the a an from of'.split(' '))
const BREAK = /[,;.:()\n&+/>→|=]|\s[-–—]\s|[\uE000\uE001]/
/** A tooth, its surfaces, or a length of time. */
const PLACE =
  /^(?:#?\d+(?:x|st|nd|rd|th|mins?|hrs?|['’]?s)?|x\d+|#?[A-T]|[B-E]['’]?s|[UuLl][RrLl][1-8A-Ea-e]*|[MODBLIPFV]{1,5}|[modblv]{1,5}|\d+[A-Za-z]{1,5}|\d+[-–]\d+)$/

const wordsOf = (stretch: string): string[] =>
  stretch
    .split(/\s+/)
    .map((word) => word.replace(/^["'‘“[]+|["'’”\]!?]+$/g, ''))
    .filter((word) => word !== '' && !PLACE.test(word))

const isName = (words: readonly string[]): boolean =>
  words.length > 1 && words.every((word) => /^\p{Lu}[\p{Ll}'’-]+$/u.test(word))

/** Whether a stretch of text before or behind a word of work says something of it that no rule knows. */
export function isUnsureBefore(before: string): boolean {
  const stretch = before.split(BREAK).at(-1) ?? ''
  const said = wordsOf(stretch).filter(
    (word) => ![LEADING, PASSED].some((each) => each.has(word.toLowerCase())),
  )
  const last = said.at(-1)?.toLowerCase().replace(/-$/, '')
  return (
    last !== undefined && !KNOWN.has(last) && !KNOWN_BEFORE.has(last) && !(stretch === before && isName(said))
  )
}

const NOT_NEEDED =
  /\b(?:no|without)\s(?:la|dam|sedation|x-?rays?|local|anaesthe\w*|anesthe\w*|injection)\b|\bnot\s(?:#|tooth\s)?(?:\d|[ul][rl])/i

/** The same behind it. */
export function isUnsureAfter(after: string): boolean {
  const [first] = wordsOf(after.split(BREAK)[0] ?? '').filter((word) => !PASSED.has(word.toLowerCase()))
  const said = first?.toLowerCase().replace(/^-/, '')
  const isBeyondWork = said === 'after' && /\bafter\s[\uE000]/i.test(after)
  return (
    said !== undefined && !KNOWN.has(said) && !LEADING.has(said) && !isBeyondWork && !NOT_NEEDED.test(after)
  )
}
