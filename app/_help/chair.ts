import type { AppointmentId } from '#shared/ids.ts'

/** A chair that help can be called to. */
export interface Chair {
  appointmentId: AppointmentId
  /** `Operatory 3`. */
  name: string
}
