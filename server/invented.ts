import { randomUUID } from 'node:crypto'
import { asClinic } from '#db/as-clinic.ts'
import { DEMO_MOMENT } from '#seed/acts.ts'
import { emailOf, FOUNDER, INVENTED_PASSWORD, INVENTED_PIN, PEOPLE, PERSON_KEYS } from '#seed/people.ts'
import { seedInventedClinic } from '#seed/run.ts'
import { memberOf, type Told } from '#seed/telling.ts'
import { instant } from '#shared/base/moment.ts'
import type { Change } from '#shared/change.ts'
import type { ClinicId, CommandId, MemberId } from '#shared/ids.ts'
import type { Foundations } from './foundations.ts'
import { addAccount } from './sign-in/accounts.ts'
import { setPin } from './sign-in/stations.ts'

/** Makes the invented clinic, gives its people accounts, and sets its clock to the start of its day. */
export async function inventClinic({
  database,
  accounts,
  perform,
  wall,
}: Foundations): Promise<{ signInAs: string; password: string }> {
  // A new id each time: a first run that was cut short leaves a clinic that nobody can enter, and this one is whole.
  const clinicId = randomUUID() as ClinicId
  const founder = randomUUID() as MemberId
  const ask = async ({ at, ...told }: Omit<Told, 'at'> & { at?: Told['at'] }): Promise<Change> => {
    const performed = await perform({
      clinicId,
      command: { ...told, id: randomUUID() as CommandId, sawRevision: 0, madeAt: at ?? instant(wall()) },
      ...(at === undefined ? {} : { at }),
    })
    if (!performed.refused) return performed.change
    throw new Error(`The invented clinic broke a rule: ${told.kind}: ${JSON.stringify(performed)}`)
  }
  const telling = await seedInventedClinic(ask, founder)
  await ask({ kind: 'clock.move', input: { to: DEMO_MOMENT }, by: founder, station: 'invented' })
  for (const key of PERSON_KEYS) {
    const { name } = PEOPLE[key]
    const memberId = memberOf(telling, key)
    await addAccount(accounts, database.db, {
      name,
      email: emailOf(key),
      password: INVENTED_PASSWORD,
      clinicId,
      memberId,
    })
    await setPin(accounts, database.db, { clinicId, memberId, pin: INVENTED_PIN })
  }
  return { signInAs: emailOf(FOUNDER), password: INVENTED_PASSWORD }
}

/** Where the last session of a demonstration stopped, the next one goes on: the clock never stands in an empty tomorrow. */
export async function resumeClock(
  { database, perform, wall }: Foundations,
  clinicId: ClinicId,
): Promise<void> {
  const [last] = await asClinic(
    database,
    clinicId,
    (tx) => tx<{ at: number | null; by: MemberId }[]>`
      select max(case kind when 'clock.move' then (command -> 'input' ->> 'to')::bigint else at end) as at,
        (select "by" from journal where clinic_id = ${clinicId} and revision = 1) as by
      from journal where clinic_id = ${clinicId}`,
    'read',
  )
  if (!last?.at) return
  await perform({
    clinicId,
    command: {
      id: randomUUID() as CommandId,
      kind: 'clock.move',
      input: { to: last.at },
      sawRevision: 0,
      madeAt: instant(wall()),
      by: last.by,
      station: 'invented',
    },
  })
}
