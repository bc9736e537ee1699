import type { AppointmentId } from '../ids.ts'
import { archOf, positionOf, type Side, sideOf, type Tooth } from '../teeth/tooth.ts'
import type { PlannedDose } from './anaesthetic.ts'
import type { AnaesthesiaFinding } from './findings.ts'

/** Where injections are meant to be: at the worked teeth, and where some are planned, there. */
export interface Meant {
  appointmentId: AppointmentId
  worked: readonly Tooth[]
  planned: readonly Tooth[]
}

/** The place of each injection against its own side, the work and the plan; a side or tooth is told once. */
export function judgePlaces(
  doses: readonly Pick<PlannedDose, 'tooth' | 'side'>[],
  meant: Meant,
): AnaesthesiaFinding[] {
  const found = doses.flatMap((dose) => judgePlace(dose, meant))
  return [...new Map(found.map((each) => [JSON.stringify(each), each])).values()]
}

function judgePlace(
  { tooth, side }: Pick<PlannedDose, 'tooth' | 'side'>,
  { appointmentId, worked, planned }: Meant,
): AnaesthesiaFinding[] {
  const about = `appointment:${appointmentId}`
  const level = 'ask'
  if (isOtherSide(side, worked)) return [{ rule: 'dose/other-side', level, about, side, teeth: [...worked] }]
  if (tooth === null) return []
  const isOnItsSide = sideOf(tooth) === side || positionOf(tooth) === 1
  const away = [worked, planned].find((teeth) => isAway(tooth, teeth))
  if (isOnItsSide && away === undefined) return []
  return [{ rule: 'dose/other-tooth', level, about, tooth, side, teeth: [...(away ?? worked)] }]
}

/** Next to the midline either side may be meant. */
const isOtherSide = (side: Side, worked: readonly Tooth[]): boolean =>
  worked.length > 0 && worked.every((tooth) => sideOf(tooth) !== side && positionOf(tooth) > 1)

/** In another jaw than every one of them, or on the other side and not next to the midline. */
const isAway = (tooth: Tooth, teeth: readonly Tooth[]): boolean =>
  teeth.length > 0 && teeth.every((each) => archOf(each) !== archOf(tooth) || isAcross(each, tooth))

const isAcross = (one: Tooth, other: Tooth): boolean =>
  sideOf(one) !== sideOf(other) && positionOf(one) > 1 && positionOf(other) > 1
