import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange, putting } from '#shared/change.ts'
import { followThrough } from '#shared/consequences.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { indexDay } from '#shared/readiness/day-index.ts'
import { judgeAppointment } from '#shared/readiness/readiness.ts'
import { KIT_LINES } from '#shared/trays/kits.ts'
import { KIT_KEYS } from '#shared/trays/tray.ts'
import { say } from '#shared/words/en.ts'
import { judgedFor } from '#shared/words/judged.ts'
import { GIVEN } from '#tests/shared/readiness/chair.ts'
import {
  ASSISTANT,
  answered,
  appointment,
  at,
  CLINIC,
  context,
  DAY,
  DENTIST,
  having,
  idOf,
  SITE,
  scene,
  VISITED,
  visit,
  work,
} from '#tests/shared/readiness/scene.ts'

let lastId = 40_000
const put = (world: World, ...parameters: Parameters<typeof putting>): World => {
  lastId += 500
  return applyChange(world, followThrough(world, putting(...parameters), context(ASSISTANT, at(-60), lastId)))
}
const judged = (world: World, now = at(-5)) => must(judgeAppointment(indexDay(world), VISITED, now), 'held')
const lineOf = (world: World, now = at(-5)) => judged(world, now).line
const planksOf = (world: World, now = at(-5)) =>
  Object.fromEntries(lineOf(world, now).planks.map((plank) => [plank.check, plank]))
const record = (world: World, more: Partial<World['allergyRecord'][number]>): World =>
  put(world, 'allergyRecord', { ...must(world.allergyRecord[0], 'one'), ...more })
const readBack = { teeth: ['46' as const], planNumber: 1, by: DENTIST.id, at: at(-5) }
const withTray = (world: World, contains: World['tray'][number]['contains']): World =>
  having(world, 'tray', { ...must(world.tray[0], 'one'), contains })
/** The scene with the clinic's kits, its plan and tray as the rules make them. */
function planned(text: string, more: Parameters<typeof work>[0] = {}): World {
  const kit = KIT_KEYS.map((key, n) => ({
    clinicId: CLINIC,
    id: idOf<World['kit'][number]['id']>(900 + n),
    key,
    name: KIT_LINES[key].name,
    dentistId: null,
    lines: [...KIT_LINES[key].lines],
  }))
  return put({ ...scene(), plan: [], tray: [], kit }, 'work', work({ text, ...more }))
}

describe('allergies on the board', () => {
  test('case 34 latex confirmed: the flag stands on the line and the tray’s line holds it, before anyone touches the patient', () => {
    const confirmed = record(scene(), { latex: 'confirmed', state: 'listed' })
    const world = withTray(confirmed, [{ substance: 'latex', line: 'sheet', certainty: 'contains' }])
    expect(lineOf(world).allergyFlag).toBe('confirmed')
    expect(lineOf(world).state).toBe('hold')
    expect(planksOf(world).allergies).toMatchObject({ state: 'hold', finding: { rule: 'latex/conflict' } })
    const unknown = withTray(confirmed, [{ substance: 'latex', line: 'cord', certainty: 'unknown' }])
    expect(planksOf(unknown).allergies?.state).not.toBe('ready')
  })

  test('case 34 it applies to a hygiene visit without a dam too', () => {
    const cleaning = put(
      { ...scene(), plan: [] },
      'work',
      work({ kind: 'cleaning', teeth: [], text: 'scale and polish' }),
    )
    const world = withTray(record(cleaning, { latex: 'confirmed', state: 'listed' }), [
      { substance: 'latex', line: 'polishing cup', certainty: 'contains' },
    ])
    expect(planksOf(world).plan?.state).toBe('not-needed')
    expect(lineOf(world)).toMatchObject({ state: 'hold', missing: { rule: 'latex/conflict' } })
  })

  test('case 36 blank is not no: later until seated with a non-latex kit, then asked in words', () => {
    const blank = { ...scene(), allergyRecord: [] }
    expect(lineOf(blank).allergyFlag).toBe('ask')
    expect(planksOf(blank).allergies?.state).toBe('later')
    expect(lineOf(blank).state).toBe('ready')
    const seated = having(blank, 'visit', visit('seated'))
    const rules = judged(seated).open.map(({ rule }) => rule)
    expect(rules).toContain('latex/not-asked')
    expect(planksOf(seated).allergies?.state).toBe('preparing')
  })

  test('case 36 seated, unasked, and a line that may contain latex: shut at the clamp', () => {
    const blank: World = { ...scene(), allergyRecord: [] }
    const world = withTray(having(blank, 'visit', visit('injected')), [
      { substance: 'latex', line: 'sheet', certainty: 'contains' },
    ])
    expect(lineOf(world)).toMatchObject({ gate: 'clamp', state: 'hold' })
  })
})

describe('trays on the board', () => {
  test('case 69 thirteen of fourteen says which line is missing and why, not a percentage', () => {
    const tray = {
      ...must(scene().tray[0], 'one'),
      done: 13,
      of: 14,
      firstMissing: 'bonding agent expired',
    }
    const world = having(scene(), 'tray', tray)
    const { missing } = lineOf(world)
    expect(missing && say(missing)).toMatch(/13 of 14.*bonding agent expired/)
    expect(lineOf(world).state).not.toBe('ready')
  })

  test('case 73 “broken tooth UR, pain”: undetermined, no plan invented, a standby kit; naming the work draws plan and tray at once', () => {
    const broken = planned('broken tooth UR, pain', { kind: 'undetermined', teeth: [] })
    expect(must(broken.plan[0], 'one').agreed).toMatchObject({ state: 'undetermined', sheets: [] })
    expect(lineOf(broken, at(-60))).toMatchObject({
      state: 'ask',
      next: 'dentist',
      missing: { rule: 'work/undetermined' },
    })
    expect(must(broken.tray[0], 'one')).toMatchObject({ standby: true })
    const named = put(
      broken,
      'work',
      work({ kind: 'root-canal', teeth: ['16'], text: 'broken tooth UR, pain' }),
    )
    expect(must(named.plan[0], 'one').agreed).toMatchObject({
      state: 'planned',
      sheets: [{ field: ['16'], anchor: '16' }],
    })
    expect(must(named.tray[0], 'one')).toMatchObject({ standby: false, id: must(broken.tray[0], 'one').id })
  })
})

describe('numbness on the board', () => {
  const gum = (tooth: '46' | '47', side: 'cheek' | 'tongue') => ({ kind: 'gum' as const, tooth, side })
  const injected = having(scene(), 'visit', visit('injected', { readBack }))

  test('case 42 numb lip, live tooth: the gum answered numb leaves the tooth’s own test open until the start', () => {
    const gums = having(
      having(having(scene(), 'visit', visit('clamped', { readBack })), 'dose', GIVEN),
      'numbness',
      answered(96, gum('46', 'cheek')),
      answered(97, gum('46', 'tongue')),
    )
    expect(planksOf(gums).numbness).toMatchObject({
      state: 'preparing',
      finding: { rule: 'numbness/tooth-not-tested', teeth: ['46'] },
    })
    const tested = having(gums, 'numbness', answered(98, { kind: 'tooth', tooth: '46' }))
    expect(planksOf(tested).numbness?.state).toBe('ready')
  })

  test('case 43 the reminder names the anchor’s gum, cheek and tongue side, also where it is not the treated tooth', () => {
    const filling = put(
      { ...injected, plan: [] },
      'work',
      work({ kind: 'direct-composite', teeth: ['46'], surfaces: { '46': ['O', 'D'] } }),
    )
    const anchor = must(must(filling.plan[0], 'one').agreed.sheets[0], 'one sheet').anchor
    expect(anchor).toBe('47')
    const finding = judged(filling).open.find(({ rule }) => rule === 'numbness/not-tested')
    expect(finding).toMatchObject({ places: [gum('47', 'cheek'), gum('47', 'tongue')] })
    const one = having(filling, 'numbness', answered(96, gum('47', 'cheek')))
    expect(judged(one).open.map(({ rule }) => rule)).toContain('numbness/not-tested')
    const both = having(one, 'numbness', answered(97, gum('47', 'tongue')))
    expect(judged(both).open.map(({ rule }) => rule)).not.toContain('numbness/not-tested')
  })

  test('case 44 no injection by intent: no needle gate, the line is in place with its reason, and nothing nags', () => {
    const world = having(having(scene(), 'visit', visit('seated', { readBack })), 'anaesthetic', {
      ...must(scene().anaesthetic[0], 'one'),
      intent: { kind: 'none', reason: 'necrotic', topicalAtClamp: true, by: DENTIST.id, at: at(-30) },
    })
    expect(lineOf(world).gate).toBe('clamp')
    expect(planksOf(world).numbness).toMatchObject({
      state: 'ready',
      finding: { rule: 'numbness/by-intent' },
    })
    const felt = having(world, 'numbness', answered(96, gum('46', 'cheek'), 'felt'))
    expect(planksOf(felt).numbness).toMatchObject({ state: 'hold', finding: { rule: 'numbness/felt' } })
  })
})

describe('running behind', () => {
  test('case 76 chair end 10:00, next start 10:00, ten minutes of turnover: ready at 10:10, told in words from five minutes on', () => {
    const sitting = having(scene(), 'visit', {
      ...visit('started'),
      steps: [{ stage: 'seated', at: at(0), by: ASSISTANT.id }],
    })
    const next = idOf<AppointmentId>(15)
    const world = having(
      sitting,
      'appointment',
      appointment(15, { start: at(60), patientId: idOf(33), dentistId: null }),
    )
    const line = must(judgeAppointment(indexDay(world), next, at(30)), 'held')
    expect(line.line.expectedStart).toBe(at(70))
    expect(line.open).toContainEqual(
      expect.objectContaining({ rule: 'day/running-late', level: 'note', minutes: 10, prompt: false }),
    )
    const late = must(judgeAppointment(indexDay(world), next, at(66)), 'held')
    expect(late.open).toContainEqual(expect.objectContaining({ rule: 'day/running-late', prompt: true }))
    const desk = judgedFor(boardFor(world, { siteId: SITE, day: DAY, now: at(30) }), 'desk')
    expect(desk.lanes[0]?.next[0]?.expectedStart).toBe(at(70))
  })
})
