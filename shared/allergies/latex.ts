import type { Tray } from '../trays/tray.ts'
import type { AllergyFinding, LineAndSwap } from './findings.ts'
import { weigh } from './materials.ts'
import {
  type AllergySight,
  highRiskOf,
  isAnsweredSince,
  isSeated,
  latexNow,
  type ReadWords,
  readWords,
} from './sight.ts'
import { asksLatex, asksLatexFood } from './statement.ts'

interface LatexLines {
  containing: LineAndSwap[]
  unknown: string[]
  related: string[]
}

/** The tray's lines by what they mean for latex. What is of a related tree is told, never blocked. */
export function latexLines(tray: Pick<Tray, 'contains'> | null): LatexLines {
  const lines: LatexLines = { containing: [], unknown: [], related: [] }
  for (const { substance, line, certainty } of tray?.contains ?? []) {
    if (substance !== 'latex') continue
    const { weight, swap } = weigh('latex', line)
    if (weight === 'related') lines.related.push(line)
    else if (certainty === 'contains') lines.containing.push({ line, swap })
    else lines.unknown.push(line)
  }
  return lines
}

/** Latex: what is known, against the lines of the tray and the stage of the visit. */
export function judgeLatex(sight: AllergySight): AllergyFinding[] {
  const about = `patient:${sight.patient.id}`
  switch (latexNow(sight)) {
    case 'confirmed':
      return judgeConfirmed(sight, about)
    case 'suspected':
      return judgeSuspected(sight, about)
    case 'none-known':
      return [...judgeWords(sight, about), ...judgePreference(sight, about)]
    default:
      return judgeUnanswered(sight, about)
  }
}

const unknownLines = ({ unknown }: LatexLines, about: string): AllergyFinding[] =>
  unknown.length === 0 ? [] : [{ rule: 'latex/line-unknown', level: 'ask', about, lines: unknown }]
const relatedLines = ({ related }: LatexLines, about: string): AllergyFinding[] =>
  related.length === 0 ? [] : [{ rule: 'latex/related', level: 'note', about, lines: related }]

function judgeConfirmed({ tray }: AllergySight, about: string): AllergyFinding[] {
  const lines = latexLines(tray)
  const conflict: AllergyFinding[] =
    lines.containing.length === 0
      ? []
      : [{ rule: 'latex/conflict', level: 'stop', about, lines: lines.containing }]
  return [
    ...conflict,
    ...unknownLines(lines, about),
    { rule: 'latex/confirmed', level: 'note', about },
    ...relatedLines(lines, about),
  ]
}

function judgeSuspected({ tray }: AllergySight, about: string): AllergyFinding[] {
  const lines = latexLines(tray)
  const asked: AllergyFinding[] =
    lines.containing.length === 0
      ? []
      : [{ rule: 'latex/suspected-line', level: 'ask', about, lines: lines.containing }]
  return [
    ...asked,
    ...unknownLines(lines, about),
    { rule: 'latex/suspected', level: 'note', about },
    ...relatedLines(lines, about),
  ]
}

/**
 * Blank is not "no": a kit without latex until asked, asked at seating. A line that contains it has no place on such a
 * tray at any time; one of which nobody knows waits for the answer.
 */
function judgeUnanswered(sight: AllergySight, about: string): AllergyFinding[] {
  const { containing, unknown } = latexLines(sight.tray)
  const asked = askLatex(sight, about)
  const isToCome = asked.some(({ rule }) => rule === 'allergies/ask-at-seating')
  const isDue = !isToCome || highRiskOf(sight).length > 0
  const contained: AllergyFinding[] =
    containing.length === 0 ? [] : [{ rule: 'latex/unasked-line', level: 'ask', about, lines: containing }]
  const kit: AllergyFinding[] =
    unknown.length === 0 || !isDue ? [] : [{ rule: 'latex/unknown-kit', level: 'ask', about, lines: unknown }]
  return [
    ...contained,
    ...kit,
    ...judgeWords(sight, about),
    ...asked,
    ...judgeRisk(sight, about),
    ...judgePreference(sight, about),
  ]
}

function askLatex({ record, stage, policy }: AllergySight, about: string): AllergyFinding[] {
  if (record?.latex === 'asked-unknown') return []
  const isDue = isSeated(stage) || policy?.allergies.latexUnknownKit === 'ask-first'
  return isDue
    ? [{ rule: 'latex/not-asked', level: 'ask', about }]
    : [{ rule: 'allergies/ask-at-seating', level: 'note', about, of: ['latex'] }]
}

function judgeRisk(sight: AllergySight, about: string): AllergyFinding[] {
  const risks = highRiskOf(sight).map(({ text }) => text)
  const foods = foodWords(sight)
  const risk: AllergyFinding[] =
    risks.length === 0 ? [] : [{ rule: 'latex/high-risk', level: 'note', about, words: risks }]
  const food: AllergyFinding[] =
    foods.length === 0 ? [] : [{ rule: 'latex/food-prompt', level: 'note', about, words: foods }]
  return [...risk, ...food]
}

const foodWords = ({ record }: AllergySight): string[] => [
  ...(record?.allergies ?? []).filter(({ substance }) => substance === 'latex-foods').map(({ text }) => text),
  ...readWords(record)
    .filter(({ reading }) => asksLatexFood(reading))
    .map(({ text }) => text),
]

/** Free text about latex that nobody has asked about since, in its own words. */
function judgeWords({ record }: AllergySight, about: string): AllergyFinding[] {
  const open = readWords(record).filter(({ at }) => !isAnsweredSince(record?.latexAsked ?? null, at))
  return open.flatMap((words) => wordFinding(words, about))
}

function wordFinding({ text, reading }: ReadWords, about: string): AllergyFinding[] {
  if (asksLatex(reading)) return [{ rule: 'latex/possible', level: 'ask', about, text }]
  const deniesLatex =
    reading.kind === 'denies' && typeof reading.of !== 'string' && reading.of.includes('latex')
  return deniesLatex ? [{ rule: 'latex/said-none', level: 'note', about, text }] : []
}

/** A wish is shown as a wish: no flag of an allergy, no words of an emergency. */
function judgePreference({ record, tray }: AllergySight, about: string): AllergyFinding[] {
  const listed = (record?.allergies ?? []).find(
    ({ substance, certainty }) => substance === 'latex' && certainty === 'preference',
  )
  const said = readWords(record).find(
    ({ reading }) => reading.kind === 'preference' && reading.substances.includes('latex'),
  )
  const text = listed?.text ?? said?.text
  if (text === undefined) return []
  const { containing } = latexLines(tray)
  return [{ rule: 'latex/preference', level: 'note', about, text, lines: containing.map(({ line }) => line) }]
}

export interface LatexRoom {
  latex: ReturnType<typeof latexNow>
  latexSafe: boolean
  /** Latex was used in the room since it was last turned over. */
  latexUsed: boolean
  /** The first appointment of the day in this room: what lingers in the air has gone by then. */
  isFirst: boolean
  about: string
}

/** A latex-safe room or the first slot of the day, offered to the desk; the room's own task where latex was used. */
export function judgeLatexRoom({ latex, latexSafe, latexUsed, isFirst, about }: LatexRoom): AllergyFinding[] {
  if (latex !== 'confirmed' && latex !== 'suspected') return []
  const offer: AllergyFinding[] = latexSafe || isFirst ? [] : [{ rule: 'latex/room', level: 'note', about }]
  return latexUsed ? [...offer, { rule: 'latex/wipe-down', level: 'note', about }] : offer
}
