/**
 * Histories that make an allergy to latex likelier: spina bifida, anomalies of the urinary and genital tract, repeated
 * catheters, paralysis of legs or of all limbs, several operations, work in health care (READ: CDA position statement
 * 2005/2012; Kean & McNally, J Can Dent Assoc 2009;75:279). How people write of them is COMMON.
 */
const MANY =
  '(?:several|multiple|many|repeated|numerous|countless|frequent|extensive|lots of|(?:a )?dozen(?:s of)?|[3-9]|[1-9]\\d|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty)'
const KIND_OF =
  '(?:(?:previous|prior|past|major|minor|more|further|separate|different|abdominal|spinal|bladder|heart|cardiac|orthopa?edic|corrective|reconstructive|cleft|eye|childhood|big|general)\\s)*'
const OPERATIONS = '(?:operations|ops|surger(?:y|ies)|surgical procedures|anaesthetics|anesthetics|gas)'
const HIGH_RISK: readonly RegExp[] = [
  /spina\s?bifida|myelo-?meningoco?ele|meningo-?myeloco?ele|meningoco?ele|neural tube|tethered cord|\bv-?p shunts?\b|ventriculo-?peritoneal/gi,
  /\b(?:bladder|cloacal) exstroph\w*|\bexstroph\w*|\bhypospadias|\bepispadias|urogenital|genito-?urinary (?:anomal|malform)\w*|posterior urethral valves?|\bneurogenic bladder|\bneuropathic bladder|\bmitrofanoff/gi,
  /catheter|\bself-?\s?cath\w*|\b(?:c?isc|cic)\b|\bcaths?\b(?=\s(?:\d|daily|twice|every))/gi,
  /\b(?:para|tetra|quadri)-?pleg\w*|\bspinal (?:cord )?injur(?:y|ies)\b/gi,
  new RegExp(`\\b${MANY}\\s${KIND_OF}${OPERATIONS}\\b`, 'gi'),
  /\b(?:surger(?:y|ies)|operations?|ops)\b\s*(?:x|×|:|\()\s*(?:[2-9]|[1-9]\d|many|several|multiple)\b/gi,
  /\b(?:[2-9]|[1-9]\d)\s?x\s(?:surger(?:y|ies)|operations?|ops)\b|\bx\s?(?:[2-9]|[1-9]\d)\s(?:operations|ops|surgeries)\b/gi,
  new RegExp(`\\b(?:operated|surgery|operations?)(?:\\son)?\\s${MANY}\\stimes\\b`, 'gi'),
  /\bhealth\s?-?care (?:worker|professional|assistant)s?\b|\bhealth workers?\b|\bworks? (?:as|in) (?:an?\s)?(?:\w+\s)?(?:nurse|theatres?|hospital|surgeon|midwife|paramedic|dentist|hygienist)\b/gi,
]
const NOT = String.raw`\b(?:no|nor|not|never|without|nil|denie[sd]|denying|negative for|(?:has|have|had|did|does|do|is|was)n['’]?t)\s`
const SMALL = String.raw`(?:(?:had|has|have|any|known|previous|prior|past|other|a|an|the|of|history of|hx of|h\/o|hx|been|use|using|used|need|needed|require|born with|indwelling|urinary|intermittent)\s)*`
const ITEM = String.raw`[\p{L}-]+(?:\s[\p{L}-]+)?`
/** A negation that binds what it stands before: `no history of spina bifida`, `no shunt or catheter`. */
const DENIED_BEFORE = new RegExp(`${NOT}${SMALL}(?:${ITEM}\\s(?:or|nor)\\s(?:any\\s)?)*$`, 'iu')
/** A list that ends in "or": `no shunt, catheter or spina bifida`. Without it a comma may end the denial. */
const DENIED_LIST = new RegExp(`${NOT}${SMALL}(?:${ITEM},\\s)+(?:${ITEM}\\s(?:or|nor)\\s)?$`, 'iu')
const LIST_GOES_ON = /^\w*(?:,\s[\p{L} -]+)*\s(?:or|nor)\s/iu
const DENIED_AFTER =
  /^\w*(?:\s(?:surgery|repair))?(?:\s?[:=?–-]\s?|\s)(?:(?:no|none|nil|never|denied|negative)\s*(?:$|[.,;)\n])|(?:was |has been |is )?(?:ruled out|excluded)\b)/i

/** Whether a negation binds what stands between these two. */
function isDenied(before: string, after: string): boolean {
  if (DENIED_BEFORE.test(before) || DENIED_AFTER.test(after)) return true
  return DENIED_LIST.test(before) && (/\s(?:or|nor)\s$/i.test(before) || LIST_GOES_ON.test(after))
}

/** Someone else's. */
const OF_FAMILY =
  /\b(?:mother|mum|mom|father|dad|sister|brother|sibling|son|daughter|child|wife|husband|partner|cousin|aunt|uncle|grand\w+|family)(?:['’]s)?\s(?:has |had |with |was born with |who |is |history of |hx of )*$/i
const IN_FAMILY = /^\w*\s(?:in|runs in) (?:the )?(?:family|sister|brother|mother|father|sibling)s?\b/i

/** Whether a history names such a thing, as the patient's own and not denied. */
export const isHighRisk = (text: string): boolean =>
  HIGH_RISK.some((pattern) =>
    [...text.matchAll(pattern)].some(({ 0: words, index }) => {
      const [before, after] = [text.slice(0, index), text.slice(index + words.length)]
      return !(isDenied(before, after) || OF_FAMILY.test(before) || IN_FAMILY.test(after))
    }),
  )
