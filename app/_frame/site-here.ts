import 'server-only'
import { cookies } from 'next/headers'
import type { ask } from './ask.ts'
import { SITE_COOKIE } from './site-cookie.ts'

type Me = NonNullable<Awaited<ReturnType<Awaited<ReturnType<typeof ask>>['me']>>>

/** The site this screen shows: the one named, else the one chosen on this screen, else the first. */
export async function siteHere(
  me: Me,
  siteId: string | null = null,
): Promise<Me['sites'][number] | undefined> {
  const chosen = siteId ?? (await cookies()).get(SITE_COOKIE)?.value
  return me.sites.find(({ site }) => site.id === chosen) ?? me.sites[0]
}
