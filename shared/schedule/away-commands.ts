import { z } from 'zod'
import { type Day, type Instant, instant } from '../base/moment.ts'
import { ok, type Result, refuse } from '../base/result.ts'
import { applyChange, type Change, joinChanges, putting, removing } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId, MemberId, RosterId, SiteId } from '../ids.ts'
import { clockTime, day, id, saw } from '../inputs.ts'
import type { Roster } from '../people/clinic.ts'
import { judgeShown } from '../readiness/shown.ts'
import { type Appointment, isOver } from './appointment.ts'
import { isAway } from './clashes.ts'
import { isToBeTold, withDentist } from './former-dentist.ts'
import { findUnknown, foundAt, planSpan } from './placing.ts'
import { visitStage } from './seat.ts'

const leaving = z.object({
  memberId: id<MemberId>(),
  /** Whose clock is meant. Who is away is away at every site. */
  siteId: id<SiteId>(),
  day,
  from: clockTime,
  to: clockTime,
  /** Visits that another takes over, or nobody yet. What is not named stays, and is asked of the desk. */
  handOver: z
    .array(z.object({ appointmentId: id<AppointmentId>(), dentistId: id<MemberId>().nullable() }))
    .max(200),
})
type Leaving = z.infer<typeof leaving>

/** Somebody is away from now on, and whoever is named takes their visits over: one act, or none of it. */
function decideAway(world: World, input: Leaving, context: CommandContext): Decision {
  const site = findFact(world, 'site', input.siteId)
  if (!site) return refuse({ rule: 'site/unknown', level: 'stop', about: `site:${input.siteId}` })
  if (!findFact(world, 'member', input.memberId)) {
    return refuse({ rule: 'person/unknown', level: 'stop', about: `member:${input.memberId}` })
  }
  const hours = planSpan(input.day, input, site.zone)
  if (!hours.ok) return hours
  const moved: Appointment[] = []
  for (const each of input.handOver) {
    const handed = handOver(world, { ...each, from: input.memberId }, context)
    if (!handed.ok) return handed
    moved.push(handed.value)
  }
  const change = joinChanges(
    markAway(world, { ...input, ...hours.value }, context),
    putting('appointment', ...moved),
  )
  const after = applyChange(world, change)
  return ok({ change, findings: moved.flatMap((appointment) => foundAt(appointment, after)) })
}

interface HandOver {
  appointmentId: AppointmentId
  from: MemberId
  dentistId: MemberId | null
}

function handOver(
  world: World,
  { appointmentId, from, dentistId }: HandOver,
  { by, now }: CommandContext,
): Result<Appointment, Finding> {
  const about = `appointment:${appointmentId}`
  const appointment = findFact(world, 'appointment', appointmentId)
  if (!appointment) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: appointmentId })
  const { status } = appointment
  if (isOver(status)) return refuse({ rule: 'appointment/over', level: 'stop', about, status })
  if (appointment.dentistId !== from) {
    return refuse({
      rule: 'appointment/other-dentist',
      level: 'stop',
      about,
      dentistId: appointment.dentistId,
    })
  }
  const unknown = findUnknown(world, { dentistId })
  if (unknown.length > 0) return refuse(...unknown)
  return ok({ ...appointment, ...withDentist(appointment, dentistId, { why: 'away', by: by.id, at: now }) })
}

interface Absence {
  memberId: MemberId
  day: Day
  start: Instant
  end: Instant
}

/** Their hours stay as they were to be; what was marked before and meets this is one with it. */
function markAway(world: World, absence: Absence, { clinicId, newId, by, now }: CommandContext): Change {
  const { memberId, day } = absence
  const marked = world.roster.filter(
    (roster) =>
      roster.memberId === memberId &&
      roster.day === day &&
      isAway(roster) &&
      roster.start <= absence.end &&
      absence.start <= roster.end,
  )
  const start = instant(Math.min(absence.start, ...marked.map((roster) => roster.start)))
  const end = instant(Math.max(absence.end, ...marked.map((roster) => roster.end)))
  const away = { by: by.id, at: now }
  const rosters = world.site.map(({ id: siteId }): Roster => {
    return { clinicId, id: newId<RosterId>(), memberId, siteId, day, start, end, away }
  })
  return joinChanges(removing('roster', ...marked.map((roster) => roster.id)), putting('roster', ...rosters))
}

const calling = z.object({
  appointmentId: id<AppointmentId>(),
  /** The dentist they were told of. */
  saw,
})

/** The patient was told who treats them now. */
function decideCalled(world: World, input: z.infer<typeof calling>, { by, now }: CommandContext): Decision {
  const about = `appointment:${input.appointmentId}`
  const appointment = findFact(world, 'appointment', input.appointmentId)
  if (!appointment) {
    return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  }
  const { status, dentistId } = appointment
  if (isOver(status)) return refuse({ rule: 'appointment/over', level: 'stop', about, status })
  const formerDentist = appointment.formerDentist ?? null
  const visit = world.visit.find((each) => each.appointmentId === appointment.id) ?? null
  const stage = visitStage({ appointment, visit })
  if (formerDentist === null || formerDentist.called || !isToBeTold({ formerDentist, dentistId, stage })) {
    return refuse({ rule: 'call/not-due', level: 'stop', about })
  }
  const moved = judgeShown(input.saw, { stands: `${dentistId}`, what: 'dentist', about })
  if (moved.length > 0) return refuse(...moved)
  const called = { by: by.id, at: now }
  const told = { ...appointment, formerDentist: { ...formerDentist, called } }
  return ok({ change: putting('appointment', told), findings: [] })
}

export const AWAY_COMMANDS = {
  'person.away': commandRule({
    kind: 'person.away',
    needs: 'day:change',
    input: leaving,
    reach: (input) => ({
      days: [input.day],
      appointments: input.handOver.map(({ appointmentId }) => appointmentId),
    }),
    decide: decideAway,
  }),
  'patient.called': commandRule({
    kind: 'patient.called',
    needs: 'day:change',
    input: calling,
    reach: ({ appointmentId }) => ({ appointments: [appointmentId] }),
    decide: decideCalled,
  }),
}
