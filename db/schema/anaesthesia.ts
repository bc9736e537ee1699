import { index, integer, pgTable, text, uniqueIndex } from 'drizzle-orm/pg-core'
import {
  AGENTS,
  type Anaesthetic,
  LIMIT_PROFILE_IDS,
  NUMBNESS_ANSWERS,
  type Numbness,
  TECHNIQUES,
  VASOCONSTRICTORS,
} from '#shared/anaesthesia/anaesthetic.ts'
import type { Microlitres } from '#shared/base/amount.ts'
import type { AnaestheticId, AppointmentId, DoseId, MemberId, NumbnessId, PatientId } from '#shared/ids.ts'
import type { Side, Tooth } from '#shared/teeth/tooth.ts'
import { factKey, id, instantMs, json, keys, kinds, livesAs, oneOf, pointsAt } from '../columns.ts'
import { member } from './clinic.ts'
import { patient } from './patients.ts'
import { appointment } from './schedule.ts'

export const anaesthetic = pgTable(
  'anaesthetic',
  {
    ...keys<AnaestheticId>(),
    appointmentId: id<AppointmentId>().notNull(),
    intent: json<Anaesthetic['intent']>().notNull(),
    planned: json<Anaesthetic['planned']>().notNull(),
    profile: text({ enum: LIMIT_PROFILE_IDS }),
    readings: json<Anaesthetic['readings']>(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    livesAs(
      'anaesthetic_intent',
      table.intent,
      kinds<Anaesthetic['intent']>()('undecided', 'injection', 'none'),
    ),
    oneOf('anaesthetic_profile', table.profile, LIMIT_PROFILE_IDS),
    uniqueIndex('anaesthetic_one').on(table.clinicId, table.appointmentId),
  ],
)

export const dose = pgTable(
  'dose',
  {
    ...keys<DoseId>(),
    appointmentId: id<AppointmentId>().notNull(),
    patientId: id<PatientId>().notNull(),
    agent: text({ enum: AGENTS }).notNull(),
    milliPercent: integer().notNull(),
    vasoconstrictor: text({ enum: VASOCONSTRICTORS }).notNull(),
    ratio: integer(),
    cartridge: integer().$type<Microlitres>().notNull(),
    technique: text({ enum: TECHNIQUES }).notNull(),
    tooth: text().$type<Tooth>(),
    side: text().$type<Side>().notNull(),
    tenthsOfCartridge: integer().notNull(),
    by: id<MemberId>().notNull(),
    at: instantMs().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    pointsAt(table, table.patientId, () => patient),
    pointsAt(table, table.by, () => member),
    oneOf('dose_agent', table.agent, AGENTS),
    oneOf('dose_vasoconstrictor', table.vasoconstrictor, VASOCONSTRICTORS),
    oneOf('dose_technique', table.technique, TECHNIQUES),
    index('dose_appointment').on(table.clinicId, table.appointmentId),
    index('dose_patient').on(table.clinicId, table.patientId, table.at),
  ],
)

const METHODS = ['probe', 'cold', 'electric', 'patient-said'] as const satisfies readonly Numbness['method'][]
export const numbness = pgTable(
  'numbness',
  {
    ...keys<NumbnessId>(),
    appointmentId: id<AppointmentId>().notNull(),
    place: json<Numbness['place']>().notNull(),
    answer: text({ enum: NUMBNESS_ANSWERS }).notNull(),
    method: text({ enum: METHODS }).notNull(),
    by: id<MemberId>().notNull(),
    at: instantMs().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    pointsAt(table, table.by, () => member),
    livesAs('numbness_place', table.place, kinds<Numbness['place']>()('gum', 'tooth')),
    oneOf('numbness_answer', table.answer, NUMBNESS_ANSWERS),
    oneOf('numbness_method', table.method, METHODS),
    index('numbness_appointment').on(table.clinicId, table.appointmentId),
  ],
)
