import type { Sentences } from '../../base/rule.ts'
import type { ToothSource } from '../../procedures/work.ts'
import type { TeethFinding } from '../../teeth/findings.ts'
import { makeUniversal, nameTooth } from '../../teeth/notation.ts'
import type { Tooth } from '../../teeth/tooth.ts'

/** `46 (Univ 30), lower right first molar`: two notations and words, wherever a tooth is asked about. */
export const sayTooth = (tooth: Tooth): string =>
  `${tooth} (Univ ${makeUniversal(tooth)}), ${nameTooth(tooth)}`

/** Several teeth by number alone: `46, 47`. */
export const sayNumbers = (teeth: readonly Tooth[]): string => teeth.join(', ')

const sayCandidates = (teeth: readonly Tooth[]): string =>
  teeth.length > 5 ? sayNumbers(teeth) : teeth.map(sayTooth).join('; or ')

/** What names a tooth, in words. */
export const SOURCE_WORDS: Record<ToothSource, string> = {
  booking: 'booking',
  referral: 'referral',
  consent: 'consent',
  image: 'image label',
  patient: 'patient',
  chart: 'chart',
  words: 'words',
}

export const sayConditions = (conditions: readonly string[]): string =>
  conditions.join(' and ').replaceAll('-', ' ')

export const TEETH_SENTENCES = {
  'tooth/ambiguous': {
    says: ({ text, candidates }) => `Which tooth is “${text}”? It can be ${sayCandidates(candidates)}.`,
    desk: ({ text }) => `Ask the dentist which tooth “${text}” means`,
  },
  'tooth/words-contradict': {
    says: ({ text, candidates }) =>
      `Number and words do not agree at “${text}”. It can be ${sayCandidates(candidates)}.`,
    desk: ({ text }) => `Ask the dentist which tooth “${text}” means`,
  },
  'tooth/unread': {
    says: ({ text, words }) =>
      `${words.map((word) => `“${word}”`).join(', ')} in “${text}” names no tooth that we know. It may be one more to work on. Name all teeth of this work.`,
    desk: ({ words }) => `Ask the dentist whether “${words.join(' ')}” names a tooth`,
  },
  'tooth/sources-disagree': {
    says: ({ said }) =>
      `Sources name different teeth: ${said.map(({ source, teeth }) => `${SOURCE_WORDS[source]} ${sayNumbers(teeth)}`).join(', ')}. The dentist settles it, not the majority.`,
    desk: () => 'Ask the dentist which tooth is meant: the papers differ',
  },
  'tooth/referral-missing': {
    says: ({ statement }) =>
      `No referral names the tooth. The patient said “${statement}”, which names none for us.`,
    desk: () => 'Phone the referrer for the tooth, in writing',
  },
  'tooth/image-mirrored': {
    says: ({ text }) =>
      `The image “${text}” was mirrored. Confirm the side on the patient; an image sets no side.`,
    desk: null,
  },
  'tooth/missing-from-plan': {
    says: ({ text, teeth }) => `The booking “${text}” also names ${teeth.map(sayTooth).join('; ')}.`,
    desk: null,
  },
  'tooth/implausible-at-age': {
    says: ({ tooth, ageYears, expected }) =>
      `${sayTooth(tooth)}, at ${ageYears} years: it ${expected}. Chart it as present, or name the tooth.`,
    desk: null,
  },
  'tooth/predecessor-present': {
    says: ({ tooth, predecessor }) =>
      `${sayTooth(tooth)} is not charted as erupted while ${sayTooth(predecessor)} is present. Which is meant?`,
    desk: null,
  },
  'tooth/not-standing': {
    says: ({ tooth, condition }) =>
      `${sayTooth(tooth)} is charted as ${sayConditions([condition])}. Mend the chart or name the tooth.`,
    desk: null,
  },
  'tooth/which-molar': {
    says: ({ tooth, present, unknown }) =>
      `Two molars are charted (${sayNumbers(present)}) and ${unknown} is not spoken of. Which molar is absent? Work is booked on ${sayTooth(tooth)}.`,
    desk: null,
  },
  'tooth/first-standing-molar': {
    says: ({ tooth, missing, standing }) =>
      `${sayTooth(tooth)} is ${standing[0] === tooth ? 'the first standing molar' : 'a molar behind a gap'} (${sayNumbers(missing)} missing; standing ${sayNumbers(standing)}). Say which molars stand.`,
    desk: null,
  },
  'tooth/look-alike': {
    says: ({ tooth, alike }) => `Work on ${sayTooth(tooth)} only; not ${sayNumbers(alike)}.`,
    desk: null,
  },
} satisfies Partial<Sentences<TeethFinding>>
