import 'server-only'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { siteHere } from '#app/_frame/site-here.ts'
import type { DayOf } from '#app/_live/day-of.ts'
import type { HeldWorld } from '#app/_live/held.ts'
import { can } from '#shared/people/role.ts'

/** Today at the steriliser of the site this screen shows; not there for whoever may not run it. */
export async function openBench(): Promise<{ of: DayOf; snapshot: HeldWorld }> {
  const server = await ask()
  const me = await server.me()
  const here = me && (await siteHere(me))
  if (!me || !here) redirect('/sign-in')
  if (!can(me.member.roles, 'sterility:run')) notFound()
  const { site, today: day } = here
  const snapshot = await server.sterility.window({ siteId: site.id, day })
  const { clinic, member, names } = me
  const sites = me.sites.map((each) => ({ id: each.site.id, name: each.site.name }))
  return { snapshot, of: { clinic, site, sites, day, member, names, treaters: [] } }
}
