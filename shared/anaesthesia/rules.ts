import type { Rule } from '../base/rule.ts'
import { COMMON, memory, read, type Source } from '../base/source.ts'
import type { AnaesthesiaFinding } from './findings.ts'

const LABELS = read('US labels of dental anaesthetics: maxima, ages, contraindications')
const REFUSE = read('US labels: maxima by weight; what is not known is not checked')
const CEILING = read('P&G CE547, Taifour & Terézhalmy 2018, table 3')
const TOGETHER = memory('Malamed, Handbook of Local Anesthesia, chapter on dosage')
const PROBE = read('Nusstein, Reader, Drum, Inside Dentistry May 2008: mucosal probe, cold or electric test')
const LIP = read('Dagher 1997 and Nusstein 1998: a numb lip leaves the pulp unproven')
const LENGTHS = read('P&G CE646, Duration of Action')
const BITE = read('College et al, Pediatr Dent 2000;22:453–7: self-bite after mandibular block')
const RIGHT_DRUG = read('Dental Protection August 2021: drug, strength and expiry read back')

const UNIVERSAL_PROTOCOL = read('Joint Commission Universal Protocol: differences settled before the start')

const DECIDING = ['anaesthetic.plan', 'anaesthetic.none-by-intent'] as const
const doseAsk = (source: Source, answeredBy: readonly string[] = DECIDING, next: Rule['next'] = 'dentist') =>
  ({ level: 'ask', next, answeredBy, check: 'numbness', gate: 'inject', policy: null, source }) satisfies Rule
const note = (source: Source, next: Rule['next'] = 'dentist') =>
  ({
    level: 'note',
    next,
    answeredBy: [],
    check: 'numbness',
    gate: null,
    policy: null,
    source,
  }) satisfies Rule
const refusal = (source: Source, answeredBy: readonly string[], next: Rule['next'] = 'dentist') =>
  ({ level: 'stop', next, answeredBy, check: null, gate: null, policy: null, source }) satisfies Rule
const WEIGHING = ['patient.weigh', 'anaesthetic.none-by-intent'] as const

export const ANAESTHESIA_RULES = {
  'dose/over-maximum': {
    ...refusal(LABELS, ['anaesthetic.plan']),
    check: 'numbness',
    gate: 'inject',
    policy: 'anaesthesia.adultProfile',
  },
  'dose/over-vasoconstrictor': {
    ...refusal(CEILING, ['anaesthetic.plan']),
    check: 'numbness',
    gate: 'inject',
  },
  'dose/weight-missing': doseAsk(REFUSE, WEIGHING, 'assistant'),
  'dose/weight-line': { ...note(REFUSE, 'assistant'), policy: 'anaesthesia.adultWeightMonths' },
  'dose/weight-old': { ...doseAsk(REFUSE, WEIGHING, 'assistant'), policy: 'anaesthesia.weightMonths' },
  'dose/weight-unit': doseAsk(REFUSE, WEIGHING, 'assistant'),
  'dose/weight-implausible': doseAsk(COMMON, WEIGHING, 'assistant'),
  'dose/age-unknown': doseAsk(REFUSE, ['patient.change', 'anaesthetic.none-by-intent'], 'front-desk'),
  'dose/age-contradicts': doseAsk(COMMON, ['patient.change', 'anaesthetic.none-by-intent'], 'front-desk'),
  'dose/no-profile': { ...doseAsk(REFUSE), policy: 'anaesthesia.adultProfile' },
  'dose/no-row': doseAsk(REFUSE),
  'dose/not-for-age': doseAsk(REFUSE),
  'dose/row-not-confirmed': doseAsk(
    memory('AAPD, older editions: the current row for prilocaine is uncertain'),
  ),
  'dose/age-gate': doseAsk(LABELS),
  'dose/barred': { ...doseAsk(LABELS), never: 'allergy' },
  'dose/bar-unknown': doseAsk(LABELS, ['history.confirm', ...DECIDING], 'assistant'),
  'dose/bar-unsaid': note(LABELS),
  'dose/solution-unknown': doseAsk(read('US labels and P&G CE646: strengths of dental cartridges')),
  'dose/over-formula': doseAsk(read('US label, mepivacaine: table and formula for children')),
  'dose/label-ceiling-mixed': doseAsk(read('US label, articaine 4 % with epinephrine, sections 2.1 and 2.2')),
  'dose/cartridge-unknown': doseAsk(REFUSE),
  'dose/ceiling-unknown': doseAsk(CEILING, ['history.confirm', 'anaesthetic.plan'], 'assistant'),
  'dose/ceiling-by-history': doseAsk(read('teaching pages on epinephrine and the heart (low authority)')),
  'dose/caution': doseAsk(read('US label, articaine 4 % with epinephrine: drug interactions, precautions')),
  'dose/no-child-ceiling': note(CEILING),
  'dose/long-acting-mixed': { ...doseAsk(TOGETHER), policy: 'anaesthesia.combine' },
  'dose/other-side': { ...doseAsk(UNIVERSAL_PROTOCOL), never: 'tooth' },
  'dose/other-tooth': { ...doseAsk(UNIVERSAL_PROTOCOL), never: 'tooth' },
  'dose/side-unsaid': doseAsk(UNIVERSAL_PROTOCOL),
  'dose/in-elsewhere': { ...doseAsk(UNIVERSAL_PROTOCOL, ['rule.override']), gate: 'clamp' },
  'dose/not-for-blocks': { ...note(COMMON), policy: 'anaesthesia.notForBlocks' },
  'dose/not-as-planned': {
    ...refusal(RIGHT_DRUG, ['anaesthetic.plan', 'cartridge.read']),
    check: 'numbness',
    gate: 'inject',
  },
  'cartridge/not-read-back': doseAsk(RIGHT_DRUG, ['cartridge.read', 'cartridge.answer'], 'assistant'),
  'cartridge/expired': refusal(RIGHT_DRUG, ['cartridge.read'], 'assistant'),
  'cartridge/same-person': refusal(RIGHT_DRUG, ['cartridge.answer'], 'assistant'),
  'cartridge/nothing-read': refusal(RIGHT_DRUG, ['cartridge.read'], 'assistant'),
  'dose/instructor-first': refusal(COMMON, ['dose.record'], 'instructor'),
  'dose/none-intended': refusal(COMMON, ['anaesthetic.plan']),
  'dose/visit-not-seated': refusal(COMMON, ['visit.seat'], 'assistant'),
  'numbness/not-tested': {
    level: 'ask',
    next: 'assistant',
    answeredBy: ['numbness.record', 'anaesthetic.none-by-intent'],
    check: 'numbness',
    gate: 'clamp',
    policy: null,
    source: PROBE,
  },
  'numbness/tooth-not-tested': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['numbness.record', 'anaesthetic.none-by-intent'],
    check: 'numbness',
    gate: 'start',
    policy: null,
    source: LIP,
  },
  'numbness/felt': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['numbness.record', 'dose.record'],
    check: 'numbness',
    gate: 'clamp',
    policy: null,
    source: PROBE,
  },
  'numbness/none-given': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['dose.record', 'anaesthetic.none-by-intent'],
    check: 'numbness',
    gate: 'clamp',
    policy: null,
    source: COMMON,
  },
  'numbness/waiting': note(LENGTHS, 'assistant'),
  'numbness/window-ends': note(LENGTHS),
  'numbness/re-check': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['numbness.record', 'dose.record'],
    check: 'numbness',
    gate: 'start',
    policy: 'anaesthesia.recheckMinutes',
    source: LENGTHS,
  },
  'numbness/by-intent': note(COMMON),
  'numbness/nobody-stays': {
    level: 'ask',
    next: 'assistant',
    answeredBy: ['stay.name'],
    check: 'numbness',
    gate: null,
    policy: null,
    source: COMMON,
  },
  'numbness/not-seated': refusal(COMMON, ['visit.seat'], 'assistant'),
  'aftercare/not-given': {
    level: 'ask',
    next: 'assistant',
    answeredBy: ['aftercare.give'],
    check: 'numbness',
    gate: 'leave',
    policy: null,
    source: BITE,
  },
} satisfies Record<AnaesthesiaFinding['rule'], Rule>
