import { asClinic } from '#db/as-clinic.ts'
import type { Tx } from '#db/database.ts'
import { listOf } from '#db/save.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { dayOf, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import type { ClinicId } from '#shared/ids.ts'
import { can } from '#shared/people/role.ts'
import { countOverrides, type OverrideCount, type Settled } from '#shared/readiness/override-count.ts'
import { RULES } from '#shared/rules.ts'
import { listAccounts } from '../sign-in/people.ts'
import { router, signedIn, TroubleError } from './init.ts'

const NOT_MANAGER = {
  what: 'This page is for the manager.',
  why: 'It sets what holds for the whole clinic.',
  todo: 'Ask the manager, or sign in as one.',
}
const manager = signedIn.use(({ ctx, next }) => {
  if (!can(ctx.session.roles, 'clinic:set')) throw new TroubleError('FORBIDDEN', NOT_MANAGER)
  return next()
})

/** Weeks looked back over. */
const WEEKS = 8
const WEEK_MS = 7 * 86_400_000

const answeredBy = (rule: string): readonly string[] =>
  rule in RULES ? RULES[rule as keyof typeof RULES].answeredBy : []

export const settingsRouter = router({
  /** Who may sign in, and under which name. */
  accounts: manager.query(({ ctx: { house, session } }) => listAccounts(house.database.db, session.clinicId)),
  kits: manager.query(({ ctx: { house, session } }) =>
    asClinic(
      house.database,
      session.clinicId,
      (tx) => selectFacts(tx, session.clinicId, { name: 'kit', where: everywhere }),
      'read',
    ),
  ),
  /** Overrides by week and rule, counted from the journal. */
  overrides: manager.query(
    ({ ctx: { house, session } }): Promise<OverrideCount[]> =>
      asClinic(
        house.database,
        session.clinicId,
        async (tx) => {
          const [site] = await selectFacts(tx, session.clinicId, { name: 'site', where: everywhere })
          return site ? countOverrides(await readSettled(tx, session.clinicId, site.zone), answeredBy) : []
        },
        'read',
      ),
  ),
})

/** Overrides of the last weeks, and the commands that answered those rules instead. */
async function readSettled(tx: Tx, clinicId: ClinicId, zone: Zone): Promise<Settled[]> {
  const overrides = await readActs(tx, clinicId, ['rule.override'])
  const kinds = new Set(overrides.flatMap(({ rule }) => (rule === null ? [] : answeredBy(rule))))
  const acts = [...overrides, ...(kinds.size === 0 ? [] : await readActs(tx, clinicId, [...kinds]))]
  return acts.map(({ at, ...act }) => ({ ...act, day: dayOf(instant(at), zone) }))
}

interface Act extends Omit<Settled, 'day'> {
  at: Instant
}

/** Counted back from the newest entry, so that a demonstration's moved clock counts too. */
const readActs = async (tx: Tx, clinicId: ClinicId, kinds: readonly string[]): Promise<Act[]> => [
  ...(await tx.unsafe<Act[]>(
    `select j.at, j.kind, case when j.kind = 'rule.override' then j.command -> 'input' ->> 'rule' end as rule,
        t.appointment_id as "appointmentId"
      from journal j join journal_appointment t on t.clinic_id = j.clinic_id and t.revision = j.revision
      where j.clinic_id = $1 and j.kind = any($2::text[])
        and j.at > (select max(at) from journal where clinic_id = $1) - $3`,
    [clinicId, listOf(kinds), WEEKS * WEEK_MS],
    { prepare: true },
  )),
]
