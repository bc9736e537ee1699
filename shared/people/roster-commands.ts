import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { joinChanges, putting, removing } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { MemberId, SiteId } from '../ids.ts'
import { clockTime, day, id } from '../inputs.ts'
import { planSpan } from '../schedule/placing.ts'
import type { Roster } from './clinic.ts'

const spans = z.array(z.object({ from: clockTime, to: clockTime })).max(6)

const rostering = z.object({
  memberId: id<MemberId>(),
  siteId: id<SiteId>(),
  day,
  /** From when to when; breaks are what is left out. None: not on the roster that day. */
  hours: spans,
  /** From when to when they are away, though they may be on the roster. Why is nobody's business here. */
  away: spans.default([]),
})

/** A person's hours of a day at a site, as a whole: what stood there before goes. */
function decideRoster(world: World, input: z.infer<typeof rostering>, context: CommandContext): Decision {
  const { memberId, day } = input
  const site = findFact(world, 'site', input.siteId)
  if (!site) return refuse({ rule: 'site/unknown', level: 'stop', about: `site:${input.siteId}` })
  if (!findFact(world, 'member', memberId))
    return refuse({ rule: 'person/unknown', level: 'stop', about: `member:${memberId}` })
  const away = { by: context.by.id, at: context.now }
  const rosters: Roster[] = []
  for (const span of [
    ...input.hours.map((each) => ({ ...each, away: null })),
    ...input.away.map((each) => ({ ...each, away })),
  ]) {
    const hours = planSpan(day, span, site.zone)
    if (!hours.ok) return hours
    const id = context.newId<Roster['id']>()
    const { clinicId } = context
    rosters.push({ clinicId, id, memberId, siteId: site.id, day, ...hours.value, away: span.away })
  }
  const before = world.roster.filter(
    (roster) => roster.memberId === memberId && roster.siteId === site.id && roster.day === day,
  )
  return ok({
    change: joinChanges(
      removing('roster', ...before.map((roster) => roster.id)),
      putting('roster', ...rosters),
    ),
    findings: [],
  })
}

export const ROSTER_COMMANDS = {
  'roster.set': commandRule({
    kind: 'roster.set',
    needs: 'day:change',
    input: rostering,
    reach: (input) => ({ days: [input.day] }),
    decide: decideRoster,
  }),
}
