import { type Day, dayOf, type Zone } from '../base/moment.ts'
import type { SterilityFinding } from './findings.ts'
import { contentOf, findCycle, leastSeconds } from './parameters.ts'
import type { Indicator, Load, Steriliser } from './sterility-facts.ts'

/** A cycle that only carries a test: nothing in it is ever used on a patient. */
export const TEST_PROGRAMMES = ['test cycle', 'test cycle, empty chamber'] as const
export const isTestLoad = ({ programme }: Pick<Load, 'programme'>): boolean =>
  programme.startsWith('test cycle')

export interface LoadSight {
  steriliser: Steriliser
  /** Indicators of this steriliser, with or without a load. */
  indicators: readonly Indicator[]
  zone: Zone
}

/**
 * Whether a load may be released: its readings reach the published minimum, its chemical indicator has changed,
 * and a vacuum-assisted steriliser passed its air-removal test before the first load of the day.
 */
export function judgeLoad(load: Load, sight: LoadSight): SterilityFinding[] {
  return [...judgeReading(load, sight), ...judgeIndicators(load, sight), ...judgeAirRemoval(load, sight)]
}

/** Time and temperature as they were read off, against the table for this steriliser and programme. */
function judgeReading(
  { id, number, programme, reading }: Load,
  { steriliser }: LoadSight,
): SterilityFinding[] {
  const about = `load:${id}`
  if (reading === null) return [{ rule: 'load/no-reading', level: 'ask', about, load: number }]
  const content = contentOf(programme)
  const row = content === null ? undefined : findCycle(steriliser.type, content)
  if (!row) return [{ rule: 'load/programme-unknown', level: 'ask', about, load: number, programme }]
  const least = leastSeconds(row, reading.deciCelsius)
  if (least !== null && reading.seconds >= least) return []
  const { deciCelsius, seconds } = reading
  return [
    {
      rule: 'load/below-minimum',
      level: 'stop',
      about,
      load: number,
      deciCelsius,
      seconds,
      leastSeconds: least,
    },
  ]
}

/** Every load has a chemical indicator, read and changed; a failed spore test fails it too. */
function judgeIndicators({ id, number }: Load, { indicators }: LoadSight): SterilityFinding[] {
  const about = `load:${id}`
  const own = indicators.filter((indicator) => indicator.loadId === id)
  const chemical = own.filter((indicator) => indicator.kind === 'chemical')
  if (own.some(hasFailed)) return [{ rule: 'load/indicator-failed', level: 'stop', about, load: number }]
  if (chemical.length === 0) return [{ rule: 'load/indicator-missing', level: 'stop', about, load: number }]
  return chemical.some(({ life }) => life.kind === 'pending' || life.result !== 'pass')
    ? [{ rule: 'load/indicator-unread', level: 'stop', about, load: number }]
    : []
}

export const hasFailed = ({ life }: Indicator): boolean => life.kind === 'read' && life.result === 'fail'
export const hasPassed = ({ life }: Indicator): boolean => life.kind === 'read' && life.result === 'pass'

function judgeAirRemoval(load: Load, { steriliser, indicators, zone }: LoadSight): SterilityFinding[] {
  if (steriliser.type !== 'dynamic-air-removal') return []
  const day = dayOf(load.started, zone)
  return hasAirRemovalTest(indicators, day, zone)
    ? []
    : [
        {
          rule: 'load/no-air-removal-test',
          level: 'stop',
          about: `steriliser:${steriliser.id}`,
          steriliser: steriliser.name,
        },
      ]
}

/** The day's last air-removal test that was read counts: a failed one after a pass is a failure. */
const hasAirRemovalTest = (indicators: readonly Indicator[], day: Day, zone: Zone): boolean => {
  const last = indicators
    .filter(
      ({ kind, life, placed }) =>
        kind === 'air-removal' && life.kind === 'read' && dayOf(placed, zone) === day,
    )
    .sort((a, b) => a.placed - b.placed)
    .at(-1)
  return last !== undefined && hasPassed(last)
}
