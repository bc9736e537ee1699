import { must } from '#shared/base/assert.ts'
import type { Day } from '#shared/base/moment.ts'
import type { Reach } from '#shared/command.ts'
import type { ClinicId } from '#shared/ids.ts'
import type { Tx } from './database.ts'
import { listOf } from './save.ts'
import { selectIds, type Where } from './select.ts'

/** Texts as PostgreSQL writes an array. */
const textsOf = (values: readonly string[]): string =>
  `{${values.map((value) => `"${value.replace(/["\\]/g, '\\$&')}"`).join(',')}}`

/** The patients a command reaches: by id, and those that an import's names and identifiers may mean. */
export async function reachPatients(tx: Tx, clinicId: ClinicId, reach: Reach): Promise<string[]> {
  const found = new Set<string>(reach.patients ?? [])
  if (reach.patientsNamed?.length) {
    const ids = await selectIds(tx, clinicId, {
      sql: `select p.id from patient p
        join jsonb_to_recordset($2::jsonb) as named(family text, born date)
          on lower(p.family) = lower(named.family) and (p.born is not distinct from named.born
            or p.born is null or named.born is null)
        where p.clinic_id = $1`,
      values: [JSON.stringify(reach.patientsNamed)],
    })
    for (const id of ids) found.add(id)
  }
  if (reach.patientsIdentified?.length) {
    const ids = await selectIds(tx, clinicId, {
      sql: `select p.id from patient p
        cross join lateral jsonb_to_recordset(p.identifiers) as has(system text, value text)
        join jsonb_to_recordset($2::jsonb) as wanted(system text, value text)
          on has.system = wanted.system and has.value = wanted.value
        where p.clinic_id = $1`,
      values: [JSON.stringify(reach.patientsIdentified)],
    })
    for (const id of ids) found.add(id)
  }
  return [...found]
}

interface Part {
  sql: (first: number) => string
  values: string[]
}

const OVER = "'fulfilled', 'cancelled', 'noshow', 'entered-in-error'"

/** Whether what a command reaches depends on which day it is. */
export const dependsOnToday = (reach: Reach): boolean =>
  reach.upcoming === true ||
  [reach.patients, reach.patientsNamed, reach.patientsIdentified, reach.operatories].some(
    (each) => each?.length,
  )

function partsOf(reach: Reach, today: Day | null, patients: readonly string[]): Part[] {
  const parts: Part[] = []
  const known = (day: Day | null): Day => must(day, 'what is still to come is counted from today')
  const add = (ids: readonly string[] | undefined, sql: Part['sql'], ...more: (Day | null)[]) => {
    if (ids?.length) parts.push({ sql, values: [listOf(ids), ...more.map(known)] })
  }
  const ofPacks = (packs: string) => `select t.appointment_id from tray_line l
    join tray t on t.clinic_id = l.clinic_id and t.id = l.tray_id
    where l.clinic_id = $1 and l.pack_id in (${packs})`
  add(
    reach.appointments,
    (n) => `select id from appointment where clinic_id = $1 and id = any($${n}::uuid[])`,
  )
  add(reach.trays, (n) => `select appointment_id from tray where clinic_id = $1 and id = any($${n}::uuid[])`)
  add(reach.packs, (n) => ofPacks(`select unnest($${n}::uuid[])`))
  add(reach.loads, (n) =>
    ofPacks(`select id from pack where clinic_id = $1 and load_id = any($${n}::uuid[])`),
  )
  add(reach.sterilisers, (n) =>
    ofPacks(`select p.id from pack p join load o on o.clinic_id = p.clinic_id and o.id = p.load_id
      where p.clinic_id = $1 and o.steriliser_id = any($${n}::uuid[])`),
  )
  add(
    patients,
    (n) => `select id from appointment where clinic_id = $1 and patient_id = any($${n}::uuid[])
      and day >= $${n + 1}::date and status not in (${OVER})`,
    today,
  )
  add(reach.wholeDays, (n) => `select id from appointment where clinic_id = $1 and day = any($${n}::date[])`)
  if (reach.upcoming) {
    parts.push({
      sql: (n) => `select id from appointment where clinic_id = $1 and day >= $${n}::date
        and status not in (${OVER})`,
      values: [known(today)],
    })
  }
  add(
    reach.operatories,
    (n) => `select id from appointment where clinic_id = $1 and operatory_id = any($${n}::uuid[])
      and day = $${n + 1}::date`,
    today,
  )
  add(
    reach.incidents,
    (n) => `select appointment_id from incident where clinic_id = $1 and id = any($${n}::uuid[])
      and appointment_id is not null`,
  )
  if (reach.source?.externalIds.length) {
    const { sql, value } = sourceWhere(reach.source)
    parts.push({
      sql: (n) => `select id from appointment where clinic_id = $1
        and external_source_id in (select id::text from import_source where clinic_id = $1 and ${sql(n)})
        and external_id = any($${n + 1}::text[])`,
      values: [value, textsOf(reach.source.externalIds)],
    })
  }
  return parts
}

/** Which source is meant: by id, or by name. */
export const sourceWhere = (
  source: NonNullable<Reach['source']>,
): { sql: (n: number) => string; value: string } =>
  'id' in source
    ? { sql: (n) => `id = $${n}::uuid`, value: source.id }
    : { sql: (n) => `name = $${n}`, value: source.name }

/** The ids of the appointments a command reaches, whichever way it names them; null where it names none. */
export function appointmentsReached(
  reach: Reach,
  { today, patients }: { today: Day | null; patients: readonly string[] },
): Where | null {
  const parts = partsOf(reach, today, patients)
  if (parts.length === 0) return null
  const values: string[] = []
  const selects = parts.map((part) => {
    const sql = part.sql(values.length + 2)
    values.push(...part.values)
    return sql
  })
  return { sql: `(${selects.join(' union ')})`, values }
}
