import { index, integer, pgTable, text, uniqueIndex } from 'drizzle-orm/pg-core'
import type {
  AppointmentId,
  AsPlacedId,
  GuideId,
  IsolationChoiceId,
  MemberId,
  PlanId,
  WordId,
} from '#shared/ids.ts'
import type { GuideTick } from '#shared/isolation/guide-facts.ts'
import {
  type Agreed,
  type AsPlaced,
  FIELD_POLICY_IDS,
  type IsolationChoice,
  SHEET_MATERIALS,
  type Word,
} from '#shared/isolation/isolation-facts.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { factKey, id, instantMs, json, keys, kinds, livesAs, oneOf, pointsAt } from '../columns.ts'
import { member } from './clinic.ts'
import { appointment } from './schedule.ts'

export const isolationChoice = pgTable(
  'isolation_choice',
  {
    ...keys<IsolationChoiceId>(),
    appointmentId: id<AppointmentId>().notNull(),
    policy: text({ enum: FIELD_POLICY_IDS }),
    anchors: json<Tooth[]>().notNull(),
    sheetMaterial: text({ enum: SHEET_MATERIALS }),
    alternative: json<IsolationChoice['alternative']>(),
    answers: json<IsolationChoice['answers']>().notNull(),
    drawing: json<IsolationChoice['drawing']>(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    oneOf('isolation_choice_policy', table.policy, FIELD_POLICY_IDS),
    oneOf('isolation_choice_sheet_material', table.sheetMaterial, SHEET_MATERIALS),
    uniqueIndex('isolation_choice_one').on(table.clinicId, table.appointmentId),
  ],
)

export const plan = pgTable(
  'plan',
  {
    ...keys<PlanId>(),
    appointmentId: id<AppointmentId>().notNull(),
    number: integer().notNull(),
    digest: text().notNull(),
    agreed: json<Agreed>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    uniqueIndex('plan_one').on(table.clinicId, table.appointmentId),
  ],
)

export const word = pgTable(
  'word',
  {
    ...keys<WordId>(),
    appointmentId: id<AppointmentId>().notNull(),
    planNumber: integer().notNull(),
    planDigest: text().notNull(),
    by: id<MemberId>().notNull(),
    at: instantMs().notNull(),
    station: text().notNull(),
    proposedBy: id<MemberId>(),
    life: json<Word['life']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    pointsAt(table, table.by, () => member),
    pointsAt(table, table.proposedBy, () => member),
    livesAs('word_life', table.life, kinds<Word['life']>()('live', 'lapsed', 'changed-since-start')),
    index('word_appointment').on(table.clinicId, table.appointmentId),
  ],
)

export const asPlaced = pgTable(
  'as_placed',
  {
    ...keys<AsPlacedId>(),
    appointmentId: id<AppointmentId>().notNull(),
    planNumber: integer().notNull(),
    field: json<Tooth[]>().notNull(),
    clamps: json<AsPlaced['clamps']>().notNull(),
    sheets: json<AsPlaced['sheets']>(),
    minutes: integer(),
    outcome: json<AsPlaced['outcome']>().notNull(),
    by: id<MemberId>().notNull(),
    at: instantMs().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    pointsAt(table, table.by, () => member),
    index('as_placed_appointment').on(table.clinicId, table.appointmentId),
  ],
)

export const guide = pgTable(
  'guide',
  {
    ...keys<GuideId>(),
    appointmentId: id<AppointmentId>().notNull(),
    ticks: json<GuideTick[]>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    uniqueIndex('guide_one').on(table.clinicId, table.appointmentId),
  ],
)
