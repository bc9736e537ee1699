import type { World } from '../facts.ts'
import { type ForecastAt, forecastDay } from '../sterility/day-forecast.ts'
import type { SetForecast } from '../sterility/forecast.ts'
import type { PackKind } from '../sterility/sterility-facts.ts'
import { boardFor } from './board.ts'

/** The day's sets of each kind, each start as late as the board expects it. The world holds what the steriliser's window does. */
export function forecastSetsOf(
  world: World,
  at: Omit<ForecastAt, 'expected'>,
): Record<PackKind, SetForecast> {
  const { lanes } = boardFor(world, at)
  const lines = lanes.flatMap((lane) => (lane.now === null ? lane.next : [lane.now, ...lane.next]))
  const expected = new Map(lines.map((line) => [line.appointmentId, line.expectedStart]))
  return forecastDay(world, { ...at, expected })
}
