import type { Zone } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import { type ForecastAt, forecastDay, isDown, judgeSets } from '#shared/sterility/day-forecast.ts'
import type { Mend, SetForecast, Shortage } from '#shared/sterility/forecast.ts'
import { PACK_KINDS } from '#shared/sterility/sterility-facts.ts'
import { turnaroundOf } from '#shared/sterility/turnaround.ts'
import { say } from '#shared/words/en.ts'
import type { VerbAnswer } from './answer.ts'
import { makeIso } from './board.ts'

/** What `forecast` prints: each kind of set the day needs, its first shortage to the minute and what would mend it. */
export function forecastAnswer(world: World, at: ForecastAt & { zone: Zone; revision: number }): VerbAnswer {
  const forecasts = forecastDay(world, at)
  const { minutes, measured } = turnaroundOf(world.policySet[0] ?? null)
  const body = {
    revision: at.revision,
    at: makeIso(at.now, at.zone),
    day: at.day,
    turnaround: { minutes, measured },
    steriliserInService: !isDown(world, at.siteId),
    kinds: PACK_KINDS.filter((kind) => forecasts[kind].needed > 0).map((kind) => ({
      kind,
      ...printKind(forecasts[kind], at.zone),
    })),
    findings: judgeSets(forecasts).map((finding) => ({ ...finding, text: say(finding) })),
  }
  return { body, exit: 0 }
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
