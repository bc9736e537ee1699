import { z } from 'zod'
import { asClinic } from '#db/as-clinic.ts'
import { selectFacts } from '#db/select.ts'
import type { AppointmentId, ClinicId, PatientId } from '#shared/ids.ts'
import { id } from '#shared/inputs.ts'
import { byNewest, type PastPlacing } from '#shared/isolation/past.ts'
import type { Patient } from '#shared/people/patient.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import type { House } from '../house.ts'
import { clinical, router } from './init.ts'
import { noteReading } from './note-reading.ts'

const PAST_AT_MOST = 20

interface Asked {
  house: House
  clinicId: ClinicId
  patientId: PatientId
}

/** Who the patient is, their visits from the newest on, and the sheets worn at them; null where we hold no such patient. */
const readPatient = ({ house, clinicId, patientId }: Asked) =>
  asClinic(
    house.database,
    clinicId,
    async (tx): Promise<{ patient: Patient; visits: Appointment[]; past: PastPlacing[] } | null> => {
      const values = [patientId]
      const [patient] = await selectFacts(tx, clinicId, {
        name: 'patient',
        where: { sql: 'id = $2', values },
      })
      if (!patient) return null
      const visits = await selectFacts(tx, clinicId, {
        name: 'appointment',
        where: { sql: 'patient_id = $2', values },
      })
      const placed = await selectFacts(tx, clinicId, {
        name: 'asPlaced',
        where: {
          sql: 'appointment_id in (select id from appointment where clinic_id = $1 and patient_id = $2)',
          values,
        },
      })
      const days = new Map(visits.map(({ id, day }) => [id, day]))
      const past = placed.flatMap((each) => {
        const day = days.get(each.appointmentId)
        return day === undefined ? [] : [{ ...each, day }]
      })
      return {
        patient,
        visits: visits.sort((a, b) => b.start - a.start),
        past: byNewest(past).slice(0, PAST_AT_MOST),
      }
    },
    'read',
  )

export const mouthRouter = router({
  /** Sheets that the patient of an appointment wore at other visits, newest first. */
  before: clinical
    .input(z.object({ appointmentId: id<AppointmentId>() }))
    .query(async ({ ctx: { house, session }, input }): Promise<PastPlacing[]> => {
      const { clinicId } = session
      const [appointment] = await asClinic(
        house.database,
        clinicId,
        (tx) =>
          selectFacts(tx, clinicId, {
            name: 'appointment',
            where: { sql: 'id = $2', values: [input.appointmentId] },
          }),
        'read',
      )
      const read = appointment && (await readPatient({ house, clinicId, patientId: appointment.patientId }))
      return (read?.past ?? []).filter((each) => each.appointmentId !== input.appointmentId)
    }),
  /** A patient's mouth page: who, which visits, which sheets. That it was read is kept. */
  ofPatient: clinical
    .input(z.object({ patientId: id<PatientId>() }))
    .query(async ({ ctx: { house, session }, input }) => {
      const read = await readPatient({ house, clinicId: session.clinicId, ...input })
      await noteReading(house, session, { page: 'patient', appointmentId: read?.visits[0]?.id ?? null })
      return read
    }),
})
