import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Day } from '#shared/base/moment.ts'
import { judgeOpening, judgePack, type PackSight } from '#shared/sterility/pack.ts'
import { makePackCode, parsePackCode } from '#shared/sterility/pack-code.ts'
import type { Indicator, Load, Pack } from '#shared/sterility/sterility-facts.ts'
import { at, CLINIC, nextId, PEOPLE, SITE, TODAY } from '../../support/tray-clinic.ts'

const load = (life: Load['life']): Load => ({
  clinicId: CLINIC,
  id: nextId(),
  steriliserId: nextId(),
  number: 'S1-07',
  programme: 'wrapped-instruments',
  reading: null,
  started: at('07:00'),
  life,
})
const RELEASED = load({ kind: 'released', at: at('07:45'), by: PEOPLE.lead.id })
const pack = (more: Partial<Pack> = {}): Pack => ({
  clinicId: CLINIC,
  id: nextId(),
  siteId: SITE,
  code: 'P1',
  kind: 'dam-set',
  setId: null,
  loadId: RELEASED.id,
  sterilised: TODAY,
  seen: null,
  life: { kind: 'shelf', place: 'bay 1' },
  ...more,
})
const rules = (one: Pack, more: Partial<PackSight> = {}) =>
  judgePack(one, {
    load: RELEASED,
    indicators: [],
    packAge: { kind: 'event-related' },
    today: TODAY,
    ...more,
  }).map(({ rule }) => rule)

const spore = (life: Indicator['life']): Indicator => ({
  clinicId: CLINIC,
  id: nextId(),
  steriliserId: RELEASED.steriliserId,
  loadId: RELEASED.id,
  kind: 'spore',
  placed: at('07:00'),
  life,
})

describe('whether a pack may be used', () => {
  it('released, dated, sound: nothing stands against it', () => expect(rules(pack())).toEqual([]))
  it('[pack/not-released] its load is running or ended only', () => {
    expect(rules(pack(), { load: load({ kind: 'running' }) })).toEqual(['pack/not-released'])
    expect(rules(pack(), { load: load({ kind: 'ended', at: at('07:40') }) })).toEqual(['pack/not-released'])
  })
  it('[pack/load-failed] its load failed', () => {
    const failed = load({ kind: 'failed', at: at('07:50'), by: PEOPLE.lead.id, why: 'time' })
    expect(rules(pack(), { load: failed })).toEqual(['pack/load-failed'])
  })
  it('[pack/load-unknown] nobody recorded its load', () =>
    expect(rules(pack({ loadId: null }), { load: null })).toEqual(['pack/load-unknown']))
  it('[pack/held] it is held', () =>
    expect(rules(pack({ life: { kind: 'held', why: 'w', at: at('08:00') } }))).toEqual(['pack/held']))
  it('[pack/used] it was opened, or came back', () => {
    expect(rules(pack({ life: { kind: 'opened', appointmentId: nextId(), at: at('08:00') } }))).toEqual([
      'pack/used',
    ])
    expect(rules(pack({ life: { kind: 'returned', at: at('08:00') } }))).toEqual(['pack/used'])
  })
  it('[pack/too-old] past the clinic’s days, and not on the last of them', () => {
    const dated = { packAge: { kind: 'dated', days: 60 } } as const
    expect(rules(pack({ sterilised: '2026-09-25' as Day }), dated)).toEqual([])
    expect(rules(pack({ sterilised: '2026-09-24' as Day }), dated)).toEqual(['pack/too-old'])
  })
  it('[pack/undated] no date, under every policy', () => {
    for (const packAge of [
      { kind: 'event-related' },
      { kind: 'dated', days: 60 },
      { kind: 'unset' },
    ] as const) {
      expect(rules(pack({ sterilised: null }), { packAge })).toEqual(['pack/undated'])
    }
  })
  it('[pack/age-unset] a policy nobody set is asked, not assumed', () =>
    expect(rules(pack(), { packAge: { kind: 'unset' } })).toEqual(['pack/age-unset']))
  it('[pack/spore-pending] a pending spore test holds what goes with implants, and that alone', () => {
    const pending = [spore({ kind: 'pending' })]
    expect(rules(pack({ kind: 'surgical-set' }), { indicators: pending })).toEqual(['pack/spore-pending'])
    expect(rules(pack(), { indicators: pending })).toEqual([])
    const passed = [spore({ kind: 'read', at: at('08:00'), by: PEOPLE.lead.id, result: 'pass' })]
    expect(rules(pack({ kind: 'surgical-set' }), { indicators: passed })).toEqual([])
  })
})

describe('what is seen at opening', () => {
  const sound = { outside: 'sound', outer: 'changed', inner: 'changed' } as const
  it.each([
    ['[pack/torn]', { ...sound, outside: 'torn' }, 'pack/torn'],
    ['[pack/wet]', { ...sound, outside: 'wet' }, 'pack/wet'],
    ['[pack/not-changed] outside', { ...sound, outer: 'not-changed' }, 'pack/not-changed'],
    ['[pack/not-changed] inside', { ...sound, inner: 'not-changed' }, 'pack/not-changed'],
    ['[pack/inner-not-seen]', { ...sound, inner: 'not-seen' }, 'pack/inner-not-seen'],
    ['[pack/not-looked-at]', null, 'pack/not-looked-at'],
  ] as const)('%s', (_, seen, rule) => {
    expect(judgeOpening(pack(), seen).map((finding) => finding.rule)).toEqual([rule])
  })
  it('a sound pack passes', () => expect(judgeOpening(pack(), sound)).toEqual([]))
})

describe('printed codes', () => {
  const uuid = fc.uuid()
  it('what is made is read, in either case', () => {
    fc.assert(
      fc.property(uuid, (id) => {
        const code = makePackCode(id)
        expect(code).toHaveLength(8)
        expect(parsePackCode(code.toLowerCase())).toBe(code)
      }),
      { numRuns: 1000 },
    )
  })
  it('ids that follow one another give codes of their own', () => {
    const codes = Array.from({ length: 5000 }, () => makePackCode(nextId<string>()))
    expect(new Set(codes).size).toBe(codes.length)
  })
  it('one wrong character is always caught, and so are two neighbours swapped', () => {
    const letters = '0123456789ABCDEFGHJKMNPQRSTVWXY'
    fc.assert(
      fc.property(uuid, fc.nat(7), fc.nat(letters.length - 1), (id, place, letter) => {
        const code = makePackCode(id)
        const wrong = code.slice(0, place) + letters[letter] + code.slice(place + 1)
        if (wrong !== code) expect(parsePackCode(wrong)).toBeNull()
        const [a = '', b = ''] = [code[place], code[place + 1]]
        const swapped = code.slice(0, place) + b + a + code.slice(place + 2)
        if (place < 6 && a !== b) expect(parsePackCode(swapped)).toBeNull()
      }),
      { numRuns: 3000 },
    )
  })
})
