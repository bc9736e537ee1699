import { getTableName, type SQL, sql } from 'drizzle-orm'
import {
  bigint,
  check,
  date,
  foreignKey,
  jsonb,
  type PgColumn,
  primaryKey,
  text,
  uuid,
} from 'drizzle-orm/pg-core'
import type { ClockTime, Day, Instant, Zone } from '#shared/base/moment.ts'
import type { ClinicId } from '#shared/ids.ts'
import { snake } from './rows.ts'

/** The makers of a fact's columns: the only place where a value has a form of its own in the database. */
export const id = <Id extends string>() => uuid().$type<Id>()
export const instantMs = () => bigint({ mode: 'number' }).$type<Instant>()
export const day = () => date({ mode: 'string' }).$type<Day>()
export const clockTime = () => text().$type<ClockTime>()
export const zone = () => text().$type<Zone>()
/** A union, a list or a nested record, as it stands in the fact. */
export const json = <T>() => jsonb().$type<T>()

/** The two columns every fact begins with. */
export const keys = <Id extends string>() => ({
  clinicId: id<ClinicId>().notNull(),
  id: id<Id>().notNull(),
})

interface Keyed {
  clinicId: PgColumn
  id: PgColumn
}

export const factKey = (table: Keyed) =>
  primaryKey({ name: `${getTableName(table.id.table)}_pk`, columns: [table.clinicId, table.id] })

/** A fact of the same clinic that this one points at. */
export const pointsAt = (table: { clinicId: PgColumn }, column: PgColumn, target: () => Keyed) =>
  foreignKey({
    name: `${getTableName(column.table)}_${snake(column.name)}_fk`,
    columns: [table.clinicId, column],
    foreignColumns: [target().clinicId, target().id],
  })

const listed = (values: readonly string[]): SQL =>
  sql.raw(values.map((value) => `'${value.replaceAll("'", "''")}'`).join(', '))

/** A bare state: one of a closed list. */
export const oneOf = (name: string, column: PgColumn, values: readonly string[]) =>
  check(name, sql`${column} in (${listed(values)})`)

/** A life cycle: its `kind` is one of a closed list. */
export const livesAs = (name: string, column: PgColumn, kinds: readonly string[]) =>
  check(name, sql`${column} ->> 'kind' in (${listed(kinds)})`)

/** All kinds of a union, none forgotten: `kinds<TrayLife>()('needed', …)` does not compile with one missing. */
export const kinds =
  <Union extends { kind: string }>() =>
  <const List extends readonly Union['kind'][]>(
    ...list: [Exclude<Union['kind'], List[number]>] extends [never] ? List : never
  ): readonly string[] =>
    list
