import type { Brand } from './base/brand.ts'

/** Every fact has an id of its own brand: a UUID in lower case. Given out by `parseId` and by the caller's `newId`. */
export type ClinicId = Brand<string, 'ClinicId'>
export type SiteId = Brand<string, 'SiteId'>
export type PolicySetId = Brand<string, 'PolicySetId'>
export type OperatoryId = Brand<string, 'OperatoryId'>
export type DeviceId = Brand<string, 'DeviceId'>
export type MemberId = Brand<string, 'MemberId'>
export type RosterId = Brand<string, 'RosterId'>
export type PatientId = Brand<string, 'PatientId'>
export type MouthChartId = Brand<string, 'MouthChartId'>
export type AllergyRecordId = Brand<string, 'AllergyRecordId'>
export type AppointmentId = Brand<string, 'AppointmentId'>
export type WorkId = Brand<string, 'WorkId'>
export type IsolationChoiceId = Brand<string, 'IsolationChoiceId'>
export type PlanId = Brand<string, 'PlanId'>
export type WordId = Brand<string, 'WordId'>
export type AsPlacedId = Brand<string, 'AsPlacedId'>
export type GuideId = Brand<string, 'GuideId'>
export type AnaestheticId = Brand<string, 'AnaestheticId'>
export type DoseId = Brand<string, 'DoseId'>
export type NumbnessId = Brand<string, 'NumbnessId'>
export type TrayId = Brand<string, 'TrayId'>
export type TrayLineId = Brand<string, 'TrayLineId'>
export type KitId = Brand<string, 'KitId'>
export type PackId = Brand<string, 'PackId'>
export type LoadId = Brand<string, 'LoadId'>
export type IndicatorId = Brand<string, 'IndicatorId'>
export type SteriliserId = Brand<string, 'SteriliserId'>
export type StockLineId = Brand<string, 'StockLineId'>
export type InstrumentSetId = Brand<string, 'InstrumentSetId'>
export type VisitId = Brand<string, 'VisitId'>
export type OccupancyId = Brand<string, 'OccupancyId'>
export type IncidentId = Brand<string, 'IncidentId'>
export type ImportSourceId = Brand<string, 'ImportSourceId'>
export type ImportBatchId = Brand<string, 'ImportBatchId'>
export type ImportProblemId = Brand<string, 'ImportProblemId'>
export type OwnWordId = Brand<string, 'OwnWordId'>
export type CalendarAddressId = Brand<string, 'CalendarAddressId'>
export type MessageId = Brand<string, 'MessageId'>
export type CommandId = Brand<string, 'CommandId'>

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/

/** A UUID as its branded id, or null. The brand is the caller's to name: the text cannot tell. */
export const parseId = <Id extends Brand<string, string>>(text: string): Id | null =>
  UUID.test(text) ? (text as Id) : null
