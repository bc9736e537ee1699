import { describe, expect, test } from 'vitest'
import { DEMO_DAY } from '#seed/clinic.ts'
import { instant } from '#shared/base/moment.ts'
import { readWeight } from '#shared/people/patient-commands.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { openStory, patientOf } from '../schedule/story.ts'

describe('setting a clinic up', () => {
  test('[clinic/founded-already] a clinic is founded once', () => {
    const story = openStory()
    const founding = {
      name: 'Another',
      invented: false,
      notation: 'ask',
      site: { name: 'x', zone: 'Europe/Dublin', opensAt: '08:00', closesAt: '17:00' },
      manager: { name: 'x', shortName: 'x' },
    }
    expect(story.refusals('vasarely', 'clinic.found', founding)).toEqual(['clinic/founded-already'])
  })

  test('[site/zone-unknown] [site/unknown] a site stands in a real zone', () => {
    const story = openStory()
    const site = {
      name: 'x',
      zone: 'Europe/Dublin',
      opensAt: '08:00',
      closesAt: '17:00',
      assistantPlaces: 'allowed',
    }
    const set = (more: object) => story.refusals('vasarely', 'site.set', { siteId: null, ...site, ...more })
    expect(set({ zone: 'Nowhere/Nothing' })).toEqual(['site/zone-unknown'])
    expect(set({ zone: '+01:00' })).toEqual(['site/zone-unknown'])
    expect(set({ siteId: '00000000-0000-8000-8000-000000000000' })).toEqual(['site/unknown'])
    expect(set({})).toEqual([])
    expect(story.world().site).toHaveLength(2)
  })

  test('[room/name-taken] two operatories of one site are told apart by name; each begins clear', () => {
    const story = openStory()
    const room = { siteId: story.site(), name: '1', kind: 'surgery', latexSafe: false }
    expect(story.refusals('vasarely', 'operatory.add', room)).toEqual(['room/name-taken'])
    story.does('vasarely', 'operatory.add', { ...room, name: '3' })
    expect(story.world().operatory.map(({ position }) => position)).toEqual([1, 2, 3])
    expect(story.world().occupancy.map(({ life }) => life.kind)).toEqual(['clear', 'clear', 'clear'])
  })

  test('an operatory gets another name, and never one that another of its site has', () => {
    const story = openStory()
    const operatoryId = story.room('2')
    story.does('vasarely', 'operatory.change', { operatoryId, name: 'Two', latexSafe: true })
    expect(story.world().operatory.find(({ id }) => id === operatoryId)).toMatchObject({
      name: 'Two',
      latexSafe: true,
      kind: 'surgery',
      retiredAt: null,
    })
    expect(story.refusals('vasarely', 'operatory.change', { operatoryId, name: '1' })).toEqual([
      'room/name-taken',
    ])
    const unknown = { operatoryId: '00000000-0000-8000-8000-000000000000', name: 'x' }
    expect(story.refusals('vasarely', 'operatory.change', unknown)).toEqual(['room/unknown'])
  })

  test('[room/booked-ahead] [room/retired] a retired operatory keeps its past and takes nobody new', () => {
    const story = openStory()
    const operatoryId = story.room('1')
    const booked = story.book()
    const retire = { operatoryId, retired: true }
    expect(story.refusals('vasarely', 'operatory.change', retire)).toEqual(['room/booked-ahead'])
    story.does('kallas', 'appointment.change', { appointmentId: booked, operatoryId: story.room('2') })
    story.does('vasarely', 'operatory.change', retire)
    expect(story.world().operatory).toHaveLength(2)
    const back = { appointmentId: booked, operatoryId }
    expect(story.refusals('kallas', 'appointment.change', back)).toEqual(['room/retired'])
    const board = boardFor(story.world(), { siteId: story.site(), day: DEMO_DAY, now: instant(0) })
    expect(board.lanes.map(({ name }) => name)).toEqual(['2'])
    story.does('vasarely', 'operatory.change', { operatoryId, retired: false })
    story.does('kallas', 'appointment.change', back)
  })

  test('a person gets another name on the board, and keeps what they may do', () => {
    const story = openStory()
    const memberId = story.member('kallas')
    story.does('vasarely', 'person.change', {
      memberId,
      name: 'Noor Kallas-Whelan',
      shortName: 'N. K.-Whelan',
    })
    expect(story.world().member.find(({ id }) => id === memberId)).toMatchObject({
      name: 'Noor Kallas-Whelan',
      shortName: 'N. K.-Whelan',
      roles: ['front-desk'],
      active: true,
    })
  })

  test('[person/last-manager] a clinic keeps one manager', () => {
    const story = openStory()
    const memberId = story.member('vasarely')
    expect(story.refusals('vasarely', 'person.deactivate', { memberId })).toEqual(['person/last-manager'])
    expect(story.refusals('vasarely', 'person.change', { memberId, roles: ['front-desk'] })).toEqual([
      'person/last-manager',
    ])
    story.does('vasarely', 'person.change', {
      memberId: story.member('kallas'),
      roles: ['front-desk', 'manager'],
    })
    story.does('kallas', 'person.deactivate', { memberId })
    expect(story.refusals('vasarely', 'person.deactivate', { memberId })).toEqual(['person/not-allowed'])
  })

  test('hours of a day are set as a whole, and an absence shows on the booking', () => {
    const story = openStory()
    story.book()
    const roster = (hours: object[]) => ({
      memberId: story.member('corrigan'),
      siteId: story.site(),
      day: DEMO_DAY,
      hours,
    })
    story.does(
      'kallas',
      'roster.set',
      roster([
        { from: '08:00', to: '12:00' },
        { from: '13:00', to: '17:00' },
      ]),
    )
    story.does('kallas', 'roster.set', roster([{ from: '08:00', to: '12:00' }]))
    expect(story.world().roster).toHaveLength(1)
    expect(story.refusals('kallas', 'roster.set', roster([{ from: '12:00', to: '08:00' }]))).toEqual([
      'time/does-not-exist',
    ])
  })

  test('away is kept apart from not on the roster, with who said so and never why', () => {
    const story = openStory()
    const set = (more: object) =>
      story.does('kallas', 'roster.set', {
        memberId: story.member('corrigan'),
        siteId: story.site(),
        day: DEMO_DAY,
        hours: [{ from: '08:00', to: '17:00' }],
        ...more,
      })
    set({ away: [{ from: '08:00', to: '12:00' }] })
    expect(story.world().roster.map(({ away }) => away?.by ?? null)).toEqual([null, story.member('kallas')])
    set({})
    expect(story.world().roster.map(({ away }) => away)).toEqual([null])
    set({ hours: [] })
    expect(story.world().roster).toEqual([])
  })
})

describe('patients', () => {
  // 1 lb = 453.59237 g exactly (READ: NIST); floored so that no limit grows by rounding.
  test.each([
    ['15', 'kg', 15_000],
    ['15.25', 'kg', 15_250],
    ['15,5', 'kg', 15_500],
    ['33', 'lb', 14_968],
    ['1', 'lb', null],
    ['1.2', 'lb', 544],
    ['0', 'kg', null],
    ['650', 'kg', 650_000],
    ['651', 'kg', null],
    ['-3', 'kg', null],
    ['fifteen', 'kg', null],
    ['1e2', 'kg', null],
    ['12.3456', 'kg', null],
  ] as const)('[weight/impossible] “%s %s” is read as %s grams', (value, unit, expected) => {
    expect(readWeight(value, unit)).toBe(expected)
  })

  test('[weight/impossible] [patient/no-companion] what cannot be is not recorded', () => {
    const story = openStory()
    const patientId = patientOf(story, story.book())
    expect(story.refusals('tornqvist', 'patient.weigh', { patientId, value: '2000', unit: 'kg' })).toEqual([
      'weight/impossible',
    ])
    const guardian = { patientId, companion: { kind: 'guardian' } }
    const interpreter = { patientId, companion: { kind: 'interpreter', who: 'staff' } }
    expect(story.refusals('kallas', 'companion.record', guardian)).toEqual(['patient/no-companion'])
    expect(story.refusals('kallas', 'companion.record', interpreter)).toEqual(['patient/no-companion'])
    story.does('kallas', 'patient.change', { patientId, guardian: 'aunt', interpreter: 'Polish' })
    story.does('kallas', 'companion.record', guardian)
    story.does('kallas', 'companion.record', interpreter)
  })

  test('whoever comes once does not take the place of who is to come', () => {
    const story = openStory()
    const patientId = patientOf(story, story.book())
    story.does('kallas', 'patient.change', { patientId, guardian: 'mother' })
    const companion = { kind: 'guardian', relation: 'grandfather' }
    story.does('kallas', 'companion.record', { patientId, companion })
    expect(story.world().patient[0]?.guardian).toMatchObject({
      relation: 'mother',
      present: { relation: 'grandfather' },
    })
  })

  test('history grows and is never replaced', () => {
    const story = openStory()
    const patientId = patientOf(story, story.book())
    story.does('tornqvist', 'history.confirm', { patientId, added: ['spina bifida'] })
    story.does('tornqvist', 'history.confirm', { patientId, added: ['blocked nose today'] }, '08:10')
    expect(story.world().patient[0]?.history.map(({ text }) => text)).toEqual([
      'spina bifida',
      'blocked nose today',
    ])
  })
})
