import { z } from 'zod'
import { must } from '../base/assert.ts'
import { ok, refuse } from '../base/result.ts'
import { type Change, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import type { World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import { id } from '../inputs.ts'
import { LINE_KINDS } from '../people/policy-set.ts'
import { withAnswer } from './answer.ts'
import { findAppointment, indexDay } from './day-index.ts'
import { aboutLine, linesFor, SETTLED, SETTLEMENTS, standingOfLine } from './lines.ts'

const ofLine = z.object({
  appointmentId: id<AppointmentId>(),
  kind: z.enum(LINE_KINDS),
})
const recording = ofLine.extend({
  /** As it was measured or told. */
  said: z.string().trim().min(1).max(200),
  /** Whether by the clinic's line the dentist is asked; whoever records it compares. */
  forDentist: z.boolean(),
})
const settling = ofLine.extend({ how: z.enum(SETTLEMENTS) })
const setting = z.object({
  lines: z
    .array(
      z.object({
        kind: z.enum(LINE_KINDS),
        when: z.enum(['everyone', 'by-history']),
        words: z.string().trim().min(1).max(300),
      }),
    )
    .max(LINE_KINDS.length)
    .refine((lines) => new Set(lines.map(({ kind }) => kind)).size === lines.length, 'a line twice'),
})

const ofOne = ({ appointmentId }: { appointmentId: AppointmentId }) => ({ appointments: [appointmentId] })
const done = (change: Change): Decision => ok({ change, findings: [] })

function decideRecord(world: World, input: z.infer<typeof recording>, context: CommandContext): Decision {
  const facts = findAppointment(indexDay(world), input.appointmentId)
  const about = `appointment:${input.appointmentId}`
  const { kind } = input
  if (!facts) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  if (!linesFor(facts).some((line) => line.kind === kind)) {
    return refuse({ rule: 'line/not-here', level: 'stop', about, kind })
  }
  const rule = input.forDentist ? 'line/for-dentist' : 'line/not-asked'
  return done(withAnswer(facts, { rule, about: aboutLine(kind), answer: input.said }, context))
}

function decideSettle(world: World, input: z.infer<typeof settling>, context: CommandContext): Decision {
  const facts = findAppointment(indexDay(world), input.appointmentId)
  const about = `appointment:${input.appointmentId}`
  const { kind, how } = input
  if (!facts) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  const standing = standingOfLine(facts, kind).kind
  if (standing !== 'for-dentist' && standing !== 'settled') {
    return refuse({ rule: 'line/not-here', level: 'stop', about, kind })
  }
  if (facts.appointment.dentistId !== context.by.id) {
    const booked = facts.dentist?.shortName ?? null
    return refuse({ rule: 'word/not-booked-dentist', level: 'stop', about, booked })
  }
  return done(withAnswer(facts, { rule: SETTLED, about: aboutLine(kind), answer: how }, context))
}

function decideLines(world: World, { lines }: z.infer<typeof setting>): Decision {
  const policy = must(world.policySet[0], 'a founded clinic has a policy set')
  return done(putting('policySet', { ...policy, lines: lines.length === 0 ? null : lines }))
}

export const LINE_COMMANDS = {
  /** What was measured or told of one of the clinic's lines. */
  'line.record': commandRule({
    kind: 'line.record',
    needs: 'patient:identify',
    input: recording,
    reach: ofOne,
    decide: decideRecord,
  }),
  /** The dentist who will do the work goes on, or wants another day. */
  'line.settle': commandRule({
    kind: 'line.settle',
    needs: 'word:give',
    input: settling,
    reach: ofOne,
    decide: decideSettle,
  }),
  /** The clinic's own lines, all of them; none: nothing is asked. */
  'lines.set': commandRule({
    kind: 'lines.set',
    needs: 'clinic:set',
    input: setting,
    reach: () => ({}),
    decide: decideLines,
  }),
}
