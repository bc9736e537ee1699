import { z } from 'zod'
import { type AppointmentId, parseId } from '#shared/ids.ts'
import { planFor } from '#shared/isolation/plan-for.ts'
import { can } from '#shared/people/role.ts'
import { makePunchTemplate, PAPERS } from '../exports/punch-template.ts'
import { NOT_SIGNED_IN, replyTrouble, type Trouble } from './reply.ts'
import type { Answer } from './routes.ts'

const NOT_ALLOWED: Trouble = {
  what: 'Your role does not see clinical plans.',
  why: 'A punch template shows what will be done to a patient.',
  todo: 'Ask the assistant or the dentist to print it.',
}
const NO_SUCH_PLAN: Trouble = {
  what: 'There is no plan to print under this address.',
  why: 'A sheet punched from nothing would be wrong.',
  todo: 'Open the appointment from the board and print from there.',
}

const asked = z.object({
  appointment: z.custom<AppointmentId>((value) => typeof value === 'string' && parseId(value) !== null),
  paper: z.enum(PAPERS).default('a4'),
})

/** `?appointment=ID&paper=a4|letter`: the punch template of the plan that stands. That it was read is kept. */
export const answerPunchTemplate: Answer = async (house, request, response) => {
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  if (!can(session.roles, 'clinical:read')) return replyTrouble(response, 403, NOT_ALLOWED)
  const told = asked.safeParse(Object.fromEntries(new URL(request.url ?? '', 'http://here').searchParams))
  if (!told.success) return replyTrouble(response, 400, NO_SUCH_PLAN)
  const headers = new Headers({ cookie: request.headers.cookie ?? '' })
  const caller = await house.callerFor(headers)
  const { world } = await caller.appointments.window({ appointmentId: told.data.appointment })
  const plan = planFor(world, told.data.appointment)
  if (!plan) return replyTrouble(response, 404, NO_SUCH_PLAN)
  const notation = world.clinic[0]?.notation ?? 'iso'
  const pdf = await makePunchTemplate(plan, { paper: told.data.paper, notation })
  response.writeHead(200, {
    'content-type': 'application/pdf',
    'content-disposition': 'inline; filename="punch-template.pdf"',
    'cache-control': 'no-store',
  })
  response.end(Buffer.from(pdf))
}
