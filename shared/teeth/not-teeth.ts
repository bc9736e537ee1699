/** Numbers that a note may hold and that are not teeth: each pattern blanks what it finds. */
const NOT_TEETH: readonly RegExp[] = [
  // dates, times, decimals with or without a unit, money
  /\b\d{1,4}[./-]\d{1,2}[./-]\d{2,4}\b/g,
  /\b\d{1,2}[:h.]\d{2}(?:\s*[ap]\.?m\b\.?)?/gi,
  /\b\d{1,2}\s*[ap]\.?m\b\.?/gi,
  /[£$€]\s?\d+(?:[.,]\d+)?/g,
  /\b\d+(?:[.,]\d+)?\s?(?:mg|µg|mcg|ug|ml|mm|cm|kg|lbs?|st|kv|ma|x)(?:\/(?:kg|ml))?\b/gi,
  /\b\d+(?:[.,]\d+)?\s?[%°×]/g,
  /\b[x×]\s?\d+\b/gi,
  /\b\d+(?:[.,]\d+)?[\s-]?(?:mins?|minutes?|h|hrs?|hours?|secs?|days?|wks?|weeks?|months?|mths?|mos|yrs?|years?|y\/?o)\b(?:[\s-]olds?)?/gi,
  /\b\d+\s?mo\b(?:[\s-]olds?)?/g,
  /\b(?:aged?|age of)\s?:?\s?\d+/gi,
  /\b\d+(?:st|nd|rd|th)\b(?!\s+(?:primary |deciduous |baby |milk |permanent )?(?:pre)?molar|\s+bicuspid)/gi,
  // counts of things, and things that are numbered themselves
  /\b\d+\s?(?:-|–)?\s?(?:surfaces?|fillings?|crowns|veneers|sealants|extractions|implants|teeth|cartridges?|carps?|canals?|units?|pins?|films?|bitewings?|bws?|pas|x-?rays?|visits?|appts?|appointments?|quads?|quadrants?|roots?|sessions?|sites?|tabs?|tablets?)\b/gi,
  /\b(?:stage|visits?|appt|appointment|room|rm|op|operatory|chair|surgery|bay|class|cl|grade|size|shade|step|part|phase|level|clamp|bur|file|session|week|wk|day|month|year|asa|bpe|tel|phone)\.?\s?(?:no\.?\s?)?#?\d+(?:\s?(?:\/|of)\s?\d+)?\b/gi,
  /\b\d\s?(?:\/|of)\s?\d\b/gi,
  /(?<!\w)[A-D][1-4](?:\.5)?\b/g,
]

/** The same length of text with what cannot be a tooth blanked out. */
export const blankNotTeeth = (text: string): string =>
  NOT_TEETH.reduce((left, pattern) => left.replace(pattern, (found) => '\u0001'.repeat(found.length)), text)
