import 'server-only'
import type { DayOf, DaySnapshot } from '#app/_live/day-holder.tsx'
import { can } from '#shared/people/role.ts'
import type { ask } from './ask.ts'

type Server = Awaited<ReturnType<typeof ask>>

/** Today of a site (the first where none is named), as whoever asks may hold it; null where nobody is signed in. */
export async function openDay(
  server: Server,
  siteId: string | null = null,
): Promise<{ of: DayOf; snapshot: DaySnapshot } | null> {
  const me = await server.me()
  const here = me?.sites.find(({ site }) => site.id === siteId) ?? me?.sites[0]
  if (!me || !here) return null
  const [members, snapshot] = await Promise.all([
    server.clinic.members(),
    server.board.day({ siteId: here.site.id, day: here.today }),
  ])
  return {
    snapshot,
    of: {
      clinic: me.clinic,
      site: here.site,
      day: here.today,
      member: me.member,
      names: me.names,
      treaters: members
        .filter((member) => member.active && can(member.roles, 'work:start'))
        .map(({ id, shortName }) => ({ id, shortName })),
    },
  }
}
