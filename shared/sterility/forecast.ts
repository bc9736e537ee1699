import { addMinutes, type Instant, type Minutes } from '../base/moment.ts'

/** An appointment that takes sets of one kind from its start until turnaround after its end. */
export interface SetNeed {
  id: string
  start: Instant
  minutes: Minutes
  sets: number
}

export interface ForecastRequest {
  needs: readonly SetNeed[]
  /** Sterile sets on the shelf now. */
  sets: number
  /** From the end in the chair until the set is sterile again; null: none comes back, no steriliser serves. */
  turnaroundMinutes: Minutes | null
  /** Sets not on the shelf now and when each is back. */
  returning: readonly Instant[]
}

export interface Shortage {
  id: string
  at: Instant
  short: number
  /** The earliest start that would mend it and leave nobody else short for it; null where there is none. */
  back: Instant | null
}

export type Mend =
  | { kind: 'move'; id: string; to: Instant }
  | { kind: 'borrow'; sets: number; by: Instant }
  | { kind: 'sooner'; id: string; by: Instant }
  /** With so many more sets, none would be short. */
  | { kind: 'order'; sets: number }

export interface SetForecast {
  first: Shortage | null
  shortages: Shortage[]
  /** The most sets that are out at once, turnaround included. */
  needed: number
  /** How many of the appointments the sets at hand cover, in order of start. */
  covered: number
  /** How many, in order of start, before the first that goes short. */
  coversNext: number
  mends: Mend[]
}

interface Out {
  back: Instant
}

/**
 * The day's sets in order of start. An appointment that finds too few takes none: a set is never used again
 * before it went through the steriliser. A set that is back at the very minute of a start is there.
 */
export function forecastSets(request: ForecastRequest): SetForecast {
  const ordered = [...request.needs].filter((need) => need.sets > 0).sort(byStart)
  const missing = walk(request, ordered)
  const shortages = missing.map(
    ({ need, short }): Shortage => ({
      id: need.id,
      at: need.start,
      short,
      back: earliestBack(need, { request, ordered, missing }),
    }),
  )
  const [first = null] = shortages
  return {
    first,
    shortages,
    needed: setsNeeded(request.needs, request.turnaroundMinutes),
    covered: ordered.length - shortages.length,
    coversNext: first === null ? ordered.length : ordered.findIndex((need) => need.id === first.id),
    mends: first === null ? [] : mendsOf(first, shortages, { ordered, request }),
  }
}

interface Missing {
  need: SetNeed
  short: number
}

/** Through the day: who finds too few, and by how many. */
function walk(request: ForecastRequest, ordered: readonly SetNeed[]): Missing[] {
  const out: Out[] = request.returning.map((back) => ({ back }))
  const missing: Missing[] = []
  let shelf = request.sets
  for (const need of ordered) {
    for (let at = out.length - 1; at >= 0; at--) {
      if ((out[at]?.back ?? Number.POSITIVE_INFINITY) > need.start) continue
      out.splice(at, 1)
      shelf++
    }
    if (shelf < need.sets) {
      missing.push({ need, short: need.sets - shelf })
      continue
    }
    shelf -= need.sets
    for (let taken = 0; taken < need.sets; taken++) out.push({ back: backAt(need, request) })
  }
  return missing
}

interface Around {
  request: ForecastRequest
  ordered: readonly SetNeed[]
  missing: readonly Missing[]
}

/**
 * The earliest start at which this appointment would find its sets and nobody else would go short for it. Sets come
 * onto the shelf only when some are back, so only those minutes are tried.
 */
function earliestBack(need: SetNeed, { request, ordered, missing }: Around): Instant | null {
  const others = ordered.filter(({ id }) => id !== need.id)
  const known = new Set(missing.map((each) => each.need.id))
  const isCovered = (start: Instant): boolean =>
    walk(request, [...others, { ...need, start }].sort(byStart)).every(
      (each) => each.need.id !== need.id && known.has(each.need.id),
    )
  const returns = [...request.returning, ...others.map((other) => backAt(other, request))]
  return (
    [...new Set(returns)]
      .filter((at) => at > need.start && Number.isFinite(at))
      .sort((a, b) => a - b)
      .find(isCovered) ?? null
  )
}

const byStart = (a: SetNeed, b: SetNeed): number => a.start - b.start || (a.id < b.id ? -1 : 1)
/** When the sets of an appointment are sterile again; never, where none comes back. */
const backAt = (need: SetNeed, { turnaroundMinutes }: Pick<ForecastRequest, 'turnaroundMinutes'>): Instant =>
  addMinutes(need.start, need.minutes + (turnaroundMinutes ?? Number.POSITIVE_INFINITY))

/** The most sets out at once: each is out from its start until turnaround after its end, the last minute not counted. */
export function setsNeeded(needs: readonly SetNeed[], turnaroundMinutes: Minutes | null): number {
  const edges = needs.flatMap((need) => [
    { at: need.start as number, by: need.sets },
    { at: backAt(need, { turnaroundMinutes }) as number, by: -need.sets },
  ])
  edges.sort((a, b) => a.at - b.at || a.by - b.by)
  let out = 0
  let most = 0
  for (const { by } of edges) {
    out += by
    most = Math.max(most, out)
  }
  return most
}

/** What would mend the shortages: to start when sets are back, to borrow, a load that comes sooner, more sets. */
function mendsOf(
  first: Shortage,
  shortages: readonly Shortage[],
  { ordered, request }: { ordered: readonly SetNeed[]; request: ForecastRequest },
): Mend[] {
  const moves: Mend[] = shortages.flatMap(({ id, back }) =>
    back === null ? [] : [{ kind: 'move' as const, id, to: back }],
  )
  const returning = ordered.find(
    (need) =>
      need.start < first.at &&
      backAt(need, request) > first.at &&
      addMinutes(need.start, need.minutes) < first.at,
  )
  const isBackLater = returning && Number.isFinite(backAt(returning, request))
  const sooner: Mend[] = isBackLater ? [{ kind: 'sooner', id: returning.id, by: first.at }] : []
  const order: Mend = { kind: 'order', sets: moreSets(request, ordered) }
  return [...moves, { kind: 'borrow', sets: first.short, by: first.at }, ...sooner, order]
}

/** The fewest sets more with which nobody would go short. */
function moreSets(request: ForecastRequest, ordered: readonly SetNeed[]): number {
  let more = 0
  while (walk({ ...request, sets: request.sets + more }, ordered).length > 0) more++
  return more
}
