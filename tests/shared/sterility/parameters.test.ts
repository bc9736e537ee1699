import { describe, expect, it } from 'vitest'
import { judgeLoad, type LoadSight } from '#shared/sterility/load.ts'
import { STEAM_CYCLES } from '#shared/sterility/parameters.ts'
import type { Indicator, Load, Steriliser } from '#shared/sterility/sterility-facts.ts'
import { at, CLINIC, nextId, PEOPLE, SITE, ZONE } from '../../support/tray-clinic.ts'

/** CDC 2008 Guideline for Disinfection and Sterilization in Healthcare Facilities, table 7 (READ), minutes. */
const CDC_TABLE_7 = [
  ['gravity', 'wrapped-instruments', 30, 15, 15, 30],
  ['gravity', 'textile-packs', 30, 25, 15, 15],
  ['gravity', 'wrapped-utensils', 30, 15, 15, 30],
  ['dynamic-air-removal', 'wrapped-instruments', null, 4, 20, 30],
  ['dynamic-air-removal', 'textile-packs', null, 4, 5, 20],
  ['dynamic-air-removal', 'wrapped-utensils', null, 4, 20, 20],
] as const

const steriliser = (type: Steriliser['type']): Steriliser => ({
  clinicId: CLINIC,
  id: nextId(),
  siteId: SITE,
  name: 'S1',
  type,
  life: { kind: 'in-service' },
})
const load = (more: Partial<Load> = {}): Load => ({
  clinicId: CLINIC,
  id: nextId(),
  steriliserId: nextId(),
  number: 'S1-07',
  programme: 'wrapped-instruments',
  reading: { deciCelsius: 1320, seconds: 900, by: PEOPLE.lead.id, at: at('08:20') },
  started: at('08:00'),
  life: { kind: 'ended', at: at('08:20') },
  ...more,
})
const indicator = (more: Partial<Indicator> = {}): Indicator => ({
  clinicId: CLINIC,
  id: nextId(),
  steriliserId: nextId(),
  loadId: null,
  kind: 'chemical',
  placed: at('07:30'),
  life: { kind: 'read', at: at('08:30'), by: PEOPLE.lead.id, result: 'pass' },
  ...more,
})
const failing = { kind: 'read', at: at('08:30'), by: PEOPLE.lead.id, result: 'fail' } as const

describe('the published cycle table', () => {
  it.each(CDC_TABLE_7)(
    '%s, %s: %s min at 121 °C, %i at 132 °C, drying %i–%i',
    (type, content, cool, hot, from, to) => {
      expect(STEAM_CYCLES.find((row) => row.steriliser === type && row.content === content)).toMatchObject({
        minutesAt121: cool,
        minutesAt132: hot,
        drying: { from, to },
      })
      expect(STEAM_CYCLES).toHaveLength(CDC_TABLE_7.length)
    },
  )
  it.each(CDC_TABLE_7)(
    '%s, %s: the minute itself passes, a second less does not',
    (type, programme, cool, hot) => {
      const judged = (deciCelsius: number, seconds: number) => {
        const one = load({
          programme,
          reading: { deciCelsius, seconds, by: PEOPLE.lead.id, at: at('08:20') },
        })
        const air = indicator({ kind: 'air-removal' })
        const sight = {
          steriliser: steriliser(type),
          indicators: [indicator({ loadId: one.id }), air],
          zone: ZONE,
        }
        return judgeLoad(one, sight).map(({ rule }) => rule)
      }
      expect(judged(1320, hot * 60)).toEqual([])
      expect(judged(1320, hot * 60 - 1)).toEqual(['load/below-minimum'])
      expect(judged(1210, (cool ?? 60) * 60)).toEqual(cool === null ? ['load/below-minimum'] : [])
      expect(judged(1319, hot * 60)).toEqual(['load/below-minimum'])
      expect(judged(1209, 36_000)).toEqual(['load/below-minimum'])
    },
  )
})

describe('what keeps a load from being released', () => {
  const judged = (one: Load, more: Partial<LoadSight> = {}) =>
    judgeLoad(one, {
      steriliser: steriliser('gravity'),
      indicators: [indicator({ loadId: one.id })],
      zone: ZONE,
      ...more,
    }).map(({ rule }) => rule)
  it('nothing, when all is in order', () => expect(judged(load())).toEqual([]))
  it('[load/no-reading] no time and temperature', () =>
    expect(judged(load({ reading: null }))).toEqual(['load/no-reading']))
  it('[load/below-minimum] too short', () =>
    expect(
      judged(load({ reading: { deciCelsius: 1320, seconds: 240, by: PEOPLE.lead.id, at: at('08:20') } })),
    ).toEqual(['load/below-minimum']))
  it('[load/programme-unknown] a programme the table does not list cannot be checked', () =>
    expect(judged(load({ programme: 'express' }))).toEqual(['load/programme-unknown']))
  it('[load/indicator-missing] no chemical indicator', () =>
    expect(judged(load(), { indicators: [] })).toEqual(['load/indicator-missing']))
  it('[load/indicator-unread] one not read yet', () => {
    const one = load()
    const pending = indicator({ loadId: one.id, life: { kind: 'pending' } })
    expect(judged(one, { indicators: [pending] })).toEqual(['load/indicator-unread'])
    // A second that passed does not stand for one that was not read.
    expect(judged(one, { indicators: [pending, indicator({ loadId: one.id })] })).toEqual([
      'load/indicator-unread',
    ])
  })
  it('[load/indicator-failed] one that did not change', () => {
    const one = load()
    const failed = indicator({ loadId: one.id, life: failing })
    expect(judged(one, { indicators: [failed, indicator({ loadId: one.id })] })).toEqual([
      'load/indicator-failed',
    ])
  })
  it('[load/no-air-removal-test] a vacuum-assisted steriliser without today’s test, or with a failed one', () => {
    const vacuum = steriliser('dynamic-air-removal')
    const one = load()
    const chemical = indicator({ loadId: one.id })
    const yesterday = indicator({
      kind: 'air-removal',
      placed: (at('07:30') - 86_400_000) as Load['started'],
    })
    const passed = indicator({ kind: 'air-removal' })
    const later = indicator({ kind: 'air-removal', placed: at('07:45'), life: failing })
    const without = ['load/no-air-removal-test']
    expect(judged(one, { steriliser: vacuum, indicators: [chemical, yesterday] })).toEqual(without)
    expect(judged(one, { steriliser: vacuum, indicators: [chemical, passed] })).toEqual([])
    expect(judged(one, { steriliser: vacuum, indicators: [chemical, passed, later] })).toEqual(without)
  })
})
