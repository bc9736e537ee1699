import type { Sentences } from '../../base/rule.ts'
import type { ProcedureFinding } from '../../procedures/findings.ts'

export const PROCEDURE_SENTENCES: Sentences<ProcedureFinding> = {
  'work/undetermined': { says: () => 'The booking does not say what will be done.', desk: null },
}
