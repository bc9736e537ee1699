import { findFact, type World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import type { Member, Site } from '../people/clinic.ts'
import { can } from '../people/role.ts'
import type { Appointment } from '../schedule/appointment.ts'
import type { Tooth } from '../teeth/tooth.ts'
import { CLAMPS } from './clamps.ts'
import type { IsolationFinding } from './findings.ts'
import type { Guide } from './guide-facts.ts'
import type { AgreedClamp, AgreedSheet, AsPlaced, PlacedSheet, Plan } from './isolation-facts.ts'

/** The plan with the highest number; null where there is none. */
export const newestPlan = (world: World, appointmentId: AppointmentId): Plan | null =>
  world.plan
    .filter((plan) => plan.appointmentId === appointmentId)
    .reduce<Plan | null>((newest, plan) => (newest && newest.number > plan.number ? newest : plan), null)

export const placedOf = (world: World, appointmentId: AppointmentId): AsPlaced | null =>
  world.asPlaced
    .filter((placed) => placed.appointmentId === appointmentId)
    .reduce<AsPlaced | null>((newest, placed) => (newest && newest.at > placed.at ? newest : placed), null)

export const guideOf = (world: World, appointmentId: AppointmentId): Guide | null =>
  world.guide.find((guide) => guide.appointmentId === appointmentId) ?? null

/** What was done at the chair, as it is recorded. */
export interface Placing {
  appointmentId: AppointmentId
  planNumber: number
  sheets: PlacedSheet[]
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
    ...judgeWho(placerOf(world, placing), by),
    ...judgeClamps(placing, world.policySet[0]?.isolation.untiedClampAllowed ?? false),
    ...judgeMatch(placing, { plan, by }),
  ]
}

interface Place {
  appointmentId: AppointmentId
  appointment: Appointment | null
  site: Site | null
}
function placerOf(world: World, { appointmentId }: Placing): Place {
  const appointment = findFact(world, 'appointment', appointmentId) ?? null
  return { appointmentId, appointment, site: findFact(world, 'site', appointment?.siteId ?? null) ?? null }
}

/** Local law says who may place a sheet; where the site has not said, an assistant prepares only. */
export function judgeWho(
  { appointmentId, appointment, site }: Place,
  by: Pick<Member, 'roles'>,
): IsolationFinding[] {
  const about = `appointment:${appointmentId}`
  const isAssistant = !can(by.roles, 'work:start')
  const isSupervised = site?.assistantPlaces === 'allowed' && appointment?.dentistId != null
  return isAssistant && !isSupervised ? [{ rule: 'dam/not-allowed-here', level: 'stop', about }] : []
}

/** The conditions of the three sequences, sheet by sheet, and what holds for every clamp. */
export function judgeClamps(placing: Placing, untiedAllowed: boolean): IsolationFinding[] {
  const about = `appointment:${placing.appointmentId}`
  const findings: IsolationFinding[] = []
  const [first] = placing.sheets.flatMap(({ clamps }) => clamps)
  if (!first) return findings
  for (const sheet of placing.sheets) {
    const wingless = sheet.clamps.find(isWingless)
    if (sheet.sequence === 'together' && sheet.clamps.some(isWinglessAnchor) && wingless) {
      findings.push({ rule: 'clamp/wingless-together', level: 'stop', about, family: wingless.family })
    }
    const asOneUnit = sheet.sequence === 'together' && !wingless
    if (sheet.clamps.length > 0 && !placing.tied && !(asOneUnit && untiedAllowed)) {
      const families = sheet.clamps.map(({ family }) => family)
      findings.push({ rule: 'clamp/untied', level: 'stop', about, families })
    }
  }
  if (!placing.inspected) findings.push({ rule: 'clamp/not-inspected', level: 'stop', about })
  if (placing.bow === 'front') {
    findings.push({ rule: 'clamp/bow-forward', level: 'stop', about, tooth: first.tooth })
  }
  return findings
}

const isWingless = ({ family }: AgreedClamp): boolean => !CLAMPS[family].value.winged
/** A retractor is added over the sheet; only the clamps that carry it count. */
const isWinglessAnchor = (clamp: AgreedClamp): boolean => clamp.role !== 'retractor' && isWingless(clamp)

/** Another tooth is always a stop; another field or clamped tooth is the dentist's to record. */
function judgeMatch(placing: Placing, { plan, by }: { plan: Plan; by: Member }): IsolationFinding[] {
  const about = `appointment:${placing.appointmentId}`
  const working = plan.agreed.work.flatMap(({ teeth }) => teeth)
  const planned = plan.agreed.sheets.flatMap(({ field }) => field)
  const shown = working.filter((tooth) => planned.includes(tooth))
  const placed = placing.sheets.flatMap(({ field }) => field)
  if (shown.some((tooth) => !placed.includes(tooth))) {
    return [{ rule: 'dam/wrong-tooth', level: 'stop', about, planned: shown, placed }]
  }
  const isAsPlanned =
    placing.sheets.length === plan.agreed.sheets.length &&
    plan.agreed.sheets.every((sheet) => placing.sheets.some((other) => isSameSheet(sheet, other)))
  return isAsPlanned || can(by.roles, 'word:give')
    ? []
    : [{ rule: 'dam/differs', level: 'stop', about, planned, placed }]
}

type Worn = Pick<AgreedSheet, 'field' | 'clamps'>
const isSameSheet = (a: Worn, b: Worn): boolean =>
  isSame(a.field, b.field) && isSame(clampedIn(a), clampedIn(b))
const clampedIn = ({ clamps }: Worn): Tooth[] => clamps.map(({ tooth }) => tooth)

const isSame = (a: readonly Tooth[], b: readonly Tooth[]): boolean =>
  a.length === b.length && a.every((tooth) => b.includes(tooth))

/** Where something was injected at least one needle is counted out. */
export function judgeNeedles(
  world: World,
  { appointmentId, needles }: { appointmentId: AppointmentId; needles: number },
): IsolationFinding[] {
  const injected = world.dose.some(
    (dose) => dose.appointmentId === appointmentId && dose.technique !== 'topical',
  )
  if (!injected || needles > 0) return []
  const about = `appointment:${appointmentId}`
  return [{ rule: 'removal/count', level: 'stop', about, what: 'needles', found: 0, expected: 1 }]
}

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

/** What must come out. A sheet as planned has the plan's holes; of another each tooth that showed had one. */
export function expectedOf(placed: AsPlaced, plan: Plan): Expected {
  const sheets = wornSheets(placed, plan).map(
    ({ field }): Punched =>
      plan.agreed.sheets.find((sheet) => isSame(sheet.field, field)) ?? { holes: field, slit: [] },
  )
  return {
    holes: sheets.reduce((sum, { holes }) => sum + holes.length, 0),
    septa: sheets.reduce((sum, sheet) => sum + septaOf(sheet), 0),
    clamps: placed.clamps.length,
  }
}

type Punched = { holes: readonly unknown[]; slit: readonly unknown[] }

/** Sheet by sheet; where that was not told, as planned if all teeth are, else as one. */
function wornSheets({ sheets, field }: AsPlaced, { agreed }: Plan): Pick<AgreedSheet, 'field'>[] {
  if (sheets !== null) return sheets
  const planned = agreed.sheets.flatMap((sheet) => sheet.field)
  return isSame(field, planned) ? agreed.sheets : [{ field }]
}

/** A slit sheet has no septa inside its cut; a single hole none at all. */
const septaOf = ({ holes, slit }: Punched): number =>
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
