import type { Minutes } from '../base/moment.ts'
import type { Finding } from '../finding.ts'

/**
 * Open answers that are the ordinary next step of a visit: they keep their gate shut, but colour nothing until
 * they are overdue. Minutes after the stage began by which each is usually done; after that it is an Ask.
 * (COMMON: common practice, no source. The wait for numbness after a block is 5–15 minutes.)
 */
export const STEP_MINUTES: Partial<Record<Finding['rule'], Minutes>> = {
  'guardian/not-recorded': 10,
  'guardian/age-unknown': 10,
  'interpreter/not-recorded': 10,
  'consent/missing': 15,
  'plan/uncharted': 10,
  'allergies/not-asked': 10,
  'allergies/aged-out': 10,
  'latex/not-asked': 10,
  'word/missing': 15,
  'tray/not-laid-out': 10,
  'tray/not-opened': 20,
  'side/not-read-back': 15,
  'cartridge/not-read-back': 20,
  'history/not-confirmed': 15,
  'line/not-asked': 15,
  'dose/weight-missing': 10,
  'dose/ceiling-unknown': 15,
  'numbness/not-tested': 20,
  'numbness/none-given': 20,
  'numbness/nobody-stays': 10,
  'numbness/tooth-not-tested': 20,
  'aftercare/not-given': 20,
  'teeth/not-recounted': 15,
  'time-out/missing': 15,
  'counts/not-done': 20,
}

export const isStep = (rule: Finding['rule']): boolean => STEP_MINUTES[rule] !== undefined

/** Not due yet, and its plank says so: the allergies are asked when the patient sits. */
export const isForLater = (rule: Finding['rule']): boolean => rule === 'allergies/ask-at-seating'
