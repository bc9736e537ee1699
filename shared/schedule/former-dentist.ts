import type { Instant } from '../base/moment.ts'
import type { MemberId } from '../ids.ts'
import type { Appointment, DentistChange, FormerDentist, VisitStage } from './appointment.ts'

export interface Changing {
  why: DentistChange
  by: MemberId
  at: Instant
}

type Treats = Pick<Appointment, 'dentistId' | 'formerDentist'>

/**
 * Another dentist on an appointment. Whom the patient expects is remembered with it, through any number of changes,
 * until the patient was told or has that dentist again.
 */
export function withDentist(
  { dentistId, formerDentist }: Treats,
  to: MemberId | null,
  changing: Changing,
): Treats {
  if (to === dentistId) return { dentistId, formerDentist: formerDentist ?? null }
  const { why, by, at: since } = changing
  const expected = expectedBy({ dentistId, formerDentist })
  if (expected === null || expected === to) return { dentistId: to, formerDentist: null }
  return { dentistId: to, formerDentist: { memberId: expected, why, by, since, called: null } }
}

/** Whom the patient expects: who was named to them last. */
function expectedBy({ dentistId, formerDentist }: Treats): MemberId | null {
  return formerDentist && formerDentist.called === null ? formerDentist.memberId : dentistId
}

export interface ChangedVisit {
  dentistId: MemberId | null
  formerDentist: FormerDentist | null
  stage: VisitStage
}

/** Whether the desk has this patient on the list of calls, made or to be made. Who sits in the chair has been told there. */
export const isToBeTold = ({ formerDentist, dentistId, stage }: ChangedVisit): boolean =>
  formerDentist !== null && dentistId !== null && (stage === 'expected' || stage === 'arrived')
