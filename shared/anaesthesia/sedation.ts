/**
 * How bookings and histories speak of sedation or a general anaesthetic (COMMON: words of the trade). Sedatives in a
 * history count as well: whoever takes one may be sedated.
 */
const SEDATED =
  /\b(?:sedat\w*|(?:iv|oral|inhalation|conscious)\s+sed|nitrous|n2o|(?:laughing|happy)\s+gas|gas\s+and\s+air|relative\s+analgesia|midazolam|triazolam|diazepam|temazepam|propofol|ketamine|dexmedetomidine|general\s+an(?:a?)esth\w*)\b/i
/** In capitals alone: in small letters it is the beginning of other words. */
const BY_ITS_LETTERS = /\bGA\b/
const DENIED =
  /\b(?:no|not\s+(?:for|under|with)|without|declin\w+|refus\w+)\s+(?:(?:iv|oral|inhalation|conscious|any)\s+)?(?:sedat\w*|sed\b|nitrous|n2o|midazolam|triazolam|diazepam|propofol|general\s+an(?:a?)esth\w*|GA\b|(?:laughing|happy)\s+gas)/gi

/** Whether words speak of sedation, and not only to deny it. */
export function saysSedated(text: string): boolean {
  const rest = text.replace(DENIED, '')
  return SEDATED.test(rest) || BY_ITS_LETTERS.test(rest)
}
