import type { PgTable } from 'drizzle-orm/pg-core'
import type { FactName, Facts } from '#shared/facts.ts'
import { anaesthetic, dose, numbness } from './schema/anaesthesia.ts'
import { clinic, member, operatory, policySet, roster, site } from './schema/clinic.ts'
import { calendarAddress, importBatch, importProblem, importSource, ownWord } from './schema/imports.ts'
import { asPlaced, guide, isolationChoice, plan, word } from './schema/isolation.ts'
import { allergyRecord, mouthChart, patient } from './schema/patients.ts'
import { appointment, incident, occupancy, visit, work } from './schema/schedule.ts'
import { indicator, instrumentSet, load, pack, steriliser } from './schema/sterility.ts'
import { kit, stockLine, tray, trayLine } from './schema/trays.ts'

/** Each fact's table. A row is the fact: a column that differs does not compile. */
export const tables = {
  clinic,
  site,
  policySet,
  operatory,
  member,
  roster,
  patient,
  mouthChart,
  allergyRecord,
  appointment,
  work,
  isolationChoice,
  plan,
  word,
  asPlaced,
  guide,
  visit,
  occupancy,
  anaesthetic,
  dose,
  numbness,
  kit,
  tray,
  trayLine,
  stockLine,
  steriliser,
  load,
  indicator,
  instrumentSet,
  pack,
  incident,
  importSource,
  importBatch,
  importProblem,
  ownWord,
  calendarAddress,
} satisfies { [Name in FactName]: PgTable & { $inferSelect: Facts[Name] } }

type Rows = { [Name in FactName]: (typeof tables)[Name]['$inferSelect'] }
/** The facts with a key that has no column: there is none, or this does not compile. */
type Unkept = { [Name in FactName]: Facts[Name] extends Rows[Name] ? never : Name }[FactName]
export const everyKeyIsKept: [Unkept] extends [never] ? true : Unkept = true
