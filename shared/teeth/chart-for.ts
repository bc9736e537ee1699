import type { World } from '../facts.ts'
import type { ClinicId, MouthChartId, PatientId } from '../ids.ts'
import type { MouthChart } from './mouth-chart.ts'

/** The patient's chart, an empty one where there is none yet. */
export const chartFor = (
  world: World,
  patientId: PatientId,
  { clinicId, newId }: { clinicId: ClinicId; newId: <Id>() => Id },
): MouthChart =>
  world.mouthChart.find((chart) => chart.patientId === patientId) ?? {
    clinicId,
    id: newId<MouthChartId>(),
    patientId,
    charted: null,
    teeth: {},
    measure: null,
    clampSites: null,
  }
