import { LEVELS } from '../base/rule.ts'
import type { Allergy } from './allergy-record.ts'
import type { AgainstLines, AllergyFinding } from './findings.ts'
import { judgeLatex } from './latex.ts'
import { isLive } from './record.ts'
import { type AllergySight, isAged, isAnsweredSince, isOverFor, isSeated, readWords } from './sight.ts'
import { type Gravity, SUBSTANCE_FAMILIES, type Substance, substanceOf } from './substance.ts'

/**
 * What stands open on a patient's allergies: what was asked, latex, and each substance against what the tray's
 * lines contain. The gravest first. Nothing is judged once the work is finished.
 */
export function judgeAllergies(sight: AllergySight): AllergyFinding[] {
  if (isOverFor(sight.stage)) return []
  const findings = joinQuestions([
    ...judgeLatex(sight),
    ...judgeAsked(sight),
    ...(sight.record?.allergies ?? []).flatMap((allergy) => judgeAllergy(allergy, sight)),
    ...judgeOtherWords(sight),
  ])
  return findings.sort((a, b) => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level))
}

/** One line for all that is asked at seating. */
function joinQuestions(findings: AllergyFinding[]): AllergyFinding[] {
  const later = findings.filter((finding) => finding.rule === 'allergies/ask-at-seating')
  const [first] = later
  if (!first) return findings
  const rest = findings.filter((finding) => finding.rule !== 'allergies/ask-at-seating')
  return [...rest, { ...first, of: later.flatMap((finding) => finding.of) }]
}

/** Asked, by whom and when: nothing recorded is never none. It is not due before the patient is seated. */
function judgeAsked(sight: AllergySight): AllergyFinding[] {
  const { record, stage, policy, patient } = sight
  const about = `patient:${patient.id}`
  const state = record?.state ?? 'not-asked'
  const aged = state === 'none-known' && isAged(record?.asked ?? null, sight)
  // A reaction told, or latex answered by itself, lists something; of the others nobody asked.
  if (state === 'listed' && record?.asked != null) return []
  if (state === 'none-known' && !aged) return []
  if (!isSeated(stage)) return [{ rule: 'allergies/ask-at-seating', level: 'note', about, of: ['allergies'] }]
  if (state === 'asked-unknown') return [{ rule: 'allergies/answer-unknown', level: 'ask', about }]
  const asked = record?.asked?.day
  return aged && asked && policy
    ? [{ rule: 'allergies/aged-out', level: 'ask', about, asked, months: policy.allergies.noneKnownMonths }]
    : [{ rule: 'allergies/not-asked', level: 'ask', about }]
}

interface Lines {
  containing: string[]
  unknown: string[]
}

function linesOf(substance: Substance, { tray }: AllergySight): Lines {
  const own = (tray?.contains ?? []).filter((entry) => entry.substance === substance)
  return {
    containing: own.filter(({ certainty }) => certainty === 'contains').map(({ line }) => line),
    unknown: own.filter(({ certainty }) => certainty === 'unknown').map(({ line }) => line),
  }
}

/** One listed allergy, other than latex, against the tray. */
function judgeAllergy(allergy: Allergy, sight: AllergySight): AllergyFinding[] {
  const substance = substanceOf(allergy.substance)
  if (substance === 'latex' || !isLive(allergy)) return []
  const lines = linesOf(substance, sight)
  const all = [...lines.containing, ...lines.unknown]
  const about = `patient:${sight.patient.id}`
  if (all.length === 0) return []
  const against = (of: string[]): AgainstLines => ({
    substance,
    lines: of,
    swap: SUBSTANCE_FAMILIES[substance].substitute,
  })
  const { text } = allergy
  if (substance === 'rubber-chemicals') {
    return [{ rule: 'allergy/rubber-chemicals', level: 'ask', about, ...against(all) }]
  }
  if (substance === 'vasoconstrictors') {
    return [{ rule: 'allergy/vasoconstrictor', level: 'ask', about, ...against(all), text }]
  }
  if (gravityOf(allergy, substance) === 'caution') {
    return [{ rule: 'allergy/caution', level: 'note', about, ...against(all) }]
  }
  if (allergy.certainty === 'suspected') {
    return [{ rule: 'allergy/suspected-item', level: 'ask', about, ...against(all), text }]
  }
  const conflict: AllergyFinding[] =
    lines.containing.length === 0
      ? []
      : [{ rule: 'allergy/conflict', level: 'stop', about, ...against(lines.containing) }]
  return lines.unknown.length === 0
    ? conflict
    : [...conflict, { rule: 'allergy/line-unknown', level: 'ask', about, ...against(lines.unknown) }]
}

/** A caution that was severe before, or may be next time, blocks like the rest. */
const gravityOf = ({ severity, criticality }: Allergy, substance: Substance): Gravity => {
  const { gravity } = SUBSTANCE_FAMILIES[substance]
  return gravity === 'caution' && (severity === 'severe' || criticality === 'high') ? 'listed' : gravity
}

/** Free text about other things: a prompt to ask where a line bears on it, else shown in its own words. */
function judgeOtherWords(sight: AllergySight): AllergyFinding[] {
  const about = `patient:${sight.patient.id}`
  const asked = sight.record?.asked ?? null
  const entries = (sight.record?.allergies ?? []).filter(
    (allergy) => isLive(allergy) && substanceOf(allergy.substance) === 'other',
  )
  const open = readWords(sight.record).filter(({ at }) => !isAnsweredSince(asked, at))
  return [
    ...entries.map(({ text }): AllergyFinding => ({ rule: 'allergy/words', level: 'note', about, text })),
    ...open.flatMap(({ text, source, reading }): AllergyFinding[] => {
      if (reading.kind === 'unread') {
        return source === 'visit'
          ? [{ rule: 'allergy/reaction-unread', level: 'ask', about, text }]
          : [{ rule: 'allergy/words', level: 'note', about, text }]
      }
      if (reading.kind !== 'possible') return []
      return reading.substances.flatMap((substance) => judgeSaid(substance, text, sight))
    }),
  ]
}

function judgeSaid(substance: Substance, text: string, sight: AllergySight): AllergyFinding[] {
  if (substance === 'latex' || substance === 'latex-foods') return []
  const about = `patient:${sight.patient.id}`
  const { containing, unknown } = linesOf(substance, sight)
  const lines = [...containing, ...unknown]
  const swap = SUBSTANCE_FAMILIES[substance].substitute
  return lines.length === 0
    ? [{ rule: 'allergy/words', level: 'note', about, text }]
    : [{ rule: 'allergy/suspected-item', level: 'ask', about, substance, lines, swap, text }]
}
