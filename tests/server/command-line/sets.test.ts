import { describe, expect, it } from 'vitest'
import { forecastAnswer, forecastAt } from '#server/command-line/forecast.ts'
import { recallAnswer } from '#server/command-line/recall.ts'
import { sitesAsked } from '#server/command-line/sites.ts'
import { must } from '#shared/base/assert.ts'
import type { Facts } from '#shared/facts.ts'
import { TRAY_COMMANDS } from '#shared/trays/commands.ts'
import {
  at,
  bareClinic,
  book,
  nextId,
  PEOPLE,
  performed,
  SITE,
  sterilised,
  TODAY,
  trayOf,
  withTray,
  ZONE,
} from '../../support/tray-clinic.ts'

/** One dam set on the shelf out of L1, two out of L2; two visits at once, one with a pack on its tray. */
function morning() {
  let world = sterilised(sterilised(bareClinic(), ['dam-set']), ['dam-set', 'dam-set'])
  const first = book(world, { time: '09:00' })
  const second = book(first.world, { time: '09:00' })
  const third = book(second.world, { time: '09:30' })
  world = [first, second, third].reduce(
    (laid, { appointmentId }) => withTray(laid, appointmentId),
    third.world,
  )
  const trayId = trayOf(world, first.appointmentId).id
  world = performed(TRAY_COMMANDS['tray.claim'], { world, input: { trayId }, by: PEOPLE.ana })
  world = performed(TRAY_COMMANDS['tray.scan'], { world, input: { trayId, code: 'P2' }, by: PEOPLE.ana })
  return { world, firstId: first.appointmentId }
}

describe('forecast', () => {
  it('prints each kind with its first shortage to the minute, in ISO 8601 with offset', () => {
    const { world } = morning()
    const missing = { ...world, pack: world.pack.filter(({ code }) => code !== 'P3') }
    const now = at('08:00')
    const site = must(world.site[0], 'a site')
    const answer = forecastAnswer([forecastAt(missing, { site, day: TODAY, now, revision: 7 })])
    expect(answer).toMatchObject({
      exit: 0,
      body: {
        revision: 7,
        at: '2026-11-24T08:00:00+00:00',
        day: TODAY,
        turnaround: { minutes: 60, measured: null },
        steriliserInService: true,
        sites: [{ site: { id: SITE, name: 'Main' }, steriliserInService: true }],
      },
    })
    const { kinds } = answer.body as { kinds: { kind: string }[] }
    expect(kinds.find(({ kind }) => kind === 'dam-set')).toMatchObject({
      needed: 2,
      covered: 1,
      coversNext: 1,
      first: { at: '2026-11-24T09:30:00+00:00', short: 1, back: '2026-11-24T11:00:00+00:00' },
      mends: [
        { do: 'move', to: '2026-11-24T11:00:00+00:00' },
        { do: 'borrow', sets: 1 },
        { do: 'order', sets: 1 },
      ],
    })
  })
})

describe('several sites', () => {
  const { world } = morning()
  const main = must(world.site[0], 'a site')
  const quay = { ...main, id: nextId<Facts['site']['id']>(), name: 'Quay' }
  it('each has its own day: its own sets, its own steriliser, its own clock', () => {
    const both = { ...world, site: [main, quay] }
    const told = [main, quay].map((site) =>
      forecastAt(both, { site, day: TODAY, now: at('08:00'), revision: 7 }),
    )
    const { body } = forecastAnswer(told)
    expect(body).toMatchObject({
      site: { name: 'Main' },
      steriliserInService: true,
      sites: [
        { site: { name: 'Main' }, steriliserInService: true },
        { site: { name: 'Quay' }, steriliserInService: false, kinds: [] },
      ],
    })
    const [first] = told
    expect(first?.kinds.map(({ kind }) => kind)).toContain('dam-set')
  })
  it('one is named by its name or id; what is not there, or twice, is told and not guessed', () => {
    expect(sitesAsked([main, quay], undefined)).toEqual([main, quay])
    expect(sitesAsked([main, quay], 'quay')).toEqual([quay])
    expect(sitesAsked([main, quay], main.id)).toEqual([main])
    expect(sitesAsked([main, quay], 'Harbour')).toContain('Name one of: Main, Quay')
    expect(sitesAsked([quay, { ...quay, id: main.id }], 'Quay')).toContain('Give its id')
    expect(sitesAsked([], undefined)).toContain('has no site')
  })
})

describe('recall', () => {
  const printed = (request: object) =>
    recallAnswer(morning().world, request, { zone: ZONE, revision: 7, now: at('08:30') })
  it('from a load by its printed number: exactly its packs, and the tray with its replacement', () => {
    const { body, exit } = printed({ load: 'L2' })
    expect(exit).toBe(0)
    expect(body).toMatchObject({
      loads: [{ number: 'L2' }],
      packs: [
        { code: 'P2', where: 'tray' },
        { code: 'P3', where: 'shelf', place: 'bay 2' },
      ],
      trays: [{ start: '2026-11-24T09:00:00+00:00', replacements: ['P1'] }],
      patients: [],
      cannotNarrow: [],
    })
  })
  it('from a pack: the whole load it came out of', () => {
    expect(printed({ pack: 'P1' }).body).toMatchObject({ loads: [{ number: 'L1' }], packs: [{ code: 'P1' }] })
  })
  it('from a steriliser: all its loads', () => {
    expect(printed({ steriliser: 'S1' }).body).toMatchObject({
      packs: [{ code: 'P1' }, { code: 'P2' }, { code: 'P3' }],
    })
  })
  it('from a day, alone or of one steriliser; from a test, back to the last negative one', () => {
    const { world } = morning()
    const steriliserId = must(world.steriliser[0], 'S1').id
    const test = (placed: string, result: 'pass' | 'fail') => ({
      clinicId: must(world.clinic[0], 'a clinic').id,
      id: nextId<Facts['indicator']['id']>(),
      steriliserId,
      loadId: null,
      kind: 'spore' as const,
      placed: at(placed),
      life: { kind: 'read' as const, at: at('08:00'), by: PEOPLE.lead.id, result },
    })
    const load = world.load.map((each, index) => ({ ...each, started: at(index === 0 ? '06:00' : '07:00') }))
    const positive = test('07:30', 'fail')
    const tested = { ...world, load, indicator: [test('06:30', 'pass'), positive] }
    const told = (request: object) =>
      recallAnswer(tested, request, { zone: ZONE, revision: 7, now: at('08:30') }) as {
        exit: number
        body: { loads?: { number: string }[] }
      }
    const loads = (request: object) => told(request).body.loads?.map(({ number }) => number)
    expect(loads({ day: TODAY })).toEqual(['L1', 'L2'])
    expect(loads({ day: TODAY, steriliser: 'S1' })).toEqual(['L1', 'L2'])
    expect(loads({ day: '2026-11-23' })).toEqual([])
    expect(loads({ indicator: positive.id })).toEqual(['L2'])
    for (const wrong of [{ day: 'yesterday' }, { day: TODAY, load: 'L1' }, { indicator: 'none' }, {}]) {
      expect(told(wrong).exit).toBe(2)
    }
  })
  it('a used pack names patient, operatory and time', () => {
    const { world, firstId } = morning()
    const used = {
      ...world,
      pack: world.pack.map((pack) =>
        pack.code === 'P2'
          ? { ...pack, life: { kind: 'opened' as const, appointmentId: firstId, at: at('09:05') } }
          : pack,
      ),
    }
    const { body } = recallAnswer(used, { pack: 'P2' }, { zone: ZONE, revision: 7, now: at('08:30') })
    expect(body).toMatchObject({
      patients: [
        {
          name: 'Test Patient',
          appointment: firstId,
          start: '2026-11-24T09:00:00+00:00',
          used: '2026-11-24T09:05:00+00:00',
          packs: ['P2'],
        },
      ],
    })
    expect(must(used.patient[0], 'a patient').family).toBe('Patient')
  })
  it.each([
    [{}, 'Name one of'],
    [{ load: 'L1', pack: 'P1' }, 'Name one of'],
    [{ load: 'L9' }, 'Nothing here is called L9'],
  ])('%o is bad usage that says what to do', (request, says) => {
    const { body, exit } = printed(request)
    expect(exit).toBe(2)
    expect(JSON.stringify(body)).toContain(says)
  })
  it('two loads of one number are not guessed between', () => {
    const { world } = morning()
    const twice = {
      ...world,
      load: [
        ...world.load,
        ...world.load.slice(0, 1).map((load) => ({ ...load, id: 'x' as typeof load.id })),
      ],
    }
    const answer = recallAnswer(twice, { load: 'L1' }, { zone: ZONE, revision: 7, now: at('08:30') })
    expect(answer.exit).toBe(2)
  })
})
