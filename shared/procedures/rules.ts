import type { Rule } from '../base/rule.ts'
import { COMMON, read } from '../base/source.ts'
import type { ProcedureFinding } from './findings.ts'

const ask = {
  level: 'ask',
  next: 'dentist',
  answeredBy: ['work.name'],
  check: 'plan',
  gate: 'inject',
  policy: null,
} as const
const refusal = {
  level: 'stop',
  next: 'dentist',
  check: null,
  gate: null,
  policy: null,
  source: COMMON,
} as const

export const PROCEDURE_RULES = {
  'work/undetermined': { ...ask, source: COMMON, never: 'tooth' },
  'work/no-tooth': {
    never: 'tooth',
    ...ask,
    source: read('Cullingham, Saksena, Pemberton, BDJ 2017: checklist, site mark, cross-checking'),
  },
  'work/unknown': { ...refusal, answeredBy: ['work.name'] },
  'work/words-too-few': { ...refusal, next: 'front-desk', answeredBy: ['words.teach'] },
  'work/who-first': {
    ...refusal,
    next: 'assistant',
    answeredBy: ['visit.identify'],
    source: read(
      'Joint Commission NPSG.01.01.01, ambulatory 2015: two identifiers; room or chair location is none',
    ),
  },
  'work/surface-elsewhere': { ...refusal, answeredBy: ['work.name'] },
} satisfies Record<ProcedureFinding['rule'], Rule>
