import 'server-only'
import type { DaySnapshot } from '#app/_live/day-holder.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { can, isStation } from '#shared/people/role.ts'
import type { ask } from './ask.ts'
import { siteHere } from './site-here.ts'

type Server = Awaited<ReturnType<typeof ask>>
type Me = NonNullable<Awaited<ReturnType<Server['me']>>>
type Opened = { of: DayOf; snapshot: DaySnapshot }

/** Today of a site (the one chosen on this screen, else the first), as whoever asks may hold it; null where nobody is signed in. */
export async function openDay(server: Server, siteId: string | null = null): Promise<Opened | null> {
  const me = await server.me()
  return me && !isStation(me.member.roles) ? openFor(server, me, siteId) : null
}

/** The same for a shared station where nobody is signed in; null for a person's screen. */
export async function openRoom(server: Server): Promise<Opened | null> {
  const me = await server.me()
  return me && isStation(me.member.roles) ? openFor(server, me, null) : null
}

async function openFor(server: Server, me: Me, siteId: string | null): Promise<Opened | null> {
  const here = await siteHere(me, siteId)
  if (!here) return null
  const [members, snapshot] = await Promise.all([
    server.clinic.members(),
    server.board.day({ siteId: here.site.id, day: here.today }),
  ])
  return {
    snapshot,
    of: {
      clinic: me.clinic,
      site: here.site,
      sites: me.sites.map(({ site }) => ({ id: site.id, name: site.name })),
      day: here.today,
      member: me.member,
      names: me.names,
      treaters: members
        .filter((member) => member.active && can(member.roles, 'work:start'))
        .map(({ id, shortName }) => ({ id, shortName })),
    },
  }
}
