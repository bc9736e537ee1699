import { index, pgTable, text, uniqueIndex } from 'drizzle-orm/pg-core'
import { ALLERGY_STATES, type AllergyRecord } from '#shared/allergies/allergy-record.ts'
import type { AllergyRecordId, MouthChartId, PatientId } from '#shared/ids.ts'
import type { Patient } from '#shared/people/patient.ts'
import type { MouthChart } from '#shared/teeth/mouth-chart.ts'
import { day, factKey, id, json, keys, oneOf, pointsAt } from '../columns.ts'

export const patient = pgTable(
  'patient',
  {
    ...keys<PatientId>(),
    given: text().notNull(),
    family: text().notNull(),
    born: day(),
    identifiers: json<Patient['identifiers']>().notNull(),
    weight: json<Patient['weight']>(),
    guardian: json<Patient['guardian']>(),
    interpreter: json<Patient['interpreter']>(),
    history: json<Patient['history']>().notNull(),
    historyConfirmed: json<Patient['historyConfirmed']>(),
  },
  (table) => [factKey(table), index('patient_family').on(table.clinicId, table.family)],
)

export const mouthChart = pgTable(
  'mouth_chart',
  {
    ...keys<MouthChartId>(),
    patientId: id<PatientId>().notNull(),
    charted: json<MouthChart['charted']>(),
    teeth: json<MouthChart['teeth']>().notNull(),
    measure: json<MouthChart['measure']>(),
    clampSites: json<MouthChart['clampSites']>(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.patientId, () => patient),
    uniqueIndex('mouth_chart_one').on(table.clinicId, table.patientId),
  ],
)

const LATEX = ['not-asked', 'asked-unknown', 'none-known', 'suspected', 'confirmed'] as const
export const allergyRecord = pgTable(
  'allergy_record',
  {
    ...keys<AllergyRecordId>(),
    patientId: id<PatientId>().notNull(),
    state: text({ enum: ALLERGY_STATES }).notNull(),
    asked: json<AllergyRecord['asked']>(),
    latex: text({ enum: LATEX }).notNull(),
    latexAsked: json<AllergyRecord['latexAsked']>(),
    allergies: json<AllergyRecord['allergies']>().notNull(),
    statements: json<AllergyRecord['statements']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.patientId, () => patient),
    uniqueIndex('allergy_record_one').on(table.clinicId, table.patientId),
    oneOf('allergy_record_state', table.state, ALLERGY_STATES),
    oneOf('allergy_record_latex', table.latex, LATEX),
  ],
)
