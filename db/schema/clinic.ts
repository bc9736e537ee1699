import { boolean, index, integer, pgTable, text, uniqueIndex } from 'drizzle-orm/pg-core'
import type { ClinicId, MemberId, OperatoryId, PolicySetId, RosterId, SiteId } from '#shared/ids.ts'
import { type ClinicClock, OPERATORY_KINDS, type Roster, type StartOfDay } from '#shared/people/clinic.ts'
import type { PolicySet } from '#shared/people/policy-set.ts'
import type { Role } from '#shared/people/role.ts'
import { NOTATIONS } from '#shared/teeth/notation-names.ts'
import {
  clockTime,
  day,
  factKey,
  id,
  instantMs,
  json,
  keys,
  kinds,
  livesAs,
  oneOf,
  pointsAt,
  zone,
} from '../columns.ts'

export const clinic = pgTable(
  'clinic',
  {
    ...keys<ClinicId>(),
    name: text().notNull(),
    invented: boolean().notNull(),
    notation: text({ enum: NOTATIONS }).notNull(),
    clock: json<ClinicClock>().notNull(),
  },
  (table) => [
    factKey(table),
    oneOf('clinic_notation', table.notation, NOTATIONS),
    livesAs('clinic_clock_kind', table.clock, kinds<ClinicClock>()('wall', 'demo')),
  ],
)

const PLACES = ['allowed', 'not-allowed', 'not-set'] as const
export const site = pgTable(
  'site',
  {
    ...keys<SiteId>(),
    name: text().notNull(),
    zone: zone().notNull(),
    opensAt: clockTime().notNull(),
    closesAt: clockTime().notNull(),
    assistantPlaces: text({ enum: PLACES }).notNull(),
    startOfDay: json<StartOfDay>(),
  },
  (table) => [factKey(table), oneOf('site_assistant_places', table.assistantPlaces, PLACES)],
)

export const policySet = pgTable(
  'policy_set',
  {
    ...keys<PolicySetId>(),
    isolation: json<PolicySet['isolation']>().notNull(),
    anaesthesia: json<PolicySet['anaesthesia']>().notNull(),
    allergies: json<PolicySet['allergies']>().notNull(),
    trays: json<PolicySet['trays']>().notNull(),
    sterility: json<PolicySet['sterility']>().notNull(),
    schedule: json<PolicySet['schedule']>().notNull(),
    word: json<PolicySet['word']>().notNull(),
    help: json<PolicySet['help']>(),
    lines: json<PolicySet['lines']>(),
    clamps: json<PolicySet['clamps']>(),
    ofDentists: json<PolicySet['ofDentists']>(),
  },
  (table) => [factKey(table), uniqueIndex('policy_set_one').on(table.clinicId)],
)

export const operatory = pgTable(
  'operatory',
  {
    ...keys<OperatoryId>(),
    siteId: id<SiteId>().notNull(),
    name: text().notNull(),
    position: integer().notNull(),
    kind: text({ enum: OPERATORY_KINDS }).notNull(),
    latexSafe: boolean().notNull(),
    retiredAt: instantMs(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.siteId, () => site),
    oneOf('operatory_kind', table.kind, OPERATORY_KINDS),
  ],
)

export const member = pgTable(
  'member',
  {
    ...keys<MemberId>(),
    name: text().notNull(),
    shortName: text().notNull(),
    roles: json<Role[]>().notNull(),
    active: boolean().notNull(),
    releasesLoads: boolean().notNull(),
    drawsFirst: boolean(),
  },
  (table) => [factKey(table)],
)

export const roster = pgTable(
  'roster',
  {
    ...keys<RosterId>(),
    memberId: id<MemberId>().notNull(),
    siteId: id<SiteId>().notNull(),
    day: day().notNull(),
    start: instantMs().notNull(),
    end: instantMs().notNull(),
    away: json<Roster['away']>(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.memberId, () => member),
    pointsAt(table, table.siteId, () => site),
    index('roster_day').on(table.clinicId, table.day),
  ],
)
