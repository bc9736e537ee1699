import { z } from 'zod'
import { dayOf } from '../base/moment.ts'
import { ok, refuse } from '../base/result.ts'
import { joinChanges, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { OccupancyId, OperatoryId, SiteId } from '../ids.ts'
import { id } from '../inputs.ts'
import { isOver } from '../schedule/appointment.ts'
import { OPERATORY_KINDS, type Operatory, START_LINES } from './clinic.ts'

const name = z.string().trim().min(1).max(120)

const adding = z.object({
  siteId: id<SiteId>(),
  name,
  kind: z.enum(OPERATORY_KINDS),
  latexSafe: z.boolean(),
})

/** A new operatory stands last on the board, and clear. */
function decideOperatory(world: World, input: z.infer<typeof adding>, context: CommandContext): Decision {
  const { clinicId, newId, now } = context
  const about = `site:${input.siteId}`
  if (!findFact(world, 'site', input.siteId)) return refuse({ rule: 'site/unknown', level: 'stop', about })
  const here = world.operatory.filter((operatory) => operatory.siteId === input.siteId)
  if (here.some((operatory) => operatory.name === input.name)) {
    return refuse({ rule: 'room/name-taken', level: 'stop', about, name: input.name })
  }
  const position = Math.max(0, ...here.map((operatory) => operatory.position)) + 1
  const operatory: Operatory = { clinicId, id: newId<OperatoryId>(), position, ...input, retiredAt: null }
  return ok({
    change: joinChanges(
      putting('operatory', operatory),
      putting('occupancy', {
        clinicId,
        id: newId<OccupancyId>(),
        operatoryId: operatory.id,
        life: { kind: 'clear', since: now },
      }),
    ),
    findings: [],
  })
}

const looking = z.object({
  siteId: id<SiteId>(),
  line: z.enum(START_LINES),
  /** Whether it is there, whole and in date, as whoever looked says. */
  inOrder: z.boolean(),
})

/** Looked over at the start of the day, by the site's own clock; every look of that day is kept. */
function decideLook(world: World, input: z.infer<typeof looking>, { by, now }: CommandContext): Decision {
  const { siteId, line, inOrder } = input
  const site = findFact(world, 'site', siteId)
  if (!site) return refuse({ rule: 'site/unknown', level: 'stop', about: `site:${siteId}` })
  const day = dayOf(now, site.zone)
  const before = site.startOfDay?.day === day ? site.startOfDay.lines : []
  const lines = [...before, { line, inOrder, by: by.id, at: now }]
  return ok({ change: putting('site', { ...site, startOfDay: { day, lines } }), findings: [] })
}

const changing = z.object({
  operatoryId: id<OperatoryId>(),
  name: name.optional(),
  kind: z.enum(OPERATORY_KINDS).optional(),
  latexSafe: z.boolean().optional(),
  /** True: it takes nobody new and keeps its past. False: back into use. */
  retired: z.boolean().optional(),
})

/** An operatory is renamed or retired, never removed: what happened there keeps its place. */
function decideChange(world: World, input: z.infer<typeof changing>, context: CommandContext): Decision {
  const operatory = findFact(world, 'operatory', input.operatoryId)
  const about = `operatory:${input.operatoryId}`
  if (!operatory) return refuse({ rule: 'room/unknown', level: 'stop', about })
  const changed: Operatory = {
    ...operatory,
    name: input.name ?? operatory.name,
    kind: input.kind ?? operatory.kind,
    latexSafe: input.latexSafe ?? operatory.latexSafe,
    retiredAt: retiredAt(operatory, input.retired, context),
  }
  if (isNameTaken(world, changed)) {
    return refuse({ rule: 'room/name-taken', level: 'stop', about, name: changed.name })
  }
  const count = changed.retiredAt === null ? 0 : countAhead(world, changed.id)
  if (count > 0) return refuse({ rule: 'room/booked-ahead', level: 'stop', about, name: changed.name, count })
  return ok({ change: putting('operatory', changed), findings: [] })
}

function retiredAt(
  operatory: Operatory,
  retired: boolean | undefined,
  { now }: CommandContext,
): Operatory['retiredAt'] {
  const stood = operatory.retiredAt ?? null
  if (retired === undefined) return stood
  return retired ? (stood ?? now) : null
}

const isNameTaken = (world: World, { id: own, siteId, name }: Operatory): boolean =>
  world.operatory.some((each) => each.id !== own && each.siteId === siteId && each.name === name)

const countAhead = (world: World, operatoryId: OperatoryId): number =>
  world.appointment.filter((each) => each.operatoryId === operatoryId && !isOver(each.status)).length

export const ROOM_COMMANDS = {
  'site.look-over': commandRule({
    kind: 'site.look-over',
    needs: 'tray:use',
    input: looking,
    reach: () => ({}),
    decide: decideLook,
  }),
  'operatory.add': commandRule({
    kind: 'operatory.add',
    needs: 'clinic:set',
    input: adding,
    reach: () => ({}),
    decide: decideOperatory,
  }),
  'operatory.change': commandRule({
    kind: 'operatory.change',
    needs: 'clinic:set',
    input: changing,
    // Every appointment ahead is read only where it may forbid what is asked.
    reach: ({ retired }) => (retired ? { upcoming: true as const } : {}),
    decide: decideChange,
  }),
}
