import 'server-only'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { siteHere } from '#app/_frame/site-here.ts'
import { can, type Permission } from '#shared/people/role.ts'
import type { StockHolderProps } from './stock-holder.tsx'

/** The shelf, seen from the site this screen shows; not there for whoever may not do what the page is for. */
export async function openStock(needs: Permission): Promise<StockHolderProps> {
  const server = await ask()
  const me = await server.me()
  const here = me && (await siteHere(me))
  if (!me || !here) redirect('/sign-in')
  if (!can(me.member.roles, needs)) notFound()
  const { clinic, member, names } = me
  const sites = me.sites.map(({ site }) => ({ id: site.id, name: site.name }))
  return {
    snapshot: await server.stock.window(),
    of: { clinic, site: here.site, sites, day: here.today, member, names, treaters: [] },
  }
}
