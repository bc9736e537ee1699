import type { AllergyRecord } from '../allergies/allergy-record.ts'
import type { Anaesthetic, Dose, Numbness } from '../anaesthesia/anaesthetic.ts'
import type { World } from '../facts.ts'
import type { AppointmentId, MemberId, OperatoryId } from '../ids.ts'
import type { AsPlaced, IsolationChoice, Plan, Word } from '../isolation/isolation-facts.ts'
import type { Member, Operatory, Site } from '../people/clinic.ts'
import type { Patient } from '../people/patient.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { Work } from '../procedures/work.ts'
import type { Appointment, Incident, Occupancy, Visit } from '../schedule/appointment.ts'
import type { MouthChart } from '../teeth/mouth-chart.ts'
import type { Tray } from '../trays/tray.ts'

/** A world with its facts at hand: made once per world, then asked for each appointment. */
export interface DayIndex {
  world: World
  policy: PolicySet | null
  sites: Map<string, Site>
  members: Map<string, Member>
  operatories: Map<string, Operatory>
  appointments: Map<string, Appointment>
  patients: Map<string, Patient>
  charts: Map<string, MouthChart>
  allergies: Map<string, AllergyRecord>
  work: Map<string, Work[]>
  choices: Map<string, IsolationChoice>
  plans: Map<string, Plan>
  words: Map<string, Word[]>
  asPlaced: Map<string, AsPlaced[]>
  visits: Map<string, Visit>
  anaesthetics: Map<string, Anaesthetic>
  doses: Map<string, Dose[]>
  dosesOfPatient: Map<string, Dose[]>
  numbness: Map<string, Numbness[]>
  trays: Map<string, Tray>
  occupancies: Map<string, Occupancy>
  incidents: Map<string, Incident[]>
  /** Appointments that are not over, in the order of their starts. */
  ofOperatory: Map<string, Appointment[]>
  ofDentist: Map<string, Appointment[]>
  ofStudent: Map<string, Appointment[]>
  ofPatient: Map<string, Appointment[]>
}

/** A table over a list of facts, made once and kept as long as the list is: one change moves one list or two. */
function table<T, Made>(make: (facts: readonly T[]) => Made): (facts: readonly T[]) => Made {
  const known = new WeakMap<readonly T[], Made>()
  return (facts) => {
    const kept = known.get(facts)
    if (kept !== undefined) return kept
    const made = make(facts)
    known.set(facts, made)
    return made
  }
}

const byKey = <T>(key: (fact: T) => string | null) =>
  table((facts: readonly T[]): Map<string, T> => {
    const map = new Map<string, T>()
    for (const fact of facts) {
      const at = key(fact)
      if (at !== null) map.set(at, fact)
    }
    return map
  })

type InOrder<T> = (a: T, b: T) => number
const groupedBy = <T>(key: (fact: T) => string | null, inOrder?: InOrder<T>) =>
  table((facts: readonly T[]): Map<string, T[]> => {
    const map = new Map<string, T[]>()
    for (const fact of inOrder ? [...facts].sort(inOrder) : facts) {
      const at = key(fact)
      if (at === null) continue
      const group = map.get(at)
      if (group) group.push(fact)
      else map.set(at, [fact])
    }
    return map
  })

const STANDING = new Set(['pending', 'booked', 'arrived', 'checked-in'])
/** Whether an appointment stands on the day: neither over nor only proposed or on the waiting list. */
export const stands = (appointment: Appointment): boolean => STANDING.has(appointment.status)

interface OfAppointment {
  appointmentId: AppointmentId
}
const ofAppointment = (fact: OfAppointment): string => fact.appointmentId
const ofId = (fact: { id: string }): string => fact.id
const ofPatient = (fact: { patientId: string }): string => fact.patientId
const byId = <T extends { id: string }>() => byKey<T>(ofId)
const byPatient = <T extends { patientId: string }>() => byKey<T>(ofPatient)
const byAppointment = <T extends OfAppointment>() => byKey<T>(ofAppointment)
const groupedByAppointment = <T extends OfAppointment>() => groupedBy<T>(ofAppointment)

const standingOf = table((appointments: readonly Appointment[]) =>
  appointments.filter(stands).sort((a, b) => a.start - b.start),
)

const TABLES = {
  sites: byId<Site>(),
  members: byId<Member>(),
  operatories: byId<Operatory>(),
  appointments: byId<Appointment>(),
  patients: byId<Patient>(),
  charts: byPatient<MouthChart>(),
  allergies: byPatient<AllergyRecord>(),
  work: groupedBy<Work>(ofAppointment, (a, b) => a.position - b.position),
  choices: byAppointment<IsolationChoice>(),
  /** The plan with the highest number counts, should a world ever hold two. */
  plans: table((plans: readonly Plan[]) =>
    byAppointment<Plan>()([...plans].sort((a, b) => a.number - b.number)),
  ),
  words: groupedByAppointment<Word>(),
  asPlaced: groupedByAppointment<AsPlaced>(),
  visits: byAppointment<Visit>(),
  anaesthetics: byAppointment<Anaesthetic>(),
  doses: groupedByAppointment<Dose>(),
  dosesOfPatient: groupedBy<Dose>(ofPatient),
  numbness: groupedByAppointment<Numbness>(),
  trays: byAppointment<Tray>(),
  occupancies: byKey<Occupancy>(({ operatoryId }) => operatoryId),
  incidents: groupedBy<Incident>(({ appointmentId }) => appointmentId),
  ofOperatory: groupedBy<Appointment>(({ operatoryId }) => operatoryId),
  ofDentist: groupedBy<Appointment>(({ dentistId }) => dentistId),
  ofStudent: groupedBy<Appointment>(({ studentId }) => studentId),
  ofPatient: groupedBy<Appointment>(ofPatient),
}

/** The index of a world, made once and kept as long as the world is. */
export function indexDay(world: World): DayIndex {
  const known = KNOWN.get(world)
  if (known) return known
  const index = makeIndex(world)
  KNOWN.set(world, index)
  return index
}
const KNOWN = new WeakMap<World, DayIndex>()

function makeIndex(world: World): DayIndex {
  const standing = standingOf(world.appointment)
  return {
    world,
    policy: world.policySet[0] ?? null,
    sites: TABLES.sites(world.site),
    members: TABLES.members(world.member),
    operatories: TABLES.operatories(world.operatory),
    appointments: TABLES.appointments(world.appointment),
    patients: TABLES.patients(world.patient),
    charts: TABLES.charts(world.mouthChart),
    allergies: TABLES.allergies(world.allergyRecord),
    work: TABLES.work(world.work),
    choices: TABLES.choices(world.isolationChoice),
    plans: TABLES.plans(world.plan),
    words: TABLES.words(world.word),
    asPlaced: TABLES.asPlaced(world.asPlaced),
    visits: TABLES.visits(world.visit),
    anaesthetics: TABLES.anaesthetics(world.anaesthetic),
    doses: TABLES.doses(world.dose),
    dosesOfPatient: TABLES.dosesOfPatient(world.dose),
    numbness: TABLES.numbness(world.numbness),
    trays: TABLES.trays(world.tray),
    occupancies: TABLES.occupancies(world.occupancy),
    incidents: TABLES.incidents(world.incident),
    ofOperatory: TABLES.ofOperatory(standing),
    ofDentist: TABLES.ofDentist(standing),
    ofStudent: TABLES.ofStudent(standing),
    ofPatient: TABLES.ofPatient(standing),
  }
}

/** All that hangs on one appointment. */
export interface AppointmentFacts {
  appointment: Appointment
  patient: Patient | null
  chart: MouthChart | null
  allergies: AllergyRecord | null
  work: Work[]
  choice: IsolationChoice | null
  plan: Plan | null
  words: Word[]
  asPlaced: AsPlaced[]
  visit: Visit | null
  anaesthetic: Anaesthetic | null
  doses: Dose[]
  /** Given to this patient on this day, in whatever appointment, by whoever. */
  given: Dose[]
  numbness: Numbness[]
  tray: Tray | null
  operatory: Operatory | null
  occupancy: Occupancy | null
  incidents: Incident[]
  dentist: Member | null
  student: Member | null
  policy: PolicySet | null
}

const under = <T>(map: Map<string, T>, id: OperatoryId | MemberId | AppointmentId | null): T | null =>
  (id === null ? undefined : map.get(id)) ?? null

const dosesOnDay = (index: DayIndex, { patientId, day }: Appointment): Dose[] =>
  (index.dosesOfPatient.get(patientId) ?? []).filter(
    (dose) => index.appointments.get(dose.appointmentId)?.day === day,
  )

/** The facts of one appointment; null where the world does not hold it. */
export function findAppointment(day: DayIndex, id: AppointmentId): AppointmentFacts | null {
  const appointment = day.appointments.get(id)
  if (!appointment) return null
  return {
    appointment,
    patient: day.patients.get(appointment.patientId) ?? null,
    chart: day.charts.get(appointment.patientId) ?? null,
    allergies: day.allergies.get(appointment.patientId) ?? null,
    work: day.work.get(id) ?? [],
    choice: under(day.choices, id),
    plan: under(day.plans, id),
    words: day.words.get(id) ?? [],
    asPlaced: day.asPlaced.get(id) ?? [],
    visit: under(day.visits, id),
    anaesthetic: under(day.anaesthetics, id),
    doses: day.doses.get(id) ?? [],
    given: dosesOnDay(day, appointment),
    numbness: day.numbness.get(id) ?? [],
    tray: under(day.trays, id),
    operatory: under(day.operatories, appointment.operatoryId),
    occupancy: under(day.occupancies, appointment.operatoryId),
    incidents: day.incidents.get(id) ?? [],
    dentist: under(day.members, appointment.dentistId),
    student: under(day.members, appointment.studentId),
    policy: day.policy,
  }
}
