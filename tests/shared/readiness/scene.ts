import type { CartridgeReading, Numbness } from '#shared/anaesthesia/anaesthetic.ts'
import { digestOf } from '#shared/base/digest.ts'
import {
  addMinutes,
  type ClockTime,
  type Day,
  type Instant,
  instant,
  type Zone,
} from '#shared/base/moment.ts'
import { applyChange, type Change, putting } from '#shared/change.ts'
import type { CommandContext } from '#shared/command.ts'
import { emptyWorld, type FactName, type Facts, type World } from '#shared/facts.ts'
import type { AppointmentId, ClinicId, OperatoryId, SiteId } from '#shared/ids.ts'
import type { Agreed, Plan, Word } from '#shared/isolation/isolation-facts.ts'
import type { Member, Operatory, Site } from '#shared/people/clinic.ts'
import { DEFAULT_POLICY_SET } from '#shared/people/default-policy.ts'
import type { Role } from '#shared/people/role.ts'
import type { Work } from '#shared/procedures/work.ts'
import type { Appointment, Visit, VisitStage } from '#shared/schedule/appointment.ts'

/** A small invented day, made of plain facts: enough to judge one appointment, with one thing changed at a time. */
export const idOf = <Id>(n: number): Id => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}` as Id
export const CLINIC = idOf<ClinicId>(1)
export const SITE = idOf<SiteId>(2)
export const ROOM = idOf<OperatoryId>(3)
export const VISITED = idOf<AppointmentId>(10)
export const DAY = '2026-11-24' as Day
const ZONE = 'Europe/Dublin' as Zone
/** 09:00 in Dublin, in winter the same as UTC. */
export const NINE = instant(Date.UTC(2026, 10, 24, 9))
export const at = (minutes: number): Instant => addMinutes(NINE, minutes)

export const member = (n: number, roles: Role[], shortName = `Person ${n}`): Member => ({
  clinicId: CLINIC,
  id: idOf(n),
  name: shortName,
  shortName,
  roles,
  active: true,
  releasesLoads: false,
  drawsFirst: null,
})
export const DENTIST = member(20, ['dentist'], 'Dr Quill')
export const OTHER_DENTIST = member(21, ['dentist'], 'Dr Marl')
export const ASSISTANT = member(22, ['assistant'], 'A. Fenn')
export const STUDENT = member(23, ['student'], 'S. Ivory')
export const INSTRUCTOR = member(24, ['instructor'], 'Prof. Dace')
export const DESK = member(25, ['front-desk'], 'D. Rook')

const SITE_FACT: Site = {
  clinicId: CLINIC,
  id: SITE,
  name: 'Alder House',
  zone: ZONE,
  opensAt: '08:00' as ClockTime,
  closesAt: '18:00' as ClockTime,
  assistantPlaces: 'allowed',
  startOfDay: null,
}
export const operatory = (n: number, position: number): Operatory => ({
  clinicId: CLINIC,
  id: idOf(n),
  siteId: SITE,
  name: `Operatory ${position}`,
  position,
  kind: 'surgery',
  latexSafe: false,
  retiredAt: null,
})

export const appointment = (n: number, more: Partial<Appointment> = {}): Appointment => ({
  clinicId: CLINIC,
  id: idOf(n),
  siteId: SITE,
  operatoryId: ROOM,
  patientId: idOf(30),
  dentistId: DENTIST.id,
  studentId: null,
  status: 'booked',
  day: DAY,
  startsAt: '09:00' as ClockTime,
  zone: ZONE,
  start: NINE,
  minutes: 60,
  note: '',
  external: null,
  vanished: null,
  formerDentist: null,
  ...more,
})

export const AGREED: Agreed = {
  state: 'planned',
  need: 'required',
  work: [{ kind: 'root-canal', teeth: ['46'], surfaces: {} }],
  policy: 'ENDO_SINGLE',
  sheets: [
    {
      field: ['46'],
      anchor: '46',
      clamps: [{ tooth: '46', family: 'MOLAR_W_PASSIVE', role: 'anchor' }],
      holes: [{ tooth: '46', size: 5 }],
      slit: [],
    },
  ],
  sheetMaterial: 'non-latex',
  alternative: null,
  open: [],
}
export const plan = (agreed: Agreed = AGREED, number = 1): Plan => ({
  clinicId: CLINIC,
  id: idOf(40),
  appointmentId: VISITED,
  number,
  digest: `sha256:${digestOf(agreed)}`,
  agreed,
})

export const work = (more: Partial<Work> = {}): Work => ({
  clinicId: CLINIC,
  id: idOf(11),
  appointmentId: VISITED,
  position: 1,
  text: 'RCT 46',
  kind: 'root-canal',
  teeth: ['46'],
  surfaces: {},
  mentions: [],
  ...more,
})

/** The booked dentist's word on plan 1, given at 08:30. */
export const word = (more: Partial<Word> = {}): Word => ({
  clinicId: CLINIC,
  id: idOf(80),
  appointmentId: VISITED,
  planNumber: 1,
  planDigest: plan().digest,
  by: DENTIST.id,
  at: at(-30),
  station: 'test',
  proposedBy: null,
  life: { kind: 'live' },
  ...more,
})

/** One answer to a numbness check, at 08:56. */
export const answered = (
  n: number,
  place: Numbness['place'],
  answer: Numbness['answer'] = 'numb',
): Numbness => ({
  clinicId: CLINIC,
  id: idOf(n),
  appointmentId: VISITED,
  place,
  answer,
  method: place.kind === 'tooth' ? 'cold' : 'probe',
  by: DENTIST.id,
  at: at(-4),
})

/** Lidocaine 2 %, 1 : 100,000, read from its label at 08:53 by the assistant and answered by the dentist. */
export const READ_LABEL: CartridgeReading = {
  agent: 'lidocaine',
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
  expires: '2027-03-31' as Day,
  read: { by: ASSISTANT.id, at: at(-7) },
  answered: { by: DENTIST.id, at: at(-7) },
}
/** The same world with these labels read. */
export const withLabels = (world: World, ...readings: CartridgeReading[]): World => ({
  ...world,
  anaesthetic: world.anaesthetic.map((each) => ({ ...each, readings })),
})

/** The stages up to one, each a minute apart, the first at 08:50. */
export function visit(stage: VisitStage, more: Partial<Visit> = {}): Visit {
  const passed: VisitStage[] = ['arrived', 'seated', 'injected', 'clamped', 'started', 'finished', 'left']
  const steps = passed
    .slice(0, passed.indexOf(stage) + 1)
    .map((each, index) => ({ stage: each, at: at(index - 10), by: ASSISTANT.id }))
  return {
    clinicId: CLINIC,
    id: idOf(50),
    appointmentId: VISITED,
    stage,
    since: steps.at(-1)?.at ?? at(-10),
    steps,
    identity:
      stage === 'arrived'
        ? null
        : { identifiers: ['full-name', 'birth-day'], how: 'asked', of: null, by: ASSISTANT.id, at: at(-9) },
    identityDiffered: null,
    nameAlertSeen: null,
    readBack: null,
    recounted: null,
    timeOut: null,
    consent: null,
    clamp: null,
    counts: null,
    aftercare: null,
    ...more,
  }
}

/** Root canal of 46 at 09:00, everything prepared and nothing open; the patient is expected. */
export function scene(): World {
  const put: Change['put'] = {
    clinic: [
      {
        clinicId: CLINIC,
        id: CLINIC,
        name: 'Alder',
        invented: true,
        notation: 'iso',
        clock: { kind: 'wall' },
      },
    ],
    site: [SITE_FACT],
    policySet: [{ clinicId: CLINIC, id: idOf(4), ...DEFAULT_POLICY_SET }],
    operatory: [operatory(3, 1)],
    member: [DENTIST, OTHER_DENTIST, ASSISTANT, STUDENT, INSTRUCTOR, DESK],
    patient: [
      {
        clinicId: CLINIC,
        id: idOf(30),
        given: 'Tamsin',
        family: 'Orrery',
        born: '1987-03-02' as Day,
        identifiers: [],
        weight: null,
        guardian: null,
        interpreter: null,
        history: [],
        historyConfirmed: null,
      },
    ],
    mouthChart: [
      {
        clinicId: CLINIC,
        id: idOf(31),
        patientId: idOf(30),
        charted: { by: ASSISTANT.id, at: at(-600) },
        teeth: {},
        measure: null,
        clampSites: null,
      },
    ],
    allergyRecord: [
      {
        clinicId: CLINIC,
        id: idOf(32),
        patientId: idOf(30),
        state: 'none-known',
        asked: { by: ASSISTANT.id, at: at(-600), day: DAY },
        latex: 'none-known',
        latexAsked: { by: ASSISTANT.id, at: at(-600), day: DAY },
        allergies: [],
        statements: [],
      },
    ],
    appointment: [appointment(10)],
    work: [work()],
    plan: [plan()],
    anaesthetic: [
      {
        clinicId: CLINIC,
        id: idOf(12),
        appointmentId: VISITED,
        intent: { kind: 'injection', by: DENTIST.id, at: at(-60) },
        planned: [],
        profile: null,
        readings: null,
      },
    ],
    occupancy: [
      { clinicId: CLINIC, id: idOf(60), operatoryId: ROOM, life: { kind: 'clear', since: at(-20) } },
    ],
    tray: [
      {
        clinicId: CLINIC,
        id: idOf(70),
        appointmentId: VISITED,
        kits: ['dam-base', 'root-canal'],
        planNumber: 1,
        standby: false,
        life: { kind: 'checked', by: ASSISTANT.id, at: at(-15), planNumber: 1 },
        done: 12,
        of: 12,
        firstMissing: null,
        contains: [],
      } as Facts['tray'],
    ],
  }
  return applyChange(emptyWorld(), { put, remove: {} })
}

/** The same world with its tray opened at the chair, every pack proven. */
export const opened = (world: World): World => ({
  ...world,
  tray: world.tray.map((each) => ({ ...each, life: { kind: 'opened', by: ASSISTANT.id, at: at(-8) } })),
})

export const having = <Name extends FactName>(world: World, name: Name, ...facts: Facts[Name][]): World =>
  applyChange(world, putting(name, ...facts))

/** A context with running ids. */
export function context(by: Member, now: Instant, first = 1000): CommandContext {
  let next = first
  return {
    clinicId: CLINIC,
    now,
    today: DAY,
    by,
    station: 'test',
    newId: <Id>() => idOf<Id>(next++),
    journal: null,
  }
}
