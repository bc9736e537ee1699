import type { Day, Instant, Zone } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { Site } from '#shared/people/clinic.ts'
import { forecastSetsOf } from '#shared/readiness/day-sets.ts'
import { isDown, judgeSets } from '#shared/sterility/day-forecast.ts'
import type { Mend, SetForecast, Shortage } from '#shared/sterility/forecast.ts'
import { PACK_KINDS } from '#shared/sterility/sterility-facts.ts'
import { turnaroundOf } from '#shared/sterility/turnaround.ts'
import { say } from '#shared/words/en.ts'
import { badUsage, type VerbAnswer } from './answer.ts'
import { makeIso } from './board.ts'

export type SiteForecast = ReturnType<typeof forecastAt>

/** One site's day: each kind of set it needs, its first shortage to the minute and what would mend it. */
export function forecastAt(
  world: World,
  { site, day, now, revision }: { site: Site; day: Day; now: Instant; revision: number },
) {
  const { id, name, zone } = site
  const forecasts = forecastSetsOf(world, { siteId: id, day, now })
  const { minutes, measured } = turnaroundOf(world.policySet[0] ?? null)
  return {
    site: { id, name },
    revision,
    at: makeIso(now, zone),
    day,
    turnaround: { minutes, measured },
    steriliserInService: !isDown(world, id),
    kinds: PACK_KINDS.filter((kind) => forecasts[kind].needed > 0).map((kind) => ({
      kind,
      ...printKind(forecasts[kind], zone),
    })),
    findings: judgeSets(forecasts).map((finding) => ({ ...finding, text: say(finding) })),
  }
}

/** What `forecast` prints: the first site as it always did, and every site that was asked about. */
export function forecastAnswer(sites: readonly SiteForecast[]): VerbAnswer {
  const [first] = sites
  if (!first) return badUsage('This clinic has no site yet, so it has no sets. Add one in the settings.')
  return { body: { ...first, sites }, exit: 0 }
}

const printKind = ({ first, shortages, needed, covered, coversNext, mends }: SetForecast, zone: Zone) => ({
  needed,
  covered,
  coversNext,
  first: first && printShortage(first, zone),
  shortages: shortages.map((shortage) => printShortage(shortage, zone)),
  mends: mends.map((mend) => printMend(mend, zone)),
})

const printShortage = ({ id, at, short, back }: Shortage, zone: Zone) => ({
  appointment: id,
  at: makeIso(at, zone),
  short,
  back: back === null ? null : makeIso(back, zone),
})

function printMend(mend: Mend, zone: Zone): object {
  switch (mend.kind) {
    case 'move':
      return { do: 'move', appointment: mend.id, to: makeIso(mend.to, zone) }
    case 'borrow':
      return { do: 'borrow', sets: mend.sets, by: makeIso(mend.by, zone) }
    case 'sooner':
      return { do: 'reprocess sooner', appointment: mend.id, by: makeIso(mend.by, zone) }
    case 'order':
      return { do: 'order', sets: mend.sets }
  }
}
