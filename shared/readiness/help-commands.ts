import { z } from 'zod'
import { must } from '../base/assert.ts'
import { ok, refuse } from '../base/result.ts'
import { type Change, joinChanges, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId, IncidentId } from '../ids.ts'
import { id } from '../inputs.ts'
import type { Incident } from '../schedule/appointment.ts'
import type { InstrumentSet } from '../sterility/sterility-facts.ts'
import { findAppointment, indexDay } from './day-index.ts'
import { findOpenHelp, HELP_KINDS, HELP_OUTCOMES, type HelpIncident, isHelp, outcomesOf } from './help.ts'

const calling = z.object({
  appointmentId: id<AppointmentId>(),
  kind: z.enum(HELP_KINDS),
  drill: z.boolean().default(false),
})
const incidentId = id<IncidentId>()
const stepping = z.object({ incidentId, text: z.string().trim().min(1).max(200) })
const closing = z.object({
  incidentId,
  outcome: z.enum(HELP_OUTCOMES),
  note: z.string().max(500).default(''),
})
const ofIncident = (input: { incidentId: IncidentId }) => ({ incidents: [input.incidentId] })

function decideCall(world: World, input: z.infer<typeof calling>, context: CommandContext): Decision {
  const facts = findAppointment(indexDay(world), input.appointmentId)
  const about = `appointment:${input.appointmentId}`
  if (!facts) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  const { kind, drill } = input
  const same = findOpenHelp(facts).find((each) => each.kind === kind && each.drill === drill)
  if (same) return refuse({ rule: 'help/already-called', level: 'stop', about, since: same.at })
  const incident: Incident = {
    clinicId: context.clinicId,
    id: context.newId<IncidentId>(),
    appointmentId: facts.appointment.id,
    operatoryId: facts.appointment.operatoryId,
    kind,
    at: context.now,
    by: context.by.id,
    drill,
    steps: [],
    life: { kind: 'open' },
  }
  const sets = kind === 'lost-clamp' && !drill ? setsOnTray(world, input.appointmentId) : []
  const marked = sets.map((set) => ({ ...set, incomplete: true }))
  return done(joinChanges(putting('incident', incident), putting('instrumentSet', ...marked)))
}

/** The dam sets whose packs lie on this appointment's tray: one of them lacks a clamp until it is found. */
function setsOnTray(world: World, appointmentId: AppointmentId): InstrumentSet[] {
  const trays = new Set(world.tray.filter((tray) => tray.appointmentId === appointmentId).map(({ id }) => id))
  const packs = world.trayLine.filter((line) => trays.has(line.trayId)).map(({ packId }) => packId)
  const sets = packs.map((id) => findFact(world, 'pack', id)?.setId ?? null)
  return world.instrumentSet.filter(({ id, kind }) => kind === 'dam-set' && sets.includes(id))
}

const done = (change: Change): Decision => ok({ change, findings: [] })

/** What is done to an open call for help, or the refusal that it is not open. */
function withOpen(world: World, id: IncidentId, decide: (incident: HelpIncident) => Decision): Decision {
  const incident = findFact(world, 'incident', id)
  if (!incident || !isHelp(incident) || incident.life.kind !== 'open') {
    return refuse({ rule: 'help/not-open', level: 'stop', about: `incident:${id}` })
  }
  return decide(incident)
}

const decideClose = (world: World, input: z.infer<typeof closing>, { by, now }: CommandContext): Decision =>
  withOpen(world, input.incidentId, (incident) => {
    const { kind, drill, id } = incident
    if (!drill && !outcomesOf(kind).includes(input.outcome)) {
      return refuse({ rule: 'help/not-ended-so', level: 'stop', about: `incident:${id}`, kind })
    }
    const outcome = input.note === '' ? input.outcome : `${input.outcome}: ${input.note}`
    return done(putting('incident', { ...incident, life: { kind: 'closed', at: now, by: by.id, outcome } }))
  })

const carding = z.object({
  kind: z.enum(HELP_KINDS),
  /** In order; none: the general list again. */
  steps: z.array(z.string().trim().min(1).max(200)).max(20),
})

function decideCard(world: World, { kind, steps }: z.infer<typeof carding>): Decision {
  const policy = must(world.policySet[0], 'a founded clinic has a policy set')
  return done(putting('policySet', { ...policy, help: { ...policy.help, [kind]: steps } }))
}

export const HELP_COMMANDS = {
  /** Tells the team on every screen, holds the chair, and starts the time of its steps. */
  'help.call': commandRule({
    kind: 'help.call',
    needs: 'word:stop',
    input: calling,
    reach: ({ appointmentId }) => ({ appointments: [appointmentId], sets: true }),
    decide: decideCall,
  }),
  /** One step done, stamped with who and when. */
  'help.step': commandRule({
    kind: 'help.step',
    needs: 'word:stop',
    input: stepping,
    reach: ofIncident,
    decide: (world, { incidentId, text }, { by, now }) =>
      withOpen(world, incidentId, (incident) =>
        done(putting('incident', { ...incident, steps: [...incident.steps, { text, at: now, by: by.id }] })),
      ),
  }),
  /** The clinic's own card for one kind of call. */
  'help.card': commandRule({
    kind: 'help.card',
    needs: 'clinic:set',
    input: carding,
    reach: () => ({}),
    decide: decideCard,
  }),
  /** How it ended, by a dentist. */
  'help.close': commandRule({
    kind: 'help.close',
    needs: 'word:give',
    input: closing,
    reach: ofIncident,
    decide: decideClose,
  }),
}
