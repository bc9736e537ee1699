'use client'
import type { DayOf } from '#app/_live/day-of.ts'
import { Pick } from '#app/_ui/pick.tsx'
import { SITE_COOKIE } from './site-cookie.ts'

const YEAR_SECONDS = 365 * 24 * 60 * 60

/** Which site this screen shows, where the clinic has several; it stays so on this screen. */
export function SitePick({ of }: { of: DayOf }) {
  if (of.sites.length < 2) return null
  const pick = (siteId: string) => {
    // biome-ignore lint/suspicious/noDocumentCookie: the Cookie Store API is missing on a clinic's plain-http network
    document.cookie = `${SITE_COOKIE}=${siteId}; path=/; max-age=${YEAR_SECONDS}; samesite=lax`
    location.reload()
  }
  return (
    <Pick
      label="Site"
      value={of.site.id}
      options={of.sites.map(({ id, name }) => ({ value: id, label: name }))}
      onPick={pick}
    />
  )
}
