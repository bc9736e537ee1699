import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId, IsolationChoiceId, MemberId } from '../ids.ts'
import { id } from '../inputs.ts'
import { openChoice } from '../isolation/choice.ts'
import { TEETH } from '../teeth/tooth.ts'
import { findAppointment, indexDay } from './day-index.ts'
import { workedTeeth } from './judges.ts'
import { canBeDrawn } from './teaching.ts'

const tooth = z.enum(TEETH)
const teeth = z.array(tooth).max(TEETH.length)

const setting = z.object({ memberId: id<MemberId>(), drawsFirst: z.boolean() })

/** The instructor decides for a student, not for one appointment: who learns, learns at each. */
function decideTeaching(world: World, { memberId, drawsFirst }: z.infer<typeof setting>): Decision {
  const member = findFact(world, 'member', memberId)
  if (!member) return refuse({ rule: 'person/unknown', level: 'stop', about: `member:${memberId}` })
  return ok({ change: putting('member', { ...member, drawsFirst }), findings: [] })
}

const drawing = z.object({
  appointmentId: id<AppointmentId>(),
  field: teeth.min(1),
  clamped: teeth,
  /** Sizes of the clinic's own punch plate. */
  holes: z.array(z.object({ tooth, size: z.int().min(1).max(12) })).max(TEETH.length),
})

/** What a student would do, before they see what is planned. It changes nothing of the plan; the last one counts. */
function decideDrawing(world: World, input: z.infer<typeof drawing>, context: CommandContext): Decision {
  const { appointmentId, ...drawn } = input
  const about = `appointment:${appointmentId}`
  const facts = findAppointment(indexDay(world), appointmentId)
  if (!facts) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: appointmentId })
  const { choice, plan, appointment } = facts
  if (appointment.studentId !== context.by.id) {
    return refuse({ rule: 'drawing/not-yours', level: 'stop', about })
  }
  if (plan === null || !canBeDrawn(facts)) return refuse({ rule: 'drawing/no-plan', level: 'stop', about })
  const { clinicId, newId, by, now } = context
  const standing = choice ?? openChoice({ clinicId, id: newId<IsolationChoiceId>(), appointmentId })
  const kept = { ...drawn, worked: workedTeeth(facts), planNumber: plan.number, by: by.id, at: now }
  return ok({ change: putting('isolationChoice', { ...standing, drawing: kept }), findings: [] })
}

export const TEACHING_COMMANDS = {
  'teaching.set': commandRule({
    kind: 'teaching.set',
    needs: 'sign-off:give',
    input: setting,
    reach: () => ({}),
    decide: decideTeaching,
  }),
  'drawing.keep': commandRule({
    kind: 'drawing.keep',
    needs: 'work:start',
    input: drawing,
    reach: ({ appointmentId }) => ({ appointments: [appointmentId] }),
    decide: decideDrawing,
  }),
}
