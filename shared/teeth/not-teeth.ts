/**
 * Numbers that a note may hold and that are not teeth: each pattern blanks what it finds. They are kept narrow,
 * as a tooth taken for a count would be lost, while a count taken for a tooth is seen.
 */
const NOT_TEETH: readonly RegExp[] = [
  // dates, times, money
  /\b(?:\d{4}[./-]\d{1,2}[./-]\d{1,2}|\d{1,2}[./-]\d{1,2}[./-]\d{4}|\d{1,2}\.\d{1,2}\.\d{2})\b/g,
  /\b\d{1,2}[:h.]\d{2}(?:\s*[ap]\.?m\b\.?)?/gi,
  /\b\d{1,2}\s*[ap]\.?m\b\.?/gi,
  /[£$€]\s?\d+(?:[.,]\d+)?/g,
  // amounts, lengths of time, ages
  /\b\d+(?:[.,]\d+)?\s?(?:mg|µg|mcg|ug|ml|mm|cm|kg|lbs?)(?:\/(?:kg|ml))?\b/gi,
  /\b\d+(?:[.,]\d+)?\s?[%°×]/g,
  /(?<!\b[UL]\/?[RL][-./:\s]?)\b\d\s?x\b(?!-)/gi,
  /\b[x×]\s?\d\b/gi,
  /\b\d+(?:[.,]\d+)?[\s-]?(?:mins?|minutes?|h|hrs?|hours?|secs?|days?|wks?|weeks?|months?|mths?|mos|yrs?|years?|y\/?o)\b(?:[\s-]olds?)?(?:\s?[mf]\b)?/gi,
  // months, but for surfaces beside a filling: `comp 19 mo`
  /(?<!\b(?:[Cc]omps?|[Cc]omposites?|[Rr]esins?|[Ff]ill(?:ing)?s?|[Aa]mal\w*|G[Ii][Cc]?|gic?|[Rr]esto\w*|[MODBLIFPV]{2,}|[modblifpv]{2,})[\s,&+]{1,3}|#)\b\d+(?:\smo\b|\s?mo[\s-]olds?\b)/g,
  /\b(?:aged?|age of)\s?:?\s?\d+/gi,
  /\b\d+(?:st|nd|rd|th)\b(?!\s+(?:primary |deciduous |baby |milk |permanent )?(?:pre)?molar|\s+bicuspid)/gi,
  // counts, by one digit that ends no list of numbers
  /(?<!\d[\s,/&+]{0,3}|\band\s)\b\d\s?[-–]?\s?(?:surfaces?|fillings|crowns|veneers|sealants|extractions|implants|teeth|cartridges?|canals|units?|films|bitewings|bws?|x-?rays|visits?|appts?|appointments?|quads?|quadrants?|roots|sessions?|sites?)\b/gi,
  // a position said of several teeth comes with their count: `all 4 sixes`
  /\b[1-4](?=\s(?:ones|twos|threes|fours|fives|sixes|sevens|eights|[1-8A-E]['’]?s)\b)/gi,
  /(?<!\d[\s,/&+]{0,3}|\band\s)\b[1-8](?=\s(?:[a-z]+\s)?(?:(?:pre)?molars|bicuspids|canines|cuspids|incisors|centrals|laterals|wisdoms|teeth)\b)/gi,
  // things that are numbered themselves
  /\bsext(?:ant)?s?\.?\s?[1-6](?:\s?(?:,|and|&|\+|-)\s?[1-6])*(?!\d)/gi,
  /\bquad(?:rant)?s\.?\s?[1-4](?:\s?(?:,|and|&|\+|-)\s?[1-4])+(?!\d)/gi,
  /\b(?:stage|visit|appt|appointment|op|operatory|surgery|class|cl|grade|shade|step|part|phase|level|session|asa|bpe)\.?\s?(?:no\.?\s?)?#?\d(?:\s?(?:\/|of)\s?\d)?(?!\d)/gi,
  /\b(?:room|rm|chair|bay|size|bur|file|week|wk|day|month|year)\.?\s?(?:no\.?\s?)?#?\d{1,2}\b/gi,
  /\b(?:tel|phone|mobile)\b\.?:?\s?[\d\s+-]+/gi,
  /\b\d\s?of\s?\d\b/gi,
  // shades
  /(?<!\w)[A-D][1-4](?:\.5)?\b/g,
]

/** The same length of text with what cannot be a tooth blanked out. */
export const blankNotTeeth = (text: string): string =>
  NOT_TEETH.reduce((left, pattern) => left.replace(pattern, (found) => '\u0001'.repeat(found.length)), text)

const TOOTH = String.raw`(?:#?\d{1,2}|[UL][RL]-?[1-8A-E]|\b[A-T])\b`
/**
 * Stretches in which no number is assumed to be a tooth of today: a date or a list of teeth, as `13/12/11`; two
 * figures that can be a count; one tooth or the other; the gap between two; a tooth that is left alone.
 */
const DOUBTFUL: readonly RegExp[] = [
  /\b(?:0?[1-9]|[12]\d|3[01])([/-])(?:0?[1-9]|1[0-2])\1\d{2}\b/g,
  /\b[x×]\s?\d{2}\b/gi,
  /\b\d{1,2}\s?mo\b/g,
  // the second of three visits
  /(?<=\d\s)[1-5]\s?\/\s?[2-5](?!\d)/g,
  new RegExp(String.raw`${TOOTH}\s?(?:or|vs\.?|versus)\s#?${TOOTH}`, 'g'),
  new RegExp(String.raw`\bbetween\s${TOOTH}\s?(?:and|&|-)\s?${TOOTH}`, 'gi'),
  new RegExp(String.raw`\b(?:not|nor|except|instead of|rather than|avoid)\s(?:tooth\s)?${TOOTH}`, 'gi'),
]
export const findDoubtful = (text: string): { at: number; end: number }[] =>
  DOUBTFUL.flatMap((pattern) =>
    [...text.matchAll(pattern)].map((found) => ({ at: found.index, end: found.index + found[0].length })),
  )
