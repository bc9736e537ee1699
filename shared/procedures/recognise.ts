import type { Notation } from '../teeth/notation-names.ts'
import { type Mention, parseTeeth } from '../teeth/parse-teeth.ts'
import { isSurfaces, readSurfaces } from '../teeth/pieces.ts'
import { SURFACES, type Surface, type Tooth } from '../teeth/tooth.ts'
import type { OwnWord, ProcedureKind, ToothMention } from './work.ts'

/** A line of a day list as far as it can be told; what cannot stays undetermined. */
export interface RecognisedWork {
  kind: ProcedureKind | 'undetermined'
  teeth: Tooth[]
  surfaces: Partial<Record<Tooth, Surface[]>>
  /** What in the words stays open: each asks until someone clears it. */
  mentions: ToothMention[]
}

/** Words that name a kind of work, the more particular first; a later row counts only where no earlier one does. */
const NAMED: readonly [ProcedureKind, RegExp][] = [
  ['retreatment', /\b(?:re-?rct|re-?treat\w*|re-?tx|re-?root[\s-]?canal|endo(?:dontic)? re-?t\w+)\b/i],
  ['regenerative', /\b(?:regenerat\w*|revascular\w*|apexification|apexogenesis)\b/i],
  ['apical-surgery', /\b(?:apic(?:o|ectomy|al surgery)\w*|root[\s-]end (?:surgery|resection))\b/i],
  ['pulpotomy', /\bpulpotom(?:y|ies)\b/i],
  ['pulpectomy', /\bpulpectom(?:y|ies)\b/i],
  ['pulp-cap', /\b(?:(?:direct|indirect)\s)?pulp[\s-]?cap\w*\b|\b[di]pc\b/i],
  ['pulp-extirpation', /\b(?:pulp(?:al)?\s)?extirpat\w*\b|\bexti?rp\b/i],
  [
    'root-canal-dressing',
    /\b(?:re-?dress\w*|(?:rct|root canal|canal|endo)\s(?:re)?dressing|dressing change|inter-?appointment dressing)\b/i,
  ],
  ['internal-bleaching', /\b(?:internal|non-?vital|walking)\s(?:tooth\s)?(?:bleach\w*|whitening)\b/i],
  [
    'in-office-bleaching',
    /\b(?:in-?office|in-?surgery|chair-?side|power)\s(?:tooth\s)?(?:bleach\w*|whitening)\b|\bwhitening\b|\bbleach(?:ing)?\b/i,
  ],
  [
    'post-and-core',
    /\b(?:post|fib(?:re|er) post)\s?(?:and|&|\+|\/|n)?\s?core\b|\bpost\s(?:crown|placement|space)\b|\bcore build[\s-]?up\b/i,
  ],
  [
    'root-canal',
    /\b(?:rct|rctx|root[\s-]?canal(?:\streatment)?|root filling|endo(?:dontics?|dontic treatment)?|nsrct)\b/i,
  ],
  ['steel-crown-no-preparation', /\b(?:hall(?:\s(?:technique|crown))?)\b/i],
  ['steel-crown', /\b(?:ssc|stainless[\s-]steel crowns?|pre-?formed metal crowns?|pmc|steel crowns?)\b/i],
  ['glass-ionomer-sealant', /\b(?:gic?|glass[\s-]?ionomer)\s(?:fissure\s)?sealants?\b/i],
  ['resin-sealant', /\b(?:fissure\s)?sealants?\b|\bfissure\ssealing\b|\bfs\b/i],
  ['resin-infiltration', /\b(?:resin\sinfiltrat\w*|infiltration of (?:white spots?|lesions?))\b/i],
  ['microabrasion', /\bmicro-?abrasion\b/i],
  ['silver-fluoride', /\b(?:sdf|silver(?: diamine)? fluoride)\b/i],
  ['fluoride-varnish', /\b(?:fluoride varnish|fl varnish|fv|varnish)\b/i],
  [
    'band-or-space-maintainer',
    /\b(?:space[\s-]maintainers?|band (?:placement|fit|cementation)|molar bands?|fit bands?)\b/i,
  ],
  ['bracket-bonding', /\b(?:bracket\w*|bond[\s-]?up|brace(?:s)? (?:on|fit|bonding)|debond and rebond)\b/i],
  [
    'amalgam-removal',
    /\b(?:amalgam removal|remov\w+ (?:of )?(?:the )?(?:old )?amalgams?|replace (?:the )?(?:old )?amalgams?|amalgam replacement)\b/i,
  ],
  ['amalgam-placement', /\bamalgams?\b|\bamal?g\b/i],
  ['direct-gold', /\b(?:direct gold|gold foil)\b/i],
  ['recementation', /\bre-?cement\w*\b|\bre-?(?:fix|bond) (?:of )?(?:the )?crown\b/i],
  ['crown-removal', /\b(?:crown removal|remov\w+ (?:of )?(?:the )?(?:old )?(?:crown|bridge))\b/i],
  [
    'conventional-cementation',
    /\b(?:(?:cement|fit)\w* (?:of )?(?:the )?(?:pfm|metal|gold|zirconia) (?:crown|bridge)|conventional(?:ly)? cement\w*)\b/i,
  ],
  [
    'crown-preparation',
    /\b(?:(?:crown|onlay|inlay|bridge|veneer)s? prep(?:aration)?s?|prep(?:are|aration)? (?:for )?(?:a )?(?:crown|onlay|inlay|bridge))\b/i,
  ],
  ['veneer', /\bveneers?\b/i],
  [
    'bonded-indirect',
    /\b(?:bond(?:ed|ing)?\s(?:of\s)?(?:the\s)?(?:inlay|onlay|crown|ceramic|e-?max)|(?:inlay|onlay)s?\s(?:fit|bond\w*|cement\w*|seat\w*)|(?:fit|bond|seat)\s(?:an?\s)?(?:inlay|onlay))\b/i,
  ],
  ['temporary-filling', /\b(?:temp(?:orary)?\s(?:filling|dressing|restoration)|irm)\b/i],
  [
    'deep-caries',
    /\b(?:deep (?:caries|decay)(?: removal)?|stepwise (?:excavation|caries)|caries excavation)\b/i,
  ],
  [
    'cervical-composite',
    /\b(?:(?:cervical|class\s?(?:v|5))\s?(?:comp(?:osite)?s?|fillings?|restorations?|abrasion|lesion)?|comp(?:osite)?\s(?:cervical|class\s?(?:v|5))|abfraction|nccl)\b/i,
  ],
  ['glass-ionomer', /\b(?:gic?|rmgi[c]?|glass[\s-]?ionomer)\b(?:\s(?:filling|restoration))?/i],
  [
    'direct-composite',
    /\b(?:comp(?:osite)?s?|white fillings?|resin fillings?|composite bonding|fillings?|fill|strip crowns?|restore|resto(?:ration)?s?|class\s?(?:i{1,3}|iv|[1-4]))\b/i,
  ],
  ['extraction', /\b(?:ext(?:raction|ract)?s?|xla|exo|wisdom (?:tooth|teeth) removal)\b/i],
  ['implant', /\bimplants?\b/i],
  ['denture', /\b(?:dentures?|f\/f|p\/p|f\/-|-\/f|try-?in|reline)\b/i],
  ['impression', /\b(?:impressions?|imps?|intra-?oral scan|scan for)\b/i],
  [
    'scaling',
    /\b(?:scal(?:e|ing)|root surface debridement|rsd|srp|root planing|debridement|perio (?:treatment|therapy))\b/i,
  ],
  [
    'cleaning',
    /\b(?:clean(?:ing)?|prophy(?:laxis)?|(?<!\uE000\s(?:#?\d{1,2}\s)?)polish(?:ing)?(?!\s(?:of\s|the\s|old\s|new\s)*(?:#?\d{1,2}\s)?\uE000)|hygiene|hyg|airflow)\b/i,
  ],
  [
    'exam',
    /\b(?:check[\s-]?up|exam(?:ination)?|recall|consult(?:ation)?s?|review|assessment|follow[\s-]?up|f\/u|new patient|np|bitewings?)\b/i,
  ],
]

/** Kinds that say what a visit begins with or is about, and give way to any work named beside them. */
const GIVES_WAY: ReadonlySet<ProcedureKind> = new Set([
  'exam',
  'cleaning',
  'scaling',
  'impression',
  'fluoride-varnish',
  'temporary-filling',
])
/** Words that tell of a complaint or of doubt: what is to be done is for the dentist to say. */
const OPEN =
  /\b(?:broken|fractur\w*|chipped|pain(?:ful)?|ache|toothache|swelling|swollen|emergency|trauma|lost (?:a )?(?:filling|crown)|\?|query|possible|poss|maybe|or)\b|\?/i
/** Words before it that make it something else than today's work: refused, past, talked of, or the complaint itself. */
const NOT_TODAY = new RegExp(
  String.raw`\b(?:${[
    ...[
      'no',
      'not',
      'without',
      'declined',
      'declines',
      'refused',
      'cancel(?:led)?',
      'avoid',
      'never',
      "don'?t",
    ],
    ...['after', 'following', 'previous', 'prior', 'post(?:[\\s-]op)?', 'had', 'existing', 'recent', 'since'],
    ...['lost', 'broken', 'fractured', 'chipped', 'cracked', 'loose', 'failed', 'failing', 'leaking', 'high'],
    ...['rough', 'sharp', 'sensitive', 'pain(?:ful)?(?: from| in| at| around)?', 'home', 'take-?home'],
    ...[
      '(?:re-?)?check',
      'review(?:ing)?',
      'discuss(?:ion)?',
      'consult(?:ation)?s?',
      'assess(?:ment)?',
      'monitor',
      'watch',
    ],
    ...[
      'quote',
      'estimate',
      'options?',
      'plan(?:ning)?',
      'refer(?:red|ral)?',
      'letter',
      'photos?',
      'x-?rays?',
    ],
  ].join('|')})(?:\s(?:for|of|about|re:?|to))?(?:\s(?:the|a|an|any|old|new|her|his|today'?s))?\s$`,
  'i',
)
/** What is done to a piece that is there already; a denture is a piece that is always worked on. */
const MENDED =
  /\b(?:adjust\w*|polish\w*|smooth\w*|trim\w*|eas(?:e|ing)|re-?shap\w*|recontour\w*|reduc\w*)\s?(?:[/&+]|and)?\s?(?:(?:adjust\w*|polish\w*|smooth\w*|trim\w*)\s)?(?:of\s)?(?:the\s|a\s|high\s|new\s|old\s|her\s|his\s)*(?:tooth\s)?(?:#?\d{1,2}\s)?$/i
/** A complaint, a refusal, or talk of it: with its tooth between, perhaps. */
const COMPLAINT_AFTER =
  /^\s(?:has\s|is\s|was\s)?(?:lost|fell|fallen|came|broken|broke|chipped|fractured|loose|missing|cracked|leaking|hurts?|hurting|sore|painful|high|declined|refused|trays?|kit)\b/i
const TALK_AFTER =
  /^(?:\s(?:#|tooth\s)?(?:\d{1,2}|[UL][RL][1-8A-E]))?\s?[-–:]?\s?(?:consult\w*|review|check(?![\s-]?up)|discuss\w*|assessment|follow[\s-]?up|f\/u|estimate|quote|options|referral|planning|post-?op|adjust\w*|polish\w*|(?:done|completed|finished|was done|elsewhere))\b/i

/**
 * Reads a booking's own words. A kind is named only where the words name exactly one; never guessed. Words that the
 * clinic has taught count before those that everybody uses.
 */
export function recogniseWork(
  text: string,
  notation: Notation,
  own: readonly OwnWord[] = [],
): RecognisedWork {
  const read = parseTeeth(text, notation)
  const teeth = read.mentions.flatMap((mention) => (mention.result === 'tooth' ? mention.teeth : []))
  const distinct = [...new Set(teeth)]
  const open = read.mentions.filter((mention) => mention.result === 'ask')
  return {
    kind: recogniseKind(text, own),
    teeth: distinct,
    surfaces: recogniseSurfaces(text, read.mentions),
    mentions: [
      ...open.map((mention) => mentionOf(mention, notation)),
      ...read.unread.map((words) => ({ ...mentionOf({ text: words, teeth: [] }, notation), unread: true })),
    ],
  }
}

const mentionOf = (mention: Pick<Mention, 'text' | 'teeth'>, notation: Notation): ToothMention => ({
  source: 'booking',
  text: mention.text,
  notation,
  candidates: mention.teeth,
  mirrored: false,
})

function recogniseKind(text: string, own: readonly OwnWord[]): ProcedureKind | 'undetermined' {
  const named = findNamed(text, own)
  const telling = named.filter((kind) => !GIVES_WAY.has(kind))
  const [only, ...more] = telling.length > 0 ? telling : named.slice(0, 1)
  if (only === undefined || more.length > 0 || (OPEN.test(text) && !isSettled(text))) return 'undetermined'
  return only
}

/** Stands where a kind was named: `polish filling` is no cleaning. */
const NAMED_BEFORE = '\uE000'

/** Kinds named, each stretch of words counted once: `root canal dressing` is not a root canal as well. */
function findNamed(text: string, own: readonly OwnWord[]): ProcedureKind[] {
  let left = text
  const kinds: ProcedureKind[] = []
  for (const [kind, pattern] of [...patternsOf(own), ...NAMED]) {
    const found = pattern.exec(left)
    if (!found) continue
    if (isToday(kind, left, found)) kinds.push(kind)
    left = left.replace(new RegExp(pattern, `g${pattern.flags}`), (words) =>
      NAMED_BEFORE.repeat(words.length),
    )
  }
  return dropImplied(kinds)
}

/** The clinic's own words as patterns, the longer first: whole words, however they are spaced or pointed. */
const patternsOf = (own: readonly OwnWord[]): [ProcedureKind, RegExp][] =>
  [...own]
    .sort((one, other) => other.words.length - one.words.length)
    .map(({ words, kind }) => [kind, patternOf(words)])

export const patternOf = (words: string): RegExp => {
  const escaped = words.split(' ').map((word) => word.replace(/[.*+?^${}()|[\]\\/-]/g, '\\$&'))
  return new RegExp(`(?<![\\p{L}\\p{N}])${escaped.join('[\\s.,;:/+-]+')}(?![\\p{L}\\p{N}])`, 'iu')
}

/** Whether words alone could tell the kind, and none of these does. A doubt or two kinds are for the dentist. */
export const isUnread = (text: string, own: readonly OwnWord[] = []): boolean =>
  findNamed(text, own).length === 0

function isToday(kind: ProcedureKind, text: string, found: RegExpExecArray): boolean {
  const [before, after] = [text.slice(0, found.index), text.slice(found.index + found[0].length)]
  if (NOT_TODAY.test(before) || COMPLAINT_AFTER.test(after)) return false
  return GIVES_WAY.has(kind) || kind === 'denture' || !(MENDED.test(before) || TALK_AFTER.test(after))
}

/** Kinds that another one includes or names more closely: a pulpotomy with its filling stays a pulpotomy. */
const IMPLIED: Partial<Record<ProcedureKind, readonly ProcedureKind[]>> = {
  retreatment: ['root-canal'],
  regenerative: ['root-canal'],
  'root-canal-dressing': ['root-canal'],
  'pulp-extirpation': ['root-canal'],
  'post-and-core': ['direct-composite'],
  'amalgam-removal': ['direct-composite', 'glass-ionomer'],
  'deep-caries': ['direct-composite', 'glass-ionomer'],
  'pulp-cap': ['direct-composite', 'glass-ionomer'],
  'cervical-composite': ['direct-composite', 'glass-ionomer'],
  'glass-ionomer': ['direct-composite'],
  'amalgam-placement': ['direct-composite'],
  'direct-gold': ['direct-composite'],
  'crown-preparation': ['veneer'],
  'steel-crown-no-preparation': ['steel-crown'],
}
function dropImplied(kinds: readonly ProcedureKind[]): ProcedureKind[] {
  const implied = new Set(kinds.flatMap((kind) => IMPLIED[kind] ?? []))
  return kinds.filter((kind) => !implied.has(kind))
}

/** A complaint beside work that is named for a tooth leaves the work standing: `RCT 36, painful`. */
const isSettled = (text: string): boolean => !/\?|\b(?:query|possible|poss|maybe|or)\b/i.test(text)

const SURFACE_WORDS: readonly [RegExp, Surface][] = [
  [/\b(?:mesial|mesio)/i, 'M'],
  [/occlusal\b/i, 'O'],
  [/\bocclus/i, 'O'],
  [/(?:distal\b|\bdisto)/i, 'D'],
  [/(?:buccal|facial|labial)\b/i, 'B'],
  [/(?:lingual|palatal)\b/i, 'L'],
  [/incisal\b/i, 'I'],
  [/\bcervical\b|\bclass\s?(?:v|5)\b/i, 'V'],
]

/** `DO comp 36`: letters that stand apart from their tooth. */
const LETTERS_APART = /(?<!\w)(?!I{2,}|IV|VI|DOB)([MOD]{2,3}[BL]?)(?!\w|\s+NOT\b|\s+not\b)/

/** Letters stand beside their tooth; words count only where one tooth is named, as they could mean any. */
function recogniseSurfaces(text: string, mentions: readonly Mention[]): RecognisedWork['surfaces'] {
  const clear = mentions.filter((mention) => mention.result === 'tooth')
  const surfaces: RecognisedWork['surfaces'] = {}
  for (const { teeth, surfaces: own } of clear) {
    for (const tooth of teeth)
      if (own.length > 0) surfaces[tooth] = [...new Set([...(surfaces[tooth] ?? []), ...own])]
  }
  const [only, ...more] = [...new Set(clear.flatMap((mention) => mention.teeth))]
  if (!only || more.length > 0 || surfaces[only]) return surfaces
  const lettered = LETTERS_APART.exec(text)?.[1]
  if (lettered && isSurfaces(lettered)) return { [only]: readSurfaces(lettered) }
  const worded = SURFACE_WORDS.filter(([word]) => word.test(text)).map(([, surface]) => surface)
  return worded.length > 0 ? { [only]: inOrder(worded) } : surfaces
}

const inOrder = (some: readonly Surface[]): Surface[] => SURFACES.filter((surface) => some.includes(surface))
