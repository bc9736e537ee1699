import type { AllergyFinding, LineAndSwap } from '../../allergies/findings.ts'
import { SUBSTANCE_FAMILIES, type Substance } from '../../allergies/substance.ts'
import type { Sentences } from '../../base/rule.ts'

export const nameOf = (substance: Substance): string => SUBSTANCE_FAMILIES[substance].name

const insteadOf = (swap: string): string =>
  swap === ''
    ? 'Nothing usual takes its place. Dentist to decide.'
    : `Usual instead: ${swap}. Dentist to decide.`

/** Each line with what is used in its place, where something is. */
const sayLines = (lines: readonly LineAndSwap[]): string =>
  lines.map(({ line, swap }) => (swap === '' ? line : `${line} (use ${swap})`)).join(', ')

export const ALLERGY_SENTENCES = {
  'allergies/ask-at-seating': { says: ({ of }) => `Ask at seating: ${of.join(' and ')}.`, desk: null },
  'allergies/not-asked': {
    says: () => 'Nobody has asked about allergies. Ask now.',
    desk: () => 'Hand the health form.',
  },
  'allergies/answer-unknown': {
    says: () => 'The patient does not know of any allergy or none. Dentist to decide.',
    desk: null,
  },
  'allergies/aged-out': {
    says: ({ asked, months }) => `“None” was said on ${asked}, more than ${months} months ago. Ask again.`,
    desk: () => 'Hand the health form.',
  },
  'latex/not-asked': {
    says: () => 'Ask: latex. Has a balloon or rubber glove ever made you itch, swell or wheeze?',
    desk: null,
  },
  'latex/possible': { says: ({ text }) => `Possible latex or rubber: “${text}”. Ask.`, desk: null },
  'latex/unknown-kit': {
    says: ({ lines }) => `Latex is not known, and may be in: ${lines.join(', ')}. Ask, or read the label.`,
    desk: null,
  },
  'latex/unasked-line': {
    says: ({ lines }) => `Latex is not known, and the tray has ${sayLines(lines)}. Swap it, or ask first.`,
    desk: null,
  },
  'latex/high-risk': {
    says: ({ words }) => `High risk of latex allergy: ${words.join(', ')}. Keep latex away until asked.`,
    desk: null,
  },
  'latex/food-prompt': {
    says: ({ words }) => `${words.join(', ')}: goes with latex allergy. Use non-latex and ask.`,
    desk: null,
  },
  'latex/said-none': { says: ({ text }) => `Patient says no latex allergy: “${text}”.`, desk: null },
  'latex/conflict': {
    says: ({ lines }) => `Latex allergy confirmed, and the tray has ${sayLines(lines)}. Swap it.`,
    desk: null,
  },
  'latex/suspected-line': {
    says: ({ lines }) => `Latex allergy suspected, and the tray has ${sayLines(lines)}. Swap it.`,
    desk: null,
  },
  'latex/line-unknown': { says: ({ lines }) => `Latex: read the label of ${lines.join(', ')}.`, desk: null },
  'latex/related': {
    says: ({ lines }) =>
      `${lines.join(', ')}: of a tree related to latex. Dentist to know; avoid overfilling.`,
    desk: null,
  },
  'latex/confirmed': {
    says: () => 'Latex allergy confirmed: gloves, tray and room without latex.',
    desk: null,
  },
  'latex/suspected': { says: () => 'Latex allergy suspected, until a clinician clears it.', desk: null },
  'latex/preference': { says: ({ text }) => `Asks for no latex, not an allergy: “${text}”.`, desk: null },
  'latex/room': {
    says: () => 'Better in a latex-free room or first of the day.',
    desk: () => 'Offer the first slot of the day, or a room marked latex-free.',
  },
  'latex/wipe-down': {
    says: () => 'Latex was used in this room. Wipe down and change the barriers.',
    desk: null,
  },
  'allergy/conflict': {
    says: ({ substance, lines, swap }) =>
      `Allergy: ${nameOf(substance)}. On the tray: ${lines.join(', ')}. ${insteadOf(swap)}`,
    desk: null,
  },
  'allergy/suspected-item': {
    says: ({ substance, lines, text }) =>
      `Possible allergy to ${nameOf(substance)}: “${text}”. On the tray: ${lines.join(', ')}. Ask the dentist.`,
    desk: null,
  },
  'allergy/line-unknown': {
    says: ({ substance, lines }) => `${nameOf(substance)}: read the label of ${lines.join(', ')}.`,
    desk: null,
  },
  'allergy/caution': {
    says: ({ substance, lines, swap }) =>
      `Sensitive to ${nameOf(substance)}: ${lines.join(', ')}. ${insteadOf(swap)}`,
    desk: null,
  },
  'allergy/rubber-chemicals': {
    says: ({ lines }) =>
      `Allergy to rubber chemicals: ${lines.join(', ')} may have them, without latex too. Dentist to decide.`,
    desk: null,
  },
  'allergy/vasoconstrictor': {
    says: ({ text, lines }) =>
      `“${text}”: a sulfite, or a racing heart? On the tray: ${lines.join(', ')}. Dentist to decide.`,
    desk: null,
  },
  'allergy/reaction-unread': {
    says: ({ text }) =>
      `A reaction was noted: “${text}”. What it was to is not said: the dentist asks and decides.`,
    desk: null,
  },
  'allergy/words': { says: ({ text }) => `In their own words: “${text}”.`, desk: null },
} satisfies Partial<Sentences<AllergyFinding>>
