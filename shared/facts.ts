import type { AllergyRecord } from './allergies/allergy-record.ts'
import type { Anaesthetic, Dose, Numbness } from './anaesthesia/anaesthetic.ts'
import type { Guide } from './isolation/guide-facts.ts'
import type { AsPlaced, IsolationChoice, Plan, Word } from './isolation/isolation-facts.ts'
import type { Clinic, Member, Operatory, Roster, Site } from './people/clinic.ts'
import type { Patient } from './people/patient.ts'
import type { PolicySet } from './people/policy-set.ts'
import type { OwnWord, Work } from './procedures/work.ts'
import type { Appointment, Incident, Occupancy, Visit } from './schedule/appointment.ts'
import type { CalendarAddress, ImportBatch, ImportProblem, ImportSource } from './schedule/import-batch.ts'
import type { Indicator, InstrumentSet, Load, Pack, Steriliser } from './sterility/sterility-facts.ts'
import type { MouthChart } from './teeth/mouth-chart.ts'
import type { Kit, StockLine, Tray, TrayLine } from './trays/tray.ts'

/** Every kind of fact by name. A fact is plain JSON: absent is null, keys are gained, never lost or renamed. */
export interface Facts {
  clinic: Clinic
  site: Site
  policySet: PolicySet
  operatory: Operatory
  member: Member
  roster: Roster
  patient: Patient
  mouthChart: MouthChart
  allergyRecord: AllergyRecord
  appointment: Appointment
  work: Work
  isolationChoice: IsolationChoice
  plan: Plan
  word: Word
  asPlaced: AsPlaced
  guide: Guide
  visit: Visit
  occupancy: Occupancy
  anaesthetic: Anaesthetic
  dose: Dose
  numbness: Numbness
  kit: Kit
  tray: Tray
  trayLine: TrayLine
  stockLine: StockLine
  steriliser: Steriliser
  load: Load
  indicator: Indicator
  instrumentSet: InstrumentSet
  pack: Pack
  incident: Incident
  importSource: ImportSource
  importBatch: ImportBatch
  importProblem: ImportProblem
  ownWord: OwnWord
  calendarAddress: CalendarAddress
}

/** In the order in which they may be inserted: what is pointed at stands before what points. */
export const FACT_NAMES = [
  'clinic',
  'site',
  'policySet',
  'operatory',
  'member',
  'roster',
  'patient',
  'mouthChart',
  'allergyRecord',
  'importSource',
  'importBatch',
  'appointment',
  'work',
  'isolationChoice',
  'plan',
  'word',
  'asPlaced',
  'guide',
  'visit',
  'occupancy',
  'anaesthetic',
  'dose',
  'numbness',
  'kit',
  'steriliser',
  'load',
  'indicator',
  'instrumentSet',
  'pack',
  'stockLine',
  'tray',
  'trayLine',
  'incident',
  'importProblem',
  'ownWord',
  'calendarAddress',
] as const satisfies readonly (keyof Facts)[]
export type FactName = (typeof FACT_NAMES)[number]

/** Some facts, by kind: what a rule judges, what a screen holds. Plain JSON as it stands. */
export type World = { [Name in FactName]: Facts[Name][] }

export const emptyWorld = (): World =>
  Object.fromEntries(FACT_NAMES.map((name) => [name, []])) as unknown as World

/** The fact with this id; undefined where the world does not hold it. */
export const findFact = <Name extends FactName>(
  world: World,
  name: Name,
  id: string | null,
): Facts[Name] | undefined =>
  id === null
    ? undefined
    : ((world[name] as { id: string }[]).find((fact) => fact.id === id) as Facts[Name] | undefined)
