import { findFact, type World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import type { Member } from '../people/clinic.ts'
import { can } from '../people/role.ts'
import type { Tooth } from '../teeth/tooth.ts'
import { CLAMPS, type Sequence } from './clamps.ts'
import type { IsolationFinding } from './findings.ts'
import type { AgreedClamp, AsPlaced, Plan } from './isolation-facts.ts'

/** The plan with the highest number; null where there is none. */
export const newestPlan = (world: World, appointmentId: AppointmentId): Plan | null =>
  world.plan
    .filter((plan) => plan.appointmentId === appointmentId)
    .reduce<Plan | null>((newest, plan) => (newest && newest.number > plan.number ? newest : plan), null)

export const placedOf = (world: World, appointmentId: AppointmentId): AsPlaced | null =>
  world.asPlaced
    .filter((placed) => placed.appointmentId === appointmentId)
    .reduce<AsPlaced | null>((newest, placed) => (newest && newest.at > placed.at ? newest : placed), null)

/** What was done at the chair, as it is recorded. */
export interface Placing {
  appointmentId: AppointmentId
  planNumber: number
  field: Tooth[]
  clamps: AgreedClamp[]
  sequence: Sequence
  tied: boolean
  inspected: boolean
  bow: 'back' | 'front'
}

/** Why a placing is refused; empty where it is not. */
export function judgePlacing(
  world: World,
  placing: Placing,
  { plan, by }: { plan: Plan; by: Member },
): IsolationFinding[] {
  const about = `appointment:${placing.appointmentId}`
  if (placing.planNumber !== plan.number) {
    return [{ rule: 'plan/stale', level: 'stop', about, sent: placing.planNumber, stands: plan.number }]
  }
  const { state } = plan.agreed
  if (state !== 'planned') return [{ rule: 'plan/not-agreeable', level: 'stop', about, state }]
  return [
    ...judgeWho(world, placing, by),
    ...judgeClamps(placing, world.policySet[0]?.isolation.untiedClampAllowed ?? false),
    ...judgeMatch(placing, { plan, by }),
  ]
}

/** Local law says who may place a sheet; where the site has not said, an assistant prepares only. */
function judgeWho(world: World, { appointmentId }: Placing, by: Member): IsolationFinding[] {
  const about = `appointment:${appointmentId}`
  const appointment = findFact(world, 'appointment', appointmentId)
  const site = findFact(world, 'site', appointment?.siteId ?? null)
  const isAssistant = !can(by.roles, 'work:start')
  const isSupervised = site?.assistantPlaces === 'allowed' && appointment?.dentistId != null
  return isAssistant && !isSupervised ? [{ rule: 'dam/not-allowed-here', level: 'stop', about }] : []
}

/** The conditions of the three sequences, and what holds for every clamp. */
export function judgeClamps(placing: Placing, untiedAllowed: boolean): IsolationFinding[] {
  const about = `appointment:${placing.appointmentId}`
  const findings: IsolationFinding[] = []
  const [first] = placing.clamps
  if (!first) return findings
  const families = placing.clamps.map(({ family }) => family)
  const wingless = families.find((family) => !CLAMPS[family].value.winged)
  const asOneUnit = placing.sequence === 'together' && wingless === undefined
  if (placing.sequence === 'together' && wingless !== undefined && isWinglessAnchor(placing)) {
    findings.push({ rule: 'clamp/wingless-together', level: 'stop', about, family: wingless })
  }
  if (!placing.tied && !(asOneUnit && untiedAllowed)) {
    findings.push({ rule: 'clamp/untied', level: 'stop', about, families })
  }
  if (!placing.inspected) findings.push({ rule: 'clamp/not-inspected', level: 'stop', about })
  if (placing.bow === 'front') {
    findings.push({ rule: 'clamp/bow-forward', level: 'stop', about, tooth: first.tooth })
  }
  return findings
}

/** A retractor is added over the sheet; only the clamps that carry it count. */
const isWinglessAnchor = ({ clamps }: Placing): boolean =>
  clamps.some(({ family, role }) => role !== 'retractor' && !CLAMPS[family].value.winged)

/** Another tooth is always a stop; another field or clamped tooth is the dentist's to record. */
function judgeMatch(placing: Placing, { plan, by }: { plan: Plan; by: Member }): IsolationFinding[] {
  const about = `appointment:${placing.appointmentId}`
  const working = plan.agreed.work.flatMap(({ teeth }) => teeth)
  const planned = plan.agreed.sheets.flatMap(({ field }) => field)
  const shown = working.filter((tooth) => planned.includes(tooth))
  if (shown.some((tooth) => !placing.field.includes(tooth))) {
    return [{ rule: 'dam/wrong-tooth', level: 'stop', about, planned: shown, placed: placing.field }]
  }
  const clamped = plan.agreed.sheets.flatMap(({ clamps }) => clamps.map(({ tooth }) => tooth))
  const isAsPlanned =
    isSame(placing.field, planned) &&
    isSame(
      placing.clamps.map(({ tooth }) => tooth),
      clamped,
    )
  return isAsPlanned || can(by.roles, 'word:give')
    ? []
    : [{ rule: 'dam/differs', level: 'stop', about, planned, placed: placing.field }]
}

const isSame = (a: readonly Tooth[], b: readonly Tooth[]): boolean =>
  a.length === b.length && a.every((tooth) => b.includes(tooth))

export interface Removal {
  holesWhole: number
  septaCut: number
  clamps: number
  ligaturesIn: number
  ligatures: number
  fragment: 'none-missing' | 'missing' | 'explained'
}

export interface Expected {
  holes: number
  septa: number
  clamps: number
}

/** What must come out. A slit sheet has no septa inside its cut; a single hole none at all. */
export function expectedOf(placed: AsPlaced, plan: Plan): Expected {
  const isAsPlanned = isSame(
    placed.field,
    plan.agreed.sheets.flatMap(({ field }) => field),
  )
  const { sheets } = plan.agreed
  return {
    holes: isAsPlanned ? sheets.reduce((sum, { holes }) => sum + holes.length, 0) : placed.field.length,
    septa: isAsPlanned
      ? sheets.reduce((sum, sheet) => sum + septaOf(sheet), 0)
      : Math.max(0, placed.field.length - 1),
    clamps: placed.clamps.length,
  }
}

const septaOf = ({ holes, slit }: { holes: readonly unknown[]; slit: readonly unknown[] }): number =>
  Math.max(0, holes.length - 1 - (slit.length > 0 ? 1 : 0))

/** Why a removal is not closed; empty where all adds up. */
export function judgeRemoval(
  removal: Removal,
  { placed, plan, by }: { placed: AsPlaced; plan: Plan; by: Member },
): IsolationFinding[] {
  const expected = expectedOf(placed, plan)
  const about = `appointment:${placed.appointmentId}`
  const findings: IsolationFinding[] = []
  const { septaCut, holesWhole, clamps, ligatures, ligaturesIn, fragment } = removal
  const isExplained = fragment === 'explained' && can(by.roles, 'word:give')
  if (fragment !== 'none-missing' && !isExplained) {
    findings.push({ rule: 'removal/fragment', level: 'stop', about })
  }
  if (septaCut !== expected.septa && !isExplained) {
    findings.push({ rule: 'removal/septa', level: 'stop', about, cut: septaCut, expected: expected.septa })
  }
  if (holesWhole !== expected.holes && !isExplained) {
    findings.push({
      rule: 'removal/holes',
      level: 'stop',
      about,
      whole: holesWhole,
      expected: expected.holes,
    })
  }
  if (clamps !== expected.clamps) {
    findings.push({
      rule: 'removal/count',
      level: 'stop',
      about,
      what: 'clamps',
      found: clamps,
      expected: expected.clamps,
    })
  }
  if (ligatures !== ligaturesIn) {
    findings.push({
      rule: 'removal/count',
      level: 'stop',
      about,
      what: 'ligatures',
      found: ligatures,
      expected: ligaturesIn,
    })
  }
  return findings
}
