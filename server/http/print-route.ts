import { z } from 'zod'
import type { World } from '#shared/facts.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { id } from '#shared/inputs.ts'
import { planFor } from '#shared/isolation/plan-for.ts'
import { can } from '#shared/people/role.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { mustDrawFirst } from '#shared/readiness/teaching.ts'
import { PAPERS, type Paper } from '../exports/pen.ts'
import { makePunchTemplate } from '../exports/punch-template.ts'
import { makeTrayCard, trayCardOf } from '../exports/tray-card.ts'
import type { House } from '../house.ts'
import type { Answer } from './answer.ts'
import { NOT_SIGNED_IN, replyTrouble, type Trouble } from './reply.ts'

const NOT_ALLOWED: Trouble = {
  what: 'Your role does not see clinical plans.',
  why: 'What is printed here shows what will be done to a patient.',
  todo: 'Ask the assistant or the dentist to print it.',
}
const NO_SUCH_PLAN: Trouble = {
  what: 'There is no plan or tray to print under this address.',
  why: 'A sheet punched or a tray laid out from nothing would be wrong.',
  todo: 'Open the appointment from the board and print from there.',
}

const NOT_DRAWN: Trouble = {
  what: 'You draw your own plan first.',
  why: 'What is printed here is the plan itself, or what it lays on the tray.',
  todo: 'Draw it on the page of the appointment and keep it; then print from there.',
}

const asked = z.object({
  appointment: id<AppointmentId>(),
  paper: z.enum(PAPERS).default('a4'),
})

interface Asked {
  world: World
  appointmentId: AppointmentId
  paper: Paper
  house: House
}
type Make = (asked: Asked) => Promise<Uint8Array> | null

/** `?appointment=ID&paper=a4|letter`: something of one appointment to print, for who sees plans. That it was read is kept. */
const printing =
  (name: string, make: Make): Answer =>
  async (house, request, response) => {
    const session = await house.readSession(request.headers.cookie)
    if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
    if (!can(session.roles, 'clinical:read')) return replyTrouble(response, 403, NOT_ALLOWED)
    const told = asked.safeParse(Object.fromEntries(new URL(request.url ?? '', 'http://here').searchParams))
    if (!told.success) return replyTrouble(response, 400, NO_SUCH_PLAN)
    const { appointment: appointmentId, paper } = told.data
    const caller = await house.callerFor(new Headers({ cookie: request.headers.cookie ?? '' }))
    const { world } = await caller.appointments.window({ appointmentId })
    const facts = findAppointment(indexDay(world), appointmentId)
    if (facts && mustDrawFirst(facts, session.memberId)) return replyTrouble(response, 403, NOT_DRAWN)
    const pdf = make({ world, appointmentId, paper, house })
    if (!pdf) return replyTrouble(response, 404, NO_SUCH_PLAN)
    response.writeHead(200, {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="${name}.pdf"`,
      'cache-control': 'no-store',
    })
    response.end(Buffer.from(await pdf))
  }

/** The punch template of the plan that stands. */
export const answerPunchTemplate = printing('punch-template', ({ world, appointmentId, paper }) => {
  const plan = planFor(world, appointmentId)
  return plan && makePunchTemplate(plan, { paper, notation: world.clinic[0]?.notation ?? 'iso' })
})

/** The tray's card; its code opens the tray on a screen that is signed in. */
export const answerTrayCard = printing('tray-card', ({ world, appointmentId, paper, house }) => {
  const { PUBLIC_ADDRESS, HOST, PORT } = house.environment
  const address = PUBLIC_ADDRESS ?? `http://${HOST}:${PORT}`
  const card = trayCardOf(world, appointmentId, new URL(`/trays/${appointmentId}`, address).href)
  return card && makeTrayCard(card, paper)
})
