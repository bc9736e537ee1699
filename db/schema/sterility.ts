import { boolean, index, pgTable, text, uniqueIndex } from 'drizzle-orm/pg-core'
import type { IndicatorId, InstrumentSetId, LoadId, PackId, SiteId, SteriliserId } from '#shared/ids.ts'
import {
  type Indicator,
  type InstrumentSet,
  type Load,
  PACK_KINDS,
  type Pack,
  STERILISER_TYPES,
  type Steriliser,
} from '#shared/sterility/sterility-facts.ts'
import { day, factKey, id, instantMs, json, keys, kinds, livesAs, oneOf, pointsAt } from '../columns.ts'
import { site } from './clinic.ts'

export const steriliser = pgTable(
  'steriliser',
  {
    ...keys<SteriliserId>(),
    siteId: id<SiteId>().notNull(),
    name: text().notNull(),
    type: text({ enum: STERILISER_TYPES }).notNull(),
    life: json<Steriliser['life']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.siteId, () => site),
    oneOf('steriliser_type', table.type, STERILISER_TYPES),
    livesAs('steriliser_life', table.life, kinds<Steriliser['life']>()('in-service', 'out-of-service')),
  ],
)

export const load = pgTable(
  'load',
  {
    ...keys<LoadId>(),
    steriliserId: id<SteriliserId>().notNull(),
    number: text().notNull(),
    programme: text().notNull(),
    reading: json<Load['reading']>(),
    started: instantMs().notNull(),
    life: json<Load['life']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.steriliserId, () => steriliser),
    livesAs('load_life', table.life, kinds<Load['life']>()('running', 'ended', 'released', 'failed')),
    index('load_steriliser').on(table.clinicId, table.steriliserId, table.started),
  ],
)

const INDICATOR_KINDS = ['chemical', 'spore', 'air-removal'] as const satisfies readonly Indicator['kind'][]
export const indicator = pgTable(
  'indicator',
  {
    ...keys<IndicatorId>(),
    steriliserId: id<SteriliserId>().notNull(),
    loadId: id<LoadId>(),
    kind: text({ enum: INDICATOR_KINDS }).notNull(),
    placed: instantMs().notNull(),
    life: json<Indicator['life']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.steriliserId, () => steriliser),
    pointsAt(table, table.loadId, () => load),
    oneOf('indicator_kind', table.kind, INDICATOR_KINDS),
    livesAs('indicator_life', table.life, kinds<Indicator['life']>()('pending', 'read')),
    index('indicator_steriliser').on(table.clinicId, table.steriliserId, table.placed),
    index('indicator_load').on(table.clinicId, table.loadId),
  ],
)

export const instrumentSet = pgTable(
  'instrument_set',
  {
    ...keys<InstrumentSetId>(),
    kind: text({ enum: PACK_KINDS }).notNull(),
    mark: text().notNull(),
    homeSiteId: id<SiteId>().notNull(),
    place: json<InstrumentSet['place']>().notNull(),
    incomplete: boolean().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.homeSiteId, () => site),
    oneOf('instrument_set_kind', table.kind, PACK_KINDS),
    livesAs(
      'instrument_set_place',
      table.place,
      kinds<InstrumentSet['place']>()('shelf', 'in-use', 'dirty', 'processing', 'in-transit'),
    ),
  ],
)

export const pack = pgTable(
  'pack',
  {
    ...keys<PackId>(),
    siteId: id<SiteId>().notNull(),
    code: text().notNull(),
    kind: text({ enum: PACK_KINDS }).notNull(),
    setId: id<InstrumentSetId>(),
    loadId: id<LoadId>(),
    sterilised: day(),
    seen: json<Pack['seen']>(),
    life: json<Pack['life']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.siteId, () => site),
    pointsAt(table, table.setId, () => instrumentSet),
    pointsAt(table, table.loadId, () => load),
    oneOf('pack_kind', table.kind, PACK_KINDS),
    livesAs(
      'pack_life',
      table.life,
      kinds<Pack['life']>()('shelf', 'reserved', 'opened', 'held', 'in-transit', 'returned'),
    ),
    uniqueIndex('pack_code').on(table.clinicId, table.code),
    index('pack_load').on(table.clinicId, table.loadId),
  ],
)
