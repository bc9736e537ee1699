import { must } from '#shared/base/assert.ts'
import { type ClockTime, type Day, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import { applyChange, type Change } from '#shared/change.ts'
import type { CommandContext, Decision } from '#shared/command.ts'
import { emptyWorld, type Facts, type World } from '#shared/facts.ts'
import type { Finding } from '#shared/finding.ts'
import type { AppointmentId, ClinicId, MemberId, SiteId, TrayId } from '#shared/ids.ts'
import type { Agreed } from '#shared/isolation/isolation-facts.ts'
import { DEFAULT_POLICY_SET } from '#shared/people/default-policy.ts'
import type { Role } from '#shared/people/role.ts'
import { makeKits } from '#shared/trays/kits.ts'
import type { Tray, TrayLine } from '#shared/trays/tray.ts'
import { trayFor } from '#shared/trays/tray-for.ts'

let made = 0
/** A UUID that is the next one, so that a failing test fails the same way again. */
export const nextId = <Id>(): Id => {
  made += 1
  return `00000000-0000-4000-8000-${made.toString(16).padStart(12, '0')}` as Id
}
export const CLINIC = '00000000-0000-4000-9000-000000000001' as ClinicId
export const SITE = '00000000-0000-4000-9000-000000000002' as SiteId
export const ZONE = 'Europe/Dublin' as Zone
export const TODAY = '2026-11-24' as Day
/** A clock time of 24 November 2026 in Dublin, which is on UTC then. */
export const at = (time: string): Instant => instant(Date.parse(`${TODAY}T${time}:00Z`))

export const member = (
  name: string,
  roles: Role[],
  more: Partial<Facts['member']> = {},
): Facts['member'] => ({
  clinicId: CLINIC,
  id: nextId<MemberId>(),
  name,
  shortName: name,
  roles,
  active: true,
  releasesLoads: false,
  drawsFirst: null,
  ...more,
})

export const PEOPLE = {
  ana: member('Ana', ['assistant']),
  ben: member('Ben', ['assistant']),
  dentist: member('Dr Orla', ['dentist']),
  other: member('Dr Pia', ['dentist']),
  lead: member('Lev', ['steriliser-lead'], { releasesLoads: true }),
  desk: member('Dora', ['front-desk']),
}

/** A world with the clinic, its people, policies and kits, and nothing booked. */
export function bareClinic(): World {
  return {
    ...emptyWorld(),
    clinic: [
      {
        clinicId: CLINIC,
        id: CLINIC,
        name: 'Test',
        invented: true,
        notation: 'iso',
        clock: { kind: 'wall' },
      },
    ],
    site: [
      {
        clinicId: CLINIC,
        id: SITE,
        name: 'Main',
        zone: ZONE,
        opensAt: '08:00' as ClockTime,
        closesAt: '18:00' as ClockTime,
        assistantPlaces: 'allowed',
        startOfDay: null,
      },
    ],
    policySet: [{ clinicId: CLINIC, id: nextId(), ...DEFAULT_POLICY_SET }],
    member: Object.values(PEOPLE),
    kit: makeKits(CLINIC, nextId, { cartridge: { latex: 'free' }, files: { latex: 'free' } }),
  }
}

export interface Booking {
  time?: string
  minutes?: number
  kind?: Facts['work']['kind']
  dentist?: MemberId
  agreed?: Partial<Agreed> | null
  intent?: Facts['anaesthetic']['intent']
}

/** The plan of a molar: one sheet, one clamp. */
export const dammed = (more: Partial<Agreed> = {}): Agreed => ({
  state: 'planned',
  need: 'required',
  work: [],
  policy: 'ENDO_SINGLE',
  sheets: [
    {
      field: ['46'],
      anchor: '46',
      clamps: [{ tooth: '46', family: 'MOLAR_W_ACTIVE', role: 'anchor' }],
      holes: [{ tooth: '46', size: 5 }],
      slit: [],
    },
  ],
  sheetMaterial: 'non-latex',
  alternative: null,
  open: [],
  ...more,
})

/** The world with one more appointment, its work and plan; no tray yet. */
export function book(world: World, booking: Booking = {}): { world: World; appointmentId: AppointmentId } {
  const appointmentId = nextId<AppointmentId>()
  const patientId = nextId<Facts['patient']['id']>()
  const time = booking.time ?? '09:30'
  const base = { clinicId: CLINIC, appointmentId }
  const agreed = booking.agreed === undefined ? dammed() : booking.agreed && dammed(booking.agreed)
  return {
    appointmentId,
    world: {
      ...world,
      patient: [
        ...world.patient,
        {
          clinicId: CLINIC,
          id: patientId,
          given: 'Test',
          family: 'Patient',
          born: '1990-01-01' as Day,
          identifiers: [],
          weight: null,
          guardian: null,
          interpreter: null,
          history: [],
          historyConfirmed: null,
        },
      ],
      appointment: [
        ...world.appointment,
        {
          clinicId: CLINIC,
          id: appointmentId,
          siteId: SITE,
          operatoryId: null,
          patientId,
          dentistId: booking.dentist ?? PEOPLE.dentist.id,
          studentId: null,
          status: 'booked',
          day: TODAY,
          startsAt: time as ClockTime,
          zone: ZONE,
          start: at(time),
          minutes: booking.minutes ?? 60,
          note: '',
          external: null,
          vanished: null,
          formerDentist: null,
        },
      ],
      work: [
        ...world.work,
        {
          ...base,
          id: nextId(),
          position: 1,
          text: 'as booked',
          kind: booking.kind ?? 'direct-composite',
          teeth: ['46'],
          surfaces: {},
          mentions: [],
        },
      ],
      plan: agreed
        ? [...world.plan, { ...base, id: nextId(), number: 1, digest: 'one', agreed }]
        : world.plan,
      anaesthetic: booking.intent
        ? [
            ...world.anaesthetic,
            { ...base, id: nextId(), intent: booking.intent, planned: [], profile: null, readings: null },
          ]
        : world.anaesthetic,
    },
  }
}

export const contextOf = (by: Facts['member'], now: Instant = at('08:40')): CommandContext => ({
  clinicId: CLINIC,
  now,
  today: TODAY,
  by,
  station: 'test',
  newId: nextId,
  journal: null,
})

/** A rule of the dictionary, as a test calls it: input parsed as from outside. */
interface AnyRule<Output> {
  input: { parse: (input: unknown) => Output }
  decide: (world: World, input: Output, context: CommandContext) => Decision
}
export const decideOn = <Output>(
  rule: AnyRule<Output>,
  { world, input, by, now }: { world: World; input: unknown; by: Facts['member']; now?: Instant },
): Decision => rule.decide(world, rule.input.parse(input), contextOf(by, now))

/** The world after a command that must be taken. */
export function performed<Output>(
  rule: AnyRule<Output>,
  request: { world: World; input: unknown; by: Facts['member']; now?: Instant },
): World {
  const decision = decideOn(rule, request)
  if (!decision.ok) throw new Error(`Refused: ${decision.reasons.map(({ rule: name }) => name).join(', ')}`)
  return applyChange(request.world, decision.value.change)
}

export const reasonsOf = (decision: Decision): Finding['rule'][] =>
  decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
export const findingOf = (decision: Decision): Finding =>
  must(decision.ok ? undefined : decision.reasons[0], 'a refusal was expected')

export const withTray = (world: World, appointmentId: AppointmentId, now: Instant = at('08:00')): World =>
  applyChange(world, trayFor(world, appointmentId, { newId: nextId, now }))
/** The tray as the world has it after a re-draw. */
export const redrawn = (world: World, appointmentId: AppointmentId): Change =>
  trayFor(world, appointmentId, { newId: nextId, now: at('09:00') })

export const trayOf = (world: World, appointmentId: AppointmentId): Tray =>
  must(
    world.tray.find((tray) => tray.appointmentId === appointmentId),
    'the appointment has a tray',
  )
export const linesOf = (world: World, trayId: TrayId): TrayLine[] =>
  world.trayLine.filter((line) => line.trayId === trayId).sort((a, b) => a.position - b.position)
export const lineOf = (world: World, trayId: TrayId, item: string): TrayLine =>
  must(
    world.trayLine.find((line) => line.trayId === trayId && line.item === item),
    `the tray has ${item}`,
  )

/** A steriliser, a released load of this morning and packs of a kind out of it. */
export function sterilised(
  world: World,
  kinds: Facts['pack']['kind'][],
  more: Partial<Facts['load']> = {},
): World {
  const steriliser: Facts['steriliser'] = world.steriliser[0] ?? {
    clinicId: CLINIC,
    id: nextId(),
    siteId: SITE,
    name: 'S1',
    type: 'gravity',
    life: { kind: 'in-service' },
  }
  const load: Facts['load'] = {
    clinicId: CLINIC,
    id: nextId(),
    steriliserId: steriliser.id,
    number: `L${world.load.length + 1}`,
    programme: 'wrapped-instruments',
    reading: { deciCelsius: 1320, seconds: 900, by: PEOPLE.lead.id, at: at('07:30') },
    started: at('07:00'),
    life: { kind: 'released', at: at('07:45'), by: PEOPLE.lead.id },
    ...more,
  }
  const packs = kinds.map((kind, index): Facts['pack'] => ({
    clinicId: CLINIC,
    id: nextId(),
    siteId: SITE,
    code: `P${world.pack.length + index + 1}`,
    kind,
    setId: null,
    loadId: load.id,
    sterilised: TODAY,
    seen: null,
    life: { kind: 'shelf', place: `bay ${index + 1}` },
  }))
  return {
    ...world,
    steriliser: world.steriliser.length > 0 ? world.steriliser : [steriliser],
    load: [...world.load, load],
    pack: [...world.pack, ...packs],
  }
}
