import { z } from 'zod'
import { asClinic } from '#db/as-clinic.ts'
import type { Tx } from '#db/database.ts'
import type { Day } from '#shared/base/moment.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import { day } from '#shared/inputs.ts'
import { can } from '#shared/people/role.ts'
import { clinical, router } from './init.ts'

/** Visits of a student on which a dam was placed. */
export interface Placements {
  studentId: MemberId
  visits: number
}

/** Counted where they lie, by the index of students' visits; two sheets of one visit count once. */
const countPlaced = (tx: Tx, clinicId: ClinicId, before: Day): PromiseLike<Placements[]> =>
  tx.unsafe<Placements[]>(
    `select a.student_id as "studentId", count(*)::integer as visits from appointment a
      where a.clinic_id = $1 and a.student_id is not null and a.day < $2
        and exists (select from as_placed p where p.clinic_id = a.clinic_id and p.appointment_id = a.id)
      group by a.student_id`,
    [clinicId, before],
    { prepare: true },
  )

export const signOffsRouter = router({
  /** Per student, all there ever were before a day: that day's own are counted from its window, as they come. */
  placements: clinical
    .input(z.object({ before: day }))
    .query(async ({ ctx: { house, session }, input }): Promise<Placements[]> => {
      if (!can(session.roles, 'sign-off:give')) return []
      return asClinic(
        house.database,
        session.clinicId,
        async (tx) => [...(await countPlaced(tx, session.clinicId, input.before))],
        'read',
      )
    }),
})
