import type { Rule } from '../base/rule.ts'
import { COMMON, read } from '../base/source.ts'
import type { ImportFinding } from './import-findings.ts'

const refuses = {
  level: 'stop',
  next: 'front-desk',
  answeredBy: ['appointments.import', 'import.settle'],
  check: null,
  gate: null,
  policy: null,
  source: COMMON,
} as const

export const IMPORT_RULES = {
  'import/row-open': {
    level: 'ask',
    next: 'front-desk',
    answeredBy: ['import.settle', 'import.map'],
    check: null,
    gate: null,
    policy: null,
    source: COMMON,
  },
  'import/tray-released': {
    level: 'note',
    next: 'assistant',
    answeredBy: [],
    check: 'tray',
    gate: null,
    policy: null,
    source: COMMON,
  },
  'import/tray-carried': {
    level: 'note',
    next: 'assistant',
    answeredBy: ['tray.let-go'],
    check: 'tray',
    gate: null,
    policy: null,
    source: COMMON,
  },
  'import/allergy-kept': {
    level: 'note',
    next: 'dentist',
    answeredBy: ['allergies.record'],
    check: 'allergies',
    gate: null,
    policy: null,
    source: read('HL7 FHIR R4, AllergyIntolerance: verificationStatus and clinicalStatus'),
  },
  'import/nothing-read': refuses,
  'import/problem-unknown': refuses,
  'import/problem-settled': refuses,
  'import/address-unread': { ...refuses, next: 'manager', answeredBy: ['calendar.follow'] },
  'import/name-unknown': { ...refuses, answeredBy: ['import.map'] },
} satisfies Record<ImportFinding['rule'], Rule>
