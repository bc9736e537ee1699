import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { addMinutes } from '#shared/base/moment.ts'
import type { Facts, World } from '#shared/facts.ts'
import { STERILITY_COMMANDS } from '#shared/sterility/commands.ts'
import { forecastDay, judgeSets } from '#shared/sterility/day-forecast.ts'
import { forecastSets, type SetNeed } from '#shared/sterility/forecast.ts'
import { sayToDesk } from '#shared/words/en.ts'
import { sayShortSets } from '#shared/words/short-sets.ts'
import {
  at,
  bareClinic,
  book,
  CLINIC,
  nextId,
  PEOPLE,
  performed,
  SITE,
  sterilised,
  TODAY,
  withTray,
  ZONE,
} from '../support/tray-clinic.ts'

const { lead } = PEOPLE

describe('case 65 sets run out at 10:15', () => {
  const visits: [string, string, number][] = [
    ['a', '09:00', 60],
    ['b', '09:00', 60],
    ['c', '09:30', 60],
    ['d', '09:30', 45],
    ['e', '10:15', 60],
    ['f', '10:30', 30],
    ['g', '11:00', 60],
  ]
  const needs = visits.map(([id, time, minutes]): SetNeed => ({ id, start: at(time), minutes, sets: 1 }))
  const forecast = (list: SetNeed[]) =>
    forecastSets({ needs: list, sets: 4, turnaroundMinutes: 60, returning: [] })
  const moved = (...ids: string[]) =>
    needs.map((need) => (ids.includes(need.id) ? { ...need, start: at('11:00') } : need))
  it('first short at 10:15, next back 11:00; then 10:30', () => {
    expect(forecast(needs).shortages).toEqual([
      { id: 'e', at: at('10:15'), short: 1, back: at('11:00') },
      { id: 'f', at: at('10:30'), short: 1, back: at('11:00') },
    ])
  })
  it('the 11:00 visit is covered, also with one of them moved to 11:00; with both it waits for the 11:15 set', () => {
    expect(forecast(moved('e')).shortages.map(({ id }) => id)).toEqual(['f'])
    expect(forecast(moved('f')).shortages.map(({ id }) => id)).toEqual(['e'])
    expect(forecast(moved('e', 'f')).shortages).toEqual([
      { id: 'g', at: at('11:00'), short: 1, back: at('11:15') },
    ])
  })
  it('it names what would mend it and never a set that was not processed', () => {
    const { mends } = forecast(needs)
    expect(mends).toEqual([
      { kind: 'move', id: 'e', to: at('11:00') },
      { kind: 'move', id: 'f', to: at('11:00') },
      { kind: 'borrow', sets: 1, by: at('10:15') },
      { kind: 'sooner', id: 'a', by: at('10:15') },
      { kind: 'order', sets: 2 },
    ])
    expect(mends.every((mend) => mend.kind !== 'move' || mend.to >= addMinutes(at('10:00'), 60))).toBe(true)
  })
  it('[sets/short] the same out of the booked day, with the desk told a task alone', () => {
    let world = sterilised(bareClinic(), ['dam-set', 'dam-set', 'dam-set', 'dam-set'])
    const ids: string[] = []
    for (const [, time, minutes] of visits) {
      const booked = book(world, { time, minutes })
      world = withTray(booked.world, booked.appointmentId)
      ids.push(booked.appointmentId)
    }
    const forecasts = forecastDay(world, { siteId: SITE, day: TODAY, now: at('08:00') })
    expect(forecasts['dam-set'].first).toMatchObject({ at: at('10:15'), back: at('11:00') })
    const finding = must(
      judgeSets(forecasts).find((each) => each.rule === 'sets/short' && each.kind === 'dam-set'),
      'a shortage',
    )
    expect(finding.about).toBe(`appointment:${ids[4]}`)
    expect(sayToDesk(finding)).toBe('This appointment may have to move. Ask the steriliser lead.')
    const says = (audience: 'clinical' | 'desk') =>
      sayShortSets(
        {
          ...forecasts,
          'examination-set': forecasts['surgical-set'],
          'composite-set': forecasts['surgical-set'],
        },
        { world, zone: ZONE, audience },
      ).map((line) => [line.appointmentId, line.says])
    const mends =
      '1 dam set short: borrow, move the visit to 11:00, when enough are back, run a load sooner, or swap chairs with a later visit.'
    expect(says('clinical')).toEqual([
      [ids[4], mends],
      [ids[5], mends],
    ])
    expect(says('desk').map(([, words]) => words)).toEqual(
      Array(2).fill(
        'This appointment may have to move, to 11:00 or swapped with a later one. Ask the steriliser lead.',
      ),
    )
    // Short of three kinds at once is one task to the desk, three lines at the chair.
    const [lines, tasks] = (['clinical', 'desk'] as const).map((audience) =>
      sayShortSets(forecasts, { world, zone: ZONE, audience }).filter(
        ({ appointmentId }) => appointmentId === ids[4],
      ),
    )
    expect(lines?.length).toBeGreaterThan(1)
    expect(new Set(tasks?.map(({ says }) => says)).size).toBe(tasks?.length)
  })
})

describe('case 65 with the day running late', () => {
  const day = () => {
    const first = book(sterilised(bareClinic(), ['dam-set']), { time: '09:00', minutes: 30 })
    const second = book(withTray(first.world, first.appointmentId), { time: '10:30', minutes: 30 })
    return { world: withTray(second.world, second.appointmentId), firstId: first.appointmentId }
  }
  const short = (world: World, more: object = {}) =>
    forecastDay(world, { siteId: SITE, day: TODAY, now: at('08:00'), ...more })['dam-set'].first?.at ?? null
  it('an expected start that is later than booked brings the set back later', () => {
    const { world, firstId } = day()
    expect(short(world)).toBeNull()
    expect(short(world, { expected: new Map([[firstId, at('09:10')]]) })).toBe(at('10:30'))
  })
  it('who is late and not yet seated still needs a set; the turnaround the clinic measured counts', () => {
    const { world } = day()
    expect(short(world, { now: at('09:10') })).toBe(at('10:30'))
    const steps = { soak: 5, clean: 15, dry: 5, pack: 5, cycle: 35, cool: 10 }
    const input = { turnaround: steps }
    const measured = performed(STERILITY_COMMANDS['turnaround.set'], { world, input, by: lead })
    expect(short(measured)).toBe(at('10:30'))
    const forgotten = { turnaround: null }
    expect(
      short(performed(STERILITY_COMMANDS['turnaround.set'], { world: measured, input: forgotten, by: lead })),
    ).toBeNull()
  })
  it('a steriliser that is down gives nothing back: the shelf covers the next one and no more', () => {
    const { world } = day()
    const [steriliser] = world.steriliser
    const down = performed(STERILITY_COMMANDS['steriliser.take-out'], {
      world,
      input: { steriliserId: steriliser?.id, why: 'its door seal leaks' },
      by: lead,
    })
    const forecast = forecastDay(down, { siteId: SITE, day: TODAY, now: at('08:00') })['dam-set']
    expect(forecast).toMatchObject({ coversNext: 1, first: { at: at('10:30'), back: null } })
    const other = { ...must(steriliser, 'S1'), id: nextId<Facts['steriliser']['id']>(), name: 'S2' }
    expect(short({ ...down, steriliser: [...down.steriliser, other] })).toBeNull()
  })
  it('a wrapped set is back after what is left of the turnaround, a dirty one after all of it', () => {
    const { world } = day()
    const steps = { soak: 0, clean: 20, dry: 5, pack: 5, cycle: 35, cool: 10 }
    const set = (place: Facts['instrumentSet']['place']): Facts['instrumentSet'] => ({
      clinicId: CLINIC,
      id: nextId(),
      kind: 'dam-set',
      mark: 'A',
      homeSiteId: SITE,
      place,
      incomplete: false,
    })
    const bare = performed(STERILITY_COMMANDS['turnaround.set'], {
      world: { ...world, pack: [] },
      input: { turnaround: steps },
      by: lead,
    })
    const first = (place: Facts['instrumentSet']['place']) =>
      forecastDay({ ...bare, instrumentSet: [set(place)] }, { siteId: SITE, day: TODAY, now: at('08:00') })[
        'dam-set'
      ].first?.at
    // Wrapped at 08:00: sterile at 08:45, in time for 09:00. Dirty: sterile at 09:15, too late for it.
    expect(first({ kind: 'processing', siteId: SITE, since: at('08:00') })).toBe(at('10:30'))
    expect(first({ kind: 'dirty', siteId: SITE, since: at('06:00') })).toBe(at('09:00'))
    expect(first({ kind: 'in-transit', to: SITE, since: at('06:00') })).toBe(at('09:00'))
  })
})
