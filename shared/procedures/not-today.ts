import type { ProcedureKind } from './work.ts'
import { GIVES_WAY } from './work-words.ts'

const anyOf = (...words: string[]): string => `(?:${words.join('|')})`
const TOOTH = String.raw`\(?(?:#|tooth\s|teeth\s)?(?:\d{1,2}|[UL][RL]\s?[1-8A-E])(?:\s?[MODBLIPFVmodblv]{1,5}(?!\w))?`
const TEETH = String.raw`(?:${TOOTH}(?:\s?(?:,|&|\+|and)\s?(?=#?\d|[UL][RL]\s?\d)|\s)?)*`
const SMALL = String.raw`(?:(?:for|of|about|re:?|to|do|have|the|a|an|any|all|old|new|her|his|pt'?s|today'?s|in|on|from)\s)*`

const REFUSED = anyOf(
  ...[
    'no',
    'not',
    'without',
    'declin\\w*',
    'refus\\w*',
    'cancel\\w*',
    'avoid',
    'never',
    'stop',
    'skip',
    'hold',
  ],
  ...[
    'defer\\w*',
    'postpon\\w*',
    'delay\\w*',
    'unable',
    "(?:can|could|does|do|did|wo|has|is|was|should)n['’]?t(?:\\s(?:want|need|like))?",
  ],
  ...[
    '(?:not|never|cannot)\\s(?:want|need|like)(?:\\w*)',
    'cannot',
    'instead of',
    'rather than',
    'allerg\\w* to',
  ],
)
const PAST = anyOf(
  ...[
    'after',
    'following',
    'previous(?:ly)?',
    'prior',
    'post(?:[\\s-]op)?',
    'had',
    'existing',
    'recent',
    'since',
  ],
)
const COMPLAINT = anyOf(
  ...['lost', 'broken?', 'fractured', 'chipped', 'cracked', 'loose', 'failed', 'failing', 'leaking', 'high'],
  ...['rough', 'sharp', 'sensitive', 'pain(?:ful)?(?: from| in| at| around)?', 'home', 'take-?home'],
)
const TALK = anyOf(
  ...[
    '(?:re-?)?check',
    'review(?:ing)?',
    'discuss(?:ion)?',
    'consult(?:ation)?s?',
    'assess(?:ment)?',
    'monitor',
  ],
  ...[
    'watch',
    'quote',
    'estimate',
    'options?',
    'plan(?:ning)?',
    'refer(?:red|ral)?',
    'letter',
    'photos?',
    'x-?rays?',
  ],
)
const REMOVED = anyOf(
  'remov\\w*',
  '(?:take|taking|took|drill\\w*|cut\\w*) (?:out|off)',
  'strip off',
  'section\\w*',
)
/** Words before it that make it something else than today's work: refused, past, talked of, the complaint, or gone. */
const NOT_TODAY = new RegExp(
  String.raw`(?<![\w'’])(?:${[REFUSED, PAST, COMPLAINT, TALK, REMOVED].join('|')})\s?[\s:-]\s?${SMALL}${TEETH}${SMALL}$`,
  'i',
)
const REMOVALS: ReadonlySet<ProcedureKind> = new Set(['amalgam-removal', 'crown-removal', 'extraction'])

/** What is done to a piece that is there already; a denture is a piece that is always worked on. */
const MENDED =
  /\b(?:adjust\w*|polish\w*|smooth\w*|trim\w*|eas(?:e|ing)|re-?shap\w*|recontour\w*|reduc\w*)\s?(?:[/&+]|and)?\s?(?:(?:adjust\w*|polish\w*|smooth\w*|trim\w*)\s)?(?:of\s)?(?:the\s|a\s|high\s|new\s|old\s|her\s|his\s)*(?:tooth\s)?(?:#?\d{1,2}\s)?$/i
/** A complaint, a refusal, or talk of it: with its tooth between, perhaps. */
const COMPLAINT_AFTER =
  /^\s(?:has\s|is\s|was\s)?(?:hurts?|hurting|sore|painful|trays?|kit|gel|syringes?|refills?|top-?ups?)\b/i
const BROKEN_AFTER = new RegExp(
  String.raw`^\s${TEETH}(?:has\s|is\s|was\s)?(?:lost|fell|fallen|came|broken|broke|chipped|fractured|loose|missing|cracked|leaking|high|failed|failing|out|off)\b`,
  'i',
)
const REFUSED_AFTER = new RegExp(
  String.raw`^[\s,:(–-]*${TEETH}[\s,:()–-]*(?:(?:pt|patient|mum|mom|mother|dad|father|parents?|has|is|was|been|to be|for|to)\s)*(?:cancel\w*|defer\w*|declin\w*|refus\w*|postpon\w*|delay\w*|on hold|no longer|if|unless|next (?:visit|appt|appointment|time|week|month|session)|another (?:day|visit|time)|at a later|later|tb[acd]|confirmed|pending|done|completed|finished|already|elsewhere|remov\w*|not (?:today|now|needed|wanted|required|indicated|done|yet|possible|until|this))\b`,
  'i',
)
const TALK_AFTER = new RegExp(
  String.raw`^\s?${TEETH}[-–:]?\s?(?:for\s)?(?:consult\w*|review|recall|check(?![\s-]?up)|discuss\w*|assessment|follow[\s-]?up|f\/u|estimate|quote|options|referral|planning|post-?op|adjust\w*|polish\w*)\b`,
  'i',
)

/** Whether a stretch of words that names a kind of work, found in a text, means that it is done today. */
export function isToday(kind: ProcedureKind, before: string, after: string): boolean {
  if (NOT_TODAY.test(before) || COMPLAINT_AFTER.test(after)) return false
  if (kind === 'denture' || (GIVES_WAY.has(kind) && kind !== 'temporary-filling')) return true
  if (kind !== 'extraction' && BROKEN_AFTER.test(after)) return false
  if (!REMOVALS.has(kind) && /^\sremov\w*/i.test(after)) return false
  return !(REFUSED_AFTER.test(after) || MENDED.test(before) || TALK_AFTER.test(after))
}

/** Whether a naming of a tooth, by the words before it, is of one that is looked at or left alone. */
export const isLookedAt = (before: string): boolean =>
  /\b(?:(?:re-?)?check|review|watch|monitor|assess|observe?|obs)\s(?:of\s|on\s|the\s|tooth\s|#)*$/i.test(
    before,
  )
