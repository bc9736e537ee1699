import type { Sentences } from '../../base/rule.ts'
import { nameWork } from '../../procedures/catalogue.ts'
import type { ProcedureFinding } from '../../procedures/findings.ts'

export const PROCEDURE_SENTENCES = {
  'work/undetermined': {
    says: ({ text }) =>
      `“${text}” does not say what is to be done. The dentist names the work; nothing is assumed.`,
    desk: ({ text }) => `Ask the dentist what “${text}” is to be`,
  },
  'work/no-tooth': {
    says: ({ kind, text }) => `No tooth is named for the ${nameWork(kind)} (“${text}”).`,
    desk: ({ text }) => `Ask the dentist for the tooth of “${text}”`,
  },
} satisfies Partial<Sentences<ProcedureFinding>>
