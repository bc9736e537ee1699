import { beforeAll, describe, expect, test } from 'vitest'
import { DEMO_DAY } from '#seed/clinic.ts'
import { dayScript, INVENTED_FOUNDER, performInMemory, seedInventedClinic } from '#seed/run.ts'
import { momentOf, tell } from '#seed/telling.ts'
import { holdWindow, judgeAnew, wholeBoard } from '#server/realtime/held-window.ts'
import { SUBSTANCES } from '#shared/allergies/substance.ts'
import { AGENTS } from '#shared/anaesthesia/anaesthetic.ts'
import { must } from '#shared/base/assert.ts'
import { addMinutes, type Instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { forecastSetsOf } from '#shared/readiness/day-sets.ts'
import { say } from '#shared/words/en.ts'
import type { JudgedAudience } from '#shared/words/judged.ts'
import { sayShortSets } from '#shared/words/short-sets.ts'

const OPENS = momentOf(DEMO_DAY, '07:00')
const EVERY = 5
const LOOKS = 12 * 12

/** Ids, days, clock times and counts hold digits that are no teeth. */
const NO_TOOTH =
  /[0-9a-f]{8}-[0-9a-f-]{27}|\d{4}-\d\d-\d\d|\b\d\d?:\d\d\b|\b\d+ (?:of|min|minutes?|sets?)\b|Operatory \d+/g

/** Every text in a value, with where it stands. */
function textsOf(value: unknown, at = ''): { at: string; text: string }[] {
  if (typeof value === 'string') return [{ at, text: value.replace(NO_TOOTH, ' ') }]
  if (value === null || typeof value !== 'object') return []
  return Object.entries(value).flatMap(([key, inside]) => textsOf(inside, `${at}.${key}`))
}

const ANATOMY =
  /\b(?:molars?|premolars?|incisors?|canines?|upper (?:left|right)|lower (?:left|right)|gum|clamp(?:ed)?)\b/i
const MEDICINE = new RegExp(
  `\\b(?:${[...SUBSTANCES, ...AGENTS].map((word) => word.replaceAll('-', '[- ]')).join('|')}|allerg(?:y|ic)|numb)\\b`,
  'i',
)

/** The teeth of an appointment: worked on, exposed, clamped. */
function teethOf(world: World, id: string): RegExp | null {
  const worked = world.work.filter(({ appointmentId }) => appointmentId === id).flatMap(({ teeth }) => teeth)
  const plan = world.plan.find(({ appointmentId }) => appointmentId === id)
  const planned = (plan?.agreed.sheets ?? []).flatMap(({ field, clamps }) => [
    ...field,
    ...clamps.map(({ tooth }) => tooth),
  ])
  const teeth = [...new Set([...worked, ...planned])]
  return teeth.length === 0 ? null : new RegExp(`(?<![\\d.])(?:${teeth.join('|')})(?![\\d.])`)
}

/** How far a visit is, which the desk is told: a word of a list, not of the mouth. */
const isProgress = (audience: JudgedAudience, at: string): boolean =>
  audience === 'desk' && at.endsWith('.stage')

/** What the booking itself said, in words that nobody could read as work: the desk wrote or read them in. */
const isOwnWords = (at: string): boolean => /\.work\.\d+\.text$/.test(at)

interface Sent {
  audience: JudgedAudience
  at: Instant
  world: World
  lines: { appointmentId: AppointmentId }[]
  board: object
}

function leaksIn({ audience, at, world, lines, board }: Sent): string[] {
  const told = (what: string, text: string): string =>
    `${audience} ${new Date(at).toISOString()} ${what}: ${text}`
  const general = textsOf(board)
    .filter(
      ({ at: where, text }) =>
        !isOwnWords(where) && !isProgress(audience, where) && (ANATOMY.test(text) || MEDICINE.test(text)),
    )
    .map(({ at: where, text }) => told(where, text))
  const numbers = lines.flatMap((line) => {
    const teeth = teethOf(world, line.appointmentId)
    return textsOf(line)
      .filter(({ at: where, text }) => !isOwnWords(where) && teeth?.test(text))
      .map(({ at: where, text }) => told(where, text))
  })
  return [...general, ...numbers]
}

interface Lanes {
  lanes: { now: { appointmentId: AppointmentId } | null; next: { appointmentId: AppointmentId }[] }[]
  unplaced: { appointmentId: AppointmentId }[]
}
const linesOf = ({ lanes, unplaced }: Lanes) => [
  ...lanes.flatMap(({ now, next }) => (now ? [now, ...next] : next)),
  ...unplaced,
]

const leaks: string[] = []
const names: string[] = []
const clinical: string[] = []
let looked = 0

/** What a window sends an audience, read as its screen reads it. */
function sentTo(world: World, audience: JudgedAudience, at: Instant): Lanes {
  const { id: siteId } = must(world.site[0], 'a site')
  const held = holdWindow({ kind: 'day', siteId, day: DEMO_DAY }, { revision: 1, world })
  judgeAnew(held, audience, at)
  const { bytes } = must(wholeBoard(held, audience), 'it was judged')
  return JSON.parse(bytes.toString().replace(/^[\s\S]*?\ndata: /, '')) as Lanes
}

function lookAt(world: World, at: Instant): void {
  looked += 1
  const site = must(world.site[0], 'a site')
  for (const audience of ['desk', 'wall'] as const) {
    const sent = sentTo(world, audience, at)
    const lines = linesOf(sent)
    leaks.push(...leaksIn({ audience, at, world, lines, board: sent }))
    if (audience === 'wall') {
      const text = JSON.stringify(sent)
      names.push(
        ...world.patient
          .flatMap(({ given, family, born }) => [given, family, born ?? family])
          .filter((part) => new RegExp(`\\b${part}\\b`).test(text)),
      )
    }
  }
  const short = sayShortSets(forecastSetsOf(world, { siteId: site.id, day: DEMO_DAY, now: at }), {
    world,
    zone: site.zone,
    audience: 'desk',
  })
  leaks.push(...leaksIn({ audience: 'desk', at, world, lines: short, board: short }))
  const facts = boardFor(world, { siteId: site.id, day: DEMO_DAY, now: at })
  clinical.push(
    ...linesOf(facts).flatMap((line) =>
      'missing' in line && line.missing ? [say(line.missing as never)] : [],
    ),
  )
}

beforeAll(async () => {
  const perform = performInMemory()
  const telling = await seedInventedClinic(perform, INVENTED_FOUNDER)
  const steps = [...dayScript]
  for (let look = 0; look < LOOKS; look += 1) {
    const at = addMinutes(OPENS, look * EVERY)
    while (steps[0] && momentOf(DEMO_DAY, steps[0].time) <= at)
      await tell(telling, must(steps.shift(), 'there'), perform)
    lookAt(telling.world, at)
  }
}, 240_000)

describe('what leaves the server for screens that may hold no clinical fact, every five minutes of the invented day', () => {
  test('no tooth, no place in the mouth, no substance and no agent to desk, wall or a station without anybody', () => {
    expect(looked).toBe(LOOKS)
    expect([...new Set(leaks)].slice(0, 20)).toEqual([])
  })

  test('no name and no birth date to the wall', () => {
    expect([...new Set(names)]).toEqual([])
  })

  test('the day holds what could have leaked: each of these is said to those who treat', () => {
    for (const word of [ANATOMY, MEDICINE, /\bgum at [1-8][1-8]\b/, /latex/i]) {
      expect(clinical.some((text) => word.test(text))).toBe(true)
    }
  })
})
