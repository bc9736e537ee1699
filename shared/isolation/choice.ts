import type { AppointmentId, ClinicId, IsolationChoiceId } from '../ids.ts'
import type { IsolationChoice } from './isolation-facts.ts'

/** The choice of an appointment on which nobody has chosen anything yet. */
export const openChoice = (of: {
  clinicId: ClinicId
  id: IsolationChoiceId
  appointmentId: AppointmentId
}): IsolationChoice => ({
  ...of,
  policy: null,
  anchors: [],
  sheetMaterial: null,
  alternative: null,
  answers: [],
  drawing: null,
})
