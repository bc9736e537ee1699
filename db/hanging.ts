import type { FactName } from '#shared/facts.ts'
import { listOf } from './save.ts'
import type { Lists, Wanted, Where } from './select.ts'
import { everywhere } from './select.ts'

/** The lists that a reading may ask for by name. */
export const REACHED = 'any(array(select id from reached))'
export const PEOPLE = 'any(array(select id from people))'
export const ROOMS = 'any(array(select id from rooms))'
const TRAYS = 'any(array(select id from trays))'
export const COMPANY = 'any(array(select id from company))'

export const OF_REACHED: Where = { sql: `appointment_id = ${REACHED}`, values: [] }
/** Kinds that hang on an appointment by its id alone. */
export const HANGING = [
  'work',
  'isolationChoice',
  'plan',
  'word',
  'asPlaced',
  'visit',
  'anaesthetic',
  'numbness',
  'tray',
] as const satisfies readonly FactName[]

export const byId = (ids: readonly string[]): Where => ({
  sql: 'id = any($2::uuid[])',
  values: [listOf(ids)],
})
export const where = (sql: string): Where => ({ sql, values: [] })

/** The appointments reached, their patients and more, their operatories and trays. */
export const listsOf = (reached: Where, patients: readonly string[]): Lists => ({
  'reached(id)': reached,
  'people(id)': {
    sql: `(select patient_id from appointment where clinic_id = $1 and id = ${REACHED}
      union select unnest($2::uuid[]))`,
    values: [listOf(patients)],
  },
  'rooms(id)': where(`(select operatory_id from appointment where clinic_id = $1 and id = ${REACHED})`),
  'trays(id)': where(`(select id from tray where clinic_id = $1 and appointment_id = ${REACHED})`),
})

const behindLines = (column: string): Where =>
  where(`id in (select ${column} from tray_line where clinic_id = $1 and tray_id = ${TRAYS})`)

/** All that hangs on the appointments reached and the people. */
export const HANGING_ON: Wanted = {
  ...Object.fromEntries(HANGING.map((name) => [name, OF_REACHED])),
  guide: OF_REACHED,
  appointment: where(`id = ${REACHED}`),
  patient: where(`id = ${PEOPLE}`),
  mouthChart: where(`patient_id = ${PEOPLE}`),
  allergyRecord: where(`patient_id = ${PEOPLE}`),
  // Other doses of the same day count towards the same limit.
  dose: where(`appointment_id = ${REACHED} or appointment_id in
    (select b.id from appointment a join appointment b
      on b.clinic_id = a.clinic_id and b.patient_id = a.patient_id and b.day = a.day
      where a.clinic_id = $1 and a.id = ${REACHED})`),
  occupancy: where(`operatory_id = ${ROOMS}`),
  incident: where(`appointment_id = ${REACHED} or (operatory_id = ${ROOMS} and life ->> 'kind' = 'open')`),
  trayLine: where(`tray_id = ${TRAYS}`),
  pack: behindLines('pack_id'),
  stockLine: behindLines('stock_line_id'),
}

export const orWhere = (has: Where | undefined, ids: readonly string[], column: string): Where =>
  either(has, { sql: `${column} = any($2::uuid[])`, values: [listOf(ids)] })

/** What either condition asks for. */
export function either(one: Where | undefined, other: Where): Where {
  if (one === everywhere) return one
  if (!one) return other
  const first = one.values.length
  const shifted = other.sql.replace(/\$(\d+)/g, (as, n) => (n === '1' ? as : `$${Number(n) + first}`))
  return { sql: `(${one.sql}) or ${shifted}`, values: [...one.values, ...other.values] }
}

/** Loads and indicators behind the packs that are read, and the sets that were wrapped in them. */
export function withBehindPacks(wanted: Wanted): { wanted: Wanted; lists: Lists } {
  if (!wanted.pack) return { wanted, lists: {} }
  const packs: Where = {
    sql: `(select load_id, set_id from pack where clinic_id = $1 and (${wanted.pack.sql}))`,
    values: wanted.pack.values,
  }
  const loads = 'any(array(select load_id from packs))'
  return {
    wanted: {
      ...wanted,
      load: either(wanted.load, where(`id = ${loads}`)),
      indicator: either(wanted.indicator, where(`load_id = ${loads}`)),
      instrumentSet: either(wanted.instrumentSet, where('id = any(array(select set_id from packs))')),
    },
    lists: { packs },
  }
}
