import type { AppointmentId } from '../ids.ts'
import { archOf, positionOf, type Side, sideOf, type Tooth } from '../teeth/tooth.ts'
import type { PlannedDose } from './anaesthetic.ts'
import type { AnaesthesiaFinding } from './findings.ts'

export type Place = Pick<PlannedDose, 'tooth' | 'side' | 'technique'>

/** Where injections are meant to be: at the worked teeth, and where some are planned, there. */
export interface Meant {
  appointmentId: AppointmentId
  worked: readonly Tooth[]
  planned: readonly Place[]
}

/** The place of each injection against its own side, the work and the plan; a side or tooth is told once. */
export function judgePlaces(doses: readonly Place[], meant: Meant): AnaesthesiaFinding[] {
  const found = doses.flatMap((dose) => judgePlace(dose, meant))
  return [...new Map(found.map((each) => [JSON.stringify(each), each])).values()]
}

function judgePlace(place: Place, { appointmentId, worked, planned }: Meant): AnaesthesiaFinding[] {
  const about = `appointment:${appointmentId}`
  const level = 'ask'
  const { tooth, side } = place
  const teeth = [...worked]
  if (isOtherSide(place, worked.map(sideOf))) {
    return [{ rule: 'dose/other-side', level, about, side, teeth, planned: [] }]
  }
  const away = [worked, planned.flatMap((each) => each.tooth ?? [])].find((meant) => isAway(place, meant))
  if (tooth !== null && (away !== undefined || !(sideOf(tooth) === side || isAtMidline(place)))) {
    return [{ rule: 'dose/other-tooth', level, about, tooth, side, teeth: [...(away ?? worked)] }]
  }
  const sides = [...new Set(planned.map((each) => each.side))]
  return isOtherSide(place, sides)
    ? [{ rule: 'dose/other-side', level, about, side, teeth, planned: sides }]
    : []
}

/** Whether an injection went, or would go, where neither work nor plan has one. */
export const isElsewhere = (place: Place, meant: Meant): boolean => judgePlace(place, meant).length > 0

/** What is in elsewhere cannot be taken back: who treats says why, and goes on. */
export const judgePlacesGiven = (doses: readonly Place[], meant: Meant): AnaesthesiaFinding[] =>
  doses
    .filter((dose) => isElsewhere(dose, meant))
    .map(({ tooth, side }) => ({
      rule: 'dose/in-elsewhere',
      level: 'ask',
      about: `appointment:${meant.appointmentId}`,
      tooth,
      side,
      teeth: [...meant.worked],
    }))

/** Without a tooth nothing is read back before the needle: the side is planned, so that it can be compared. */
export const judgeSideSaid = (
  doses: readonly Place[],
  { appointmentId, worked, planned }: Meant,
): AnaesthesiaFinding[] =>
  worked.length > 0 || planned.length > 0 || doses.every(({ technique }) => technique === 'topical')
    ? []
    : [{ rule: 'dose/side-unsaid', level: 'ask', about: `appointment:${appointmentId}` }]

/** Next to the midline either side may be meant, but for a block, which numbs one side from its back. */
const isAtMidline = ({ tooth, technique }: Place): boolean =>
  tooth !== null && positionOf(tooth) <= 2 && technique !== 'block'

const isOtherSide = (place: Place, sides: readonly Side[]): boolean =>
  sides.length > 0 && !sides.includes(place.side) && !isAtMidline(place)

/** In another jaw than every one of them, or on the other side and not next to the midline. */
const isAway = (place: Place, teeth: readonly Tooth[]): boolean => {
  const { tooth } = place
  return tooth !== null && teeth.length > 0 && teeth.every((each) => !isNear(each, tooth, place))
}

const isNear = (each: Tooth, tooth: Tooth, place: Place): boolean =>
  archOf(each) === archOf(tooth) && (sideOf(each) === sideOf(tooth) || isAtMidline(place))
