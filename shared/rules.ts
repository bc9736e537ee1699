import { ALLERGY_RULES } from './allergies/rules.ts'
import { ANAESTHESIA_RULES } from './anaesthesia/rules.ts'
import type { Rule } from './base/rule.ts'
import type { Finding } from './finding.ts'
import { ISOLATION_RULES } from './isolation/rules.ts'
import { JOURNAL_RULES } from './journal/rules.ts'
import { PEOPLE_RULES } from './people/rules.ts'
import { PROCEDURE_RULES } from './procedures/rules.ts'
import { READINESS_RULES } from './readiness/rules.ts'
import { IMPORT_RULES } from './schedule/import-rules.ts'
import { SCHEDULE_RULES } from './schedule/rules.ts'
import { STERILITY_RULES } from './sterility/rules.ts'
import { TEETH_RULES } from './teeth/rules.ts'
import { TRAY_RULES } from './trays/rules.ts'

/** All areas' rules by name. */
export const RULES: Record<Finding['rule'], Rule> = {
  ...TEETH_RULES,
  ...PROCEDURE_RULES,
  ...ISOLATION_RULES,
  ...ANAESTHESIA_RULES,
  ...ALLERGY_RULES,
  ...TRAY_RULES,
  ...STERILITY_RULES,
  ...SCHEDULE_RULES,
  ...IMPORT_RULES,
  ...PEOPLE_RULES,
  ...READINESS_RULES,
  ...JOURNAL_RULES,
}
