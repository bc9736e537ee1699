import { bigint, integer, pgTable, primaryKey, text, uniqueIndex, uuid } from 'drizzle-orm/pg-core'
import type { Instant } from '#shared/base/moment.ts'
import type { Change } from '#shared/change.ts'
import type { Command } from '#shared/command.ts'
import type { Finding } from '#shared/finding.ts'
import type { AppointmentId, ClinicId, CommandId, MemberId } from '#shared/ids.ts'
import { day, id, instantMs, json } from '../columns.ts'

/**
 * Every change ever made. `digest` is SHA-256 over the previous row's digest, this row's metadata and the
 * content digest, which is SHA-256 over salt and content; blanking the content and the salt leaves both
 * digests, so the chain still verifies.
 */
export const journal = pgTable(
  'journal',
  {
    clinicId: id<ClinicId>().notNull(),
    revision: bigint({ mode: 'number' }).notNull(),
    commandId: id<CommandId>().notNull(),
    kind: text().notNull(),
    /** Clinic clock. */
    at: instantMs().notNull(),
    /** Wall clock. */
    recordedAt: instantMs().notNull(),
    by: id<MemberId>().notNull(),
    station: text().notNull(),
    /** Content; null once blanked. */
    command: json<Command>(),
    change: json<Change>(),
    before: json<Change>(),
    findings: json<Finding[]>(),
    salt: text(),
    /** Which shape of facts the row was written in. */
    shape: integer().notNull(),
    contentDigest: text().notNull(),
    previous: text().notNull(),
    digest: text().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.clinicId, table.revision] }),
    uniqueIndex('journal_command').on(table.clinicId, table.commandId),
  ],
)

/** One row per clinic: its revision and the digest its next journal row hangs on. Locking it makes one writer. */
export const clinicClock = pgTable(
  'clinic_clock',
  {
    clinicId: id<ClinicId>().notNull(),
    revision: bigint({ mode: 'number' }).notNull(),
    digest: text().notNull(),
  },
  (table) => [primaryKey({ columns: [table.clinicId] })],
)

/** Who looked at which clinical page. Outside the chain and the clock's lock. */
export const readLog = pgTable(
  'read_log',
  {
    clinicId: id<ClinicId>().notNull(),
    id: uuid().notNull(),
    at: bigint({ mode: 'number' }).$type<Instant>().notNull(),
    memberId: id<MemberId>().notNull(),
    station: text().notNull(),
    page: text().notNull(),
    appointmentId: id<AppointmentId>(),
  },
  (table) => [primaryKey({ columns: [table.clinicId, table.id] })],
)

/** Which entries touched an appointment: its story, without searching the journal. */
export const journalAppointment = pgTable(
  'journal_appointment',
  {
    clinicId: id<ClinicId>().notNull(),
    appointmentId: id<AppointmentId>().notNull(),
    revision: bigint({ mode: 'number' }).notNull(),
  },
  (table) => [primaryKey({ columns: [table.clinicId, table.appointmentId, table.revision] })],
)

/**
 * Where and when an appointment stood that an entry took away from an operatory or a dentist: their feeds still owe
 * a cancellation to whoever has it in a calendar.
 */
export const journalDeparture = pgTable(
  'journal_departure',
  {
    clinicId: id<ClinicId>().notNull(),
    /** The operatory or the member. */
    targetId: uuid().notNull(),
    appointmentId: id<AppointmentId>().notNull(),
    revision: bigint({ mode: 'number' }).notNull(),
    day: day().notNull(),
    start: instantMs().notNull(),
    minutes: integer().notNull(),
  },
  (table) => [
    primaryKey({
      name: 'journal_departure_pk',
      columns: [table.clinicId, table.targetId, table.appointmentId, table.revision],
    }),
  ],
)
