import type { Sentences } from '../../base/rule.ts'
import type { ProcedureFinding } from '../../procedures/findings.ts'

export const PROCEDURE_REFUSALS = {
  'work/unknown': {
    says: () => 'This line of work is no longer there. Nothing was changed. Open the appointment again.',
    desk: () => 'Open the appointment again',
  },
  'work/words-too-few': {
    says: ({ words }) =>
      `“${words}” holds no word by which work could be told again. Other lines would be read wrongly. Give two letters or more, without the tooth.`,
    desk: ({ words }) =>
      `“${words}” holds no word by which work could be told again. Other lines would be read wrongly. Give two letters or more, without the tooth.`,
  },
  'work/who-first': {
    says: () =>
      'What was planned would be named otherwise with someone in the chair. Where mouth and plan differ it may be another patient. Ask who it is, then name the work.',
    desk: null,
  },
  'work/surface-elsewhere': {
    says: ({ teeth }) =>
      `Surfaces are given for ${teeth.join(', ')}, which the work does not name. The field would be wrong. Name the tooth or leave the surfaces out.`,
    desk: null,
  },
} satisfies Partial<Sentences<ProcedureFinding>>
