/** Digits and letters but those that read as digits or as each other: 31, a prime, so that weights can check them. */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXY'
const LENGTH = 7
/** Catches every single wrong letter and every swap of two neighbours. */
const checkOf = (body: string): string => {
  const sum = [...body].reduce((total, letter, at) => total + ALPHABET.indexOf(letter) * (at + 2), 0)
  return ALPHABET[sum % ALPHABET.length] ?? ''
}

/** Every digit of the id moves the whole number, so that ids that follow one another give codes far apart. */
const numberOf = (uuid: string): number =>
  [...uuid.replaceAll('-', '')].reduce(
    (sum, digit) => (sum * 65_599 + Number.parseInt(digit, 16) + 1) % ALPHABET.length ** LENGTH,
    0,
  )

/** The printed code of a pack, out of a fresh UUID: seven characters that say nothing, and one that checks them. */
export function makePackCode(uuid: string): string {
  let left = numberOf(uuid)
  let body = ''
  for (let at = 0; at < LENGTH; at++) {
    body += ALPHABET[left % ALPHABET.length]
    left = Math.floor(left / ALPHABET.length)
  }
  return body + checkOf(body)
}

/** A code as scanned or typed, in capitals; null where the last character does not fit. */
export function parsePackCode(text: string): string | null {
  const code = text.trim().toUpperCase().replaceAll('O', '0').replaceAll('I', '1').replaceAll('L', '1')
  const body = code.slice(0, LENGTH)
  const isWhole = code.length === LENGTH + 1 && [...code].every((letter) => ALPHABET.includes(letter))
  return isWhole && checkOf(body) === code[LENGTH] ? code : null
}
