import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import { day, id } from '../inputs.ts'
import { VISIT_STAGES } from '../schedule/appointment.ts'
import { AGENTS, type Anaesthetic, type CartridgeReading, VASOCONSTRICTORS } from './anaesthetic.ts'
import { anaestheticOf } from './anaesthetic-of.ts'
import { judgeLabelRead, type LabelSight, labelOf, latestReading } from './cartridge.ts'

const appointmentId = id<AppointmentId>()
const reading = z.object({
  appointmentId,
  label: z.object({
    agent: z.enum(AGENTS),
    milliPercent: z.int().min(100).max(10_000),
    vasoconstrictor: z.enum(VASOCONSTRICTORS),
    ratio: z.int().min(10_000).max(1_000_000).nullable(),
  }),
  /** The last day on which it may be used. */
  expires: day,
})
/** The answer names the reading it heard, so that it never falls on another. */
const answering = z.object({ appointmentId, readAt: z.int().nonnegative() })

/** The sight of one appointment's labels; null where the world does not hold it. */
export function labelSightOf(world: World, id: AppointmentId): LabelSight | null {
  if (!findFact(world, 'appointment', id)) return null
  const visit = world.visit.find((each) => each.appointmentId === id)
  return {
    appointmentId: id,
    anaesthetic: world.anaesthetic.find((each) => each.appointmentId === id) ?? null,
    seatedAt: visit?.steps.findLast(({ stage }) => stage === 'seated')?.at ?? null,
    notForBlocks: world.policySet[0]?.anaesthesia.notForBlocks ?? [],
  }
}

/** A label that differs is kept and told: what was nearly drawn up is not forgotten. One past its day is not recorded. */
function decideRead(world: World, input: z.infer<typeof reading>, context: CommandContext): Decision {
  const about = `appointment:${input.appointmentId}`
  const sight = labelSightOf(world, input.appointmentId)
  if (!sight) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  if (!isInChair(world, input.appointmentId)) {
    return refuse({ rule: 'dose/visit-not-seated', level: 'stop', about })
  }
  if (input.expires < context.today) {
    return refuse({ rule: 'cartridge/expired', level: 'stop', about, expires: input.expires })
  }
  const anaesthetic = anaestheticOf(world, input.appointmentId, context)
  const read = { by: context.by.id, at: context.now }
  const kept = withReading(anaesthetic, {
    ...labelOf(input.label),
    expires: input.expires,
    read,
    answered: null,
  })
  return ok({
    change: putting('anaesthetic', kept),
    findings: judgeLabelRead({ ...sight, anaesthetic: kept }),
  })
}

const withReading = (anaesthetic: Anaesthetic, read: CartridgeReading): Anaesthetic => ({
  ...anaesthetic,
  readings: [...(anaesthetic.readings ?? []), read],
})

function isInChair(world: World, id: AppointmentId): boolean {
  const stage = world.visit.find((each) => each.appointmentId === id)?.stage ?? 'expected'
  return stage !== 'left' && VISIT_STAGES.indexOf(stage) >= VISIT_STAGES.indexOf('seated')
}

/** Another person answers the label that was read last, and only where it is what is planned. */
function decideAnswer(world: World, input: z.infer<typeof answering>, context: CommandContext): Decision {
  const about = `appointment:${input.appointmentId}`
  const sight = labelSightOf(world, input.appointmentId)
  if (!sight) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  const latest = latestReading(sight)
  if (latest === null || latest.answered !== null || latest.read.at !== input.readAt) {
    return refuse({ rule: 'cartridge/nothing-read', level: 'stop', about })
  }
  if (latest.read.by === context.by.id) return refuse({ rule: 'cartridge/same-person', level: 'stop', about })
  const differing = judgeLabelRead(sight)
  if (differing.length > 0) return refuse(...differing)
  const anaesthetic = anaestheticOf(world, input.appointmentId, context)
  const answered = { ...latest, answered: { by: context.by.id, at: context.now } }
  const readings = (anaesthetic.readings ?? []).map((each) => (each === latest ? answered : each))
  return ok({ change: putting('anaesthetic', { ...anaesthetic, readings }), findings: [] })
}

const reach = (input: { appointmentId: AppointmentId }) => ({ appointments: [input.appointmentId] })

export const CARTRIDGE_COMMANDS = {
  /** One person reads drug, strength and expiry from the label, aloud. */
  'cartridge.read': commandRule({
    kind: 'cartridge.read',
    needs: 'numbness:record',
    input: reading,
    reach,
    decide: decideRead,
  }),
  /** Another person has heard it and holds it for what is planned. */
  'cartridge.answer': commandRule({
    kind: 'cartridge.answer',
    needs: 'numbness:record',
    input: answering,
    reach,
    decide: decideAnswer,
  }),
}
