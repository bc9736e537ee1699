import type { World } from '../facts.ts'
import type { AnaestheticId, AppointmentId, ClinicId } from '../ids.ts'
import type { Anaesthetic } from './anaesthetic.ts'

/** The appointment's anaesthetic as it stands, or a first one with nothing decided. */
export const anaestheticOf = (
  world: World,
  id: AppointmentId,
  { clinicId, newId }: { clinicId: ClinicId; newId: <Id>() => Id },
): Anaesthetic =>
  world.anaesthetic.find((each) => each.appointmentId === id) ?? {
    clinicId,
    id: newId<AnaestheticId>(),
    appointmentId: id,
    intent: { kind: 'undecided' },
    planned: [],
    profile: null,
    readings: null,
  }
