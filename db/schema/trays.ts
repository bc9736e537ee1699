import { boolean, index, integer, pgTable, text, uniqueIndex } from 'drizzle-orm/pg-core'
import type { AppointmentId, KitId, MemberId, PackId, StockLineId, TrayId, TrayLineId } from '#shared/ids.ts'
import {
  type Contents,
  KIT_KEYS,
  type Kit,
  type KitKey,
  LINE_CLASSES,
  type Tray,
  type TrayLife,
  type TrayLine,
} from '#shared/trays/tray.ts'
import { day, factKey, id, json, keys, kinds, livesAs, oneOf, pointsAt } from '../columns.ts'
import { member } from './clinic.ts'
import { appointment } from './schedule.ts'
import { pack } from './sterility.ts'

export const kit = pgTable(
  'kit',
  {
    ...keys<KitId>(),
    key: text({ enum: KIT_KEYS }).notNull(),
    name: text().notNull(),
    dentistId: id<MemberId>(),
    lines: json<Kit['lines']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.dentistId, () => member),
    oneOf('kit_key', table.key, KIT_KEYS),
  ],
)

export const stockLine = pgTable(
  'stock_line',
  {
    ...keys<StockLineId>(),
    item: text().notNull(),
    name: text().notNull(),
    lot: text().notNull(),
    expires: day(),
    count: integer().notNull(),
    reorderAt: integer().notNull(),
    contents: json<Contents>().notNull(),
  },
  (table) => [factKey(table)],
)

export const tray = pgTable(
  'tray',
  {
    ...keys<TrayId>(),
    appointmentId: id<AppointmentId>().notNull(),
    kits: json<KitKey[]>().notNull(),
    planNumber: integer().notNull(),
    standby: boolean().notNull(),
    life: json<TrayLife>().notNull(),
    done: integer().notNull(),
    of: integer().notNull(),
    firstMissing: text(),
    contains: json<Tray['contains']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    livesAs(
      'tray_life',
      table.life,
      kinds<TrayLife>()(
        'needed',
        'claimed',
        'laid-out',
        'checked',
        'opened',
        'counted-back',
        'cleared',
        'held',
      ),
    ),
    uniqueIndex('tray_one').on(table.clinicId, table.appointmentId),
  ],
)

export const trayLine = pgTable(
  'tray_line',
  {
    ...keys<TrayLineId>(),
    trayId: id<TrayId>().notNull(),
    position: integer().notNull(),
    item: text().notNull(),
    name: text().notNull(),
    count: integer().notNull(),
    class: text({ enum: LINE_CLASSES }).notNull(),
    packKind: text(),
    contents: json<Contents>().notNull(),
    countedBack: boolean().notNull(),
    packId: id<PackId>(),
    stockLineId: id<StockLineId>(),
    tick: json<TrayLine['tick']>(),
    fault: json<TrayLine['fault']>(),
    swapped: json<TrayLine['swapped']>(),
    omitted: json<TrayLine['omitted']>(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.trayId, () => tray),
    pointsAt(table, table.packId, () => pack),
    pointsAt(table, table.stockLineId, () => stockLine),
    oneOf('tray_line_class', table.class, LINE_CLASSES),
    index('tray_line_tray').on(table.clinicId, table.trayId),
    index('tray_line_pack').on(table.clinicId, table.packId),
  ],
)
