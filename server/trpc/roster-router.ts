import { z } from 'zod'
import { asClinic } from '#db/as-clinic.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import { type ClockTime, clockTimeAfter, clockTimeOf, type Day, type Zone } from '#shared/base/moment.ts'
import type { AppointmentId, ClinicId, MemberId, SiteId } from '#shared/ids.ts'
import { day, id } from '#shared/inputs.ts'
import type { Roster } from '#shared/people/clinic.ts'
import { can, type Role } from '#shared/people/role.ts'
import { isOver, type VisitStage } from '#shared/schedule/appointment.ts'
import { isAway } from '#shared/schedule/clashes.ts'
import { visitStage } from '#shared/schedule/seat.ts'
import type { House } from '../house.ts'
import { router, signedIn, TroubleError } from './init.ts'

/** From one clock time of a day to a later one, by the site's clock. */
export interface Span {
  from: ClockTime
  to: ClockTime
}

/** A person's day at a site. */
export interface PersonsDay {
  memberId: MemberId
  shortName: string
  roles: Role[]
  hours: Span[]
  away: (Span & { by: MemberId })[]
}

/** A visit as the desk may know it. */
export interface VisitOf {
  appointmentId: AppointmentId
  dentistId: MemberId
  startsAt: ClockTime
  endsAt: ClockTime
  patient: string
  site: string
  stage: VisitStage
}

export interface RosterDay {
  people: PersonsDay[]
  /** Of that day at every site, not over, each with somebody to treat. */
  visits: VisitOf[]
}

const NOT_YOURS = {
  what: 'Your role does not say who works when.',
  why: 'Whoever marks somebody away moves their patients.',
  todo: 'Ask the front desk or the manager.',
}

const AT_THE_CHAIR: ReadonlySet<Role> = new Set([
  'dentist',
  'hygienist',
  'assistant',
  'instructor',
  'student',
])

export const rosterRouter = router({
  /** Who works when on a day at a site, who is away, and whose visits stand that day. */
  day: signedIn
    .input(z.object({ siteId: id<SiteId>(), day }))
    .query(({ ctx: { house, session }, input }): Promise<RosterDay> => {
      if (!can(session.roles, 'day:change')) throw new TroubleError('FORBIDDEN', NOT_YOURS)
      return readRoster(house, session.clinicId, input)
    }),
})

async function readRoster(
  house: House,
  clinicId: ClinicId,
  { siteId, day }: { siteId: SiteId; day: Day },
): Promise<RosterDay> {
  const ofDay = 'select id from appointment where clinic_id = $1 and day = $2::date'
  const onDay = { sql: 'day = $2::date', values: [day] }
  const [sites, members, rosters, appointments, patients, visits] = await asClinic(
    house.database,
    clinicId,
    (tx) =>
      Promise.all([
        selectFacts(tx, clinicId, { name: 'site', where: everywhere }),
        selectFacts(tx, clinicId, { name: 'member', where: everywhere }),
        selectFacts(tx, clinicId, { name: 'roster', where: onDay }),
        selectFacts(tx, clinicId, { name: 'appointment', where: onDay }),
        selectFacts(tx, clinicId, {
          name: 'patient',
          where: {
            sql: 'id in (select patient_id from appointment where clinic_id = $1 and day = $2::date)',
            values: [day],
          },
        }),
        selectFacts(tx, clinicId, {
          name: 'visit',
          where: { sql: `appointment_id in (${ofDay})`, values: [day] },
        }),
      ]),
    'read',
  )
  const site = sites.find(({ id }) => id === siteId)
  if (!site) return { people: [], visits: [] }
  const here = rosters.filter((roster) => roster.siteId === siteId)
  return {
    people: members
      .filter(({ active, roles }) => active && roles.some((role) => AT_THE_CHAIR.has(role)))
      .sort((a, b) => a.shortName.localeCompare(b.shortName))
      .map(({ id, shortName, roles }) => ({
        memberId: id,
        shortName,
        roles,
        ...hoursOf(
          here.filter(({ memberId }) => memberId === id),
          site.zone,
        ),
      })),
    visits: appointments
      .sort((a, b) => a.start - b.start)
      .flatMap((appointment): VisitOf[] => {
        const { id, dentistId, patientId, startsAt, minutes, status } = appointment
        if (dentistId === null || isOver(status)) return []
        const patient = patients.find((each) => each.id === patientId)
        const visit = visits.find(({ appointmentId }) => appointmentId === id) ?? null
        return [
          {
            appointmentId: id,
            dentistId,
            startsAt,
            endsAt: clockTimeAfter(startsAt, minutes),
            patient: patient ? `${patient.given.slice(0, 1)}. ${patient.family}` : 'patient not known here',
            site: sites.find((each) => each.id === appointment.siteId)?.name ?? '',
            stage: visitStage({ appointment, visit }),
          },
        ]
      }),
  }
}

function hoursOf(rosters: readonly Roster[], zone: Zone): Pick<PersonsDay, 'hours' | 'away'> {
  const inOrder = [...rosters].sort((a, b) => a.start - b.start)
  const span = ({ start, end }: Roster): Span => ({
    from: clockTimeOf(start, zone),
    to: clockTimeOf(end, zone),
  })
  return {
    hours: inOrder.filter((roster) => !isAway(roster)).map(span),
    away: inOrder.flatMap((roster) => (roster.away ? [{ ...span(roster), by: roster.away.by }] : [])),
  }
}
