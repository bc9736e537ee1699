import { describe, expect, test } from 'vitest'
import { birthDaysAmong, readBirthDay } from '#shared/people/decoys.ts'
import { answers, comesIn, openStory, patientOf } from './story.ts'

/** Two identifiers, told and compared; a room or chair is none: Joint Commission NPSG.01.01.01 (READ). */
describe('who it is, shown and not ticked', () => {
  const waiting = () => {
    const story = openStory()
    const patient = { kind: 'new', given: 'Ann', family: 'Byrne', born: '1980-02-03' }
    const id = story.book({ patient })
    comesIn(story, id)
    const refusals = (said: object, more: object = {}) =>
      story.refusals(
        'tornqvist',
        'visit.identify',
        { ...answers(story, id), how: 'asked', said, ...more },
        '08:58',
      )
    return { story, id, refusals }
  }

  test('[identity/not-shown] a bare tick is refused; the birth day picked is taken', () => {
    const { refusals } = waiting()
    expect(refusals({})).toEqual(['identity/not-shown'])
    expect(refusals({ name: 'Ann Byrne' })).toEqual(['identity/not-shown'])
    expect(refusals({ born: '1980-02-03' })).toEqual([])
  })

  test('[identity/not-shown] typed wants both the name and the birth day; scanned wants the code', () => {
    const { refusals } = waiting()
    expect(refusals({ born: '1980-02-03' }, { how: 'typed' })).toEqual(['identity/not-shown'])
    expect(refusals({ name: 'Ann Byrne' }, { how: 'typed' })).toEqual(['identity/not-shown'])
    expect(refusals({}, { how: 'typed' })).toEqual(['identity/not-shown'])
    expect(refusals({}, { how: 'scanned', identifiers: ['full-name', 'patient-number'] })).toEqual([
      'identity/not-shown',
    ])
    expect(refusals({ name: 'Ann Byrne', born: '1980-02-03' }, { how: 'typed' })).toEqual([])
  })

  const OTHERS: [string, object, object, string][] = [
    ['birth day', { born: '1980-03-02' }, {}, 'birth-day'],
    ['name', { name: 'Ana Byrne', born: '1980-02-03' }, { how: 'typed' }, 'name'],
    ['number', { number: '4711' }, {}, 'number'],
  ]
  test.each(OTHERS)('[identity/differs] another %s is no identity, and is kept', (_, said, more, what) => {
    const { story, id } = waiting()
    const asked = { ...answers(story, id), how: 'asked', said, ...more }
    const decision = story.ask('tornqvist', 'visit.identify', asked, '08:58')
    expect(decision).toMatchObject({ ok: true, value: { findings: [{ rule: 'identity/differs', what }] } })
    expect(story.visit(id)).toMatchObject({
      identity: null,
      identityDiffered: { what: [what], settled: null },
    })
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId: id }, '09:00')).toEqual([
      'identity/differs',
    ])
  })

  test('[identity/not-typed] once an answer differed a touch is not enough, whoever asks and on whatever screen', () => {
    const { story, id } = waiting()
    const asked = (how: string, by: 'tornqvist' | 'corrigan' = 'tornqvist') =>
      story.refusals(by, 'visit.identify', { ...answers(story, id), how }, '08:59')
    story.ask(
      'tornqvist',
      'visit.identify',
      { ...answers(story, id), how: 'asked', said: { born: '1980-03-02' } },
      '08:58',
    )
    expect(asked('asked', 'corrigan')).toEqual(['identity/not-typed'])
    expect(asked('typed', 'corrigan')).toEqual([])
    expect(story.visit(id).identityDiffered?.settled).not.toBeNull()
    story.does('tornqvist', 'visit.seat', { appointmentId: id }, '09:00')
    expect(asked('asked')).toEqual(['identity/not-typed'])
  })

  test('[identity/differs] in the chair it takes the identity away: no needle and no start before it is settled', () => {
    const { story, id } = waiting()
    story.does('tornqvist', 'visit.identify', { ...answers(story, id), how: 'asked' }, '08:58')
    story.does('tornqvist', 'visit.seat', { appointmentId: id }, '09:00')
    story.ask(
      'corrigan',
      'visit.identify',
      { ...answers(story, id), how: 'asked', said: { born: '1980-03-02' } },
      '09:01',
    )
    expect(story.refusals('corrigan', 'visit.start', { appointmentId: id }, '09:02')).toContain(
      'identity/differs',
    )
    story.does('corrigan', 'visit.identify', { ...answers(story, id), how: 'typed' }, '09:03')
    expect(story.refusals('corrigan', 'visit.start', { appointmentId: id }, '09:04')).not.toContain(
      'identity/differs',
    )
  })

  test.each(['ann byrne', 'BYRNE Ann', 'Byrne, Ann', 'Ánn Byrne'])(
    'the name as it sounds is the name: %s',
    (name) => {
      const { refusals } = waiting()
      expect(refusals({ name, born: '1980-02-03' }, { how: 'typed' })).toEqual([])
    },
  )

  test('[identity/not-shown] where no birth day is on record a bare tick is one all the same', () => {
    const { story, id, refusals } = waiting()
    story.does('kallas', 'patient.change', { patientId: patientOf(story, id), born: null }, '08:57')
    for (const identifiers of [
      ['full-name', 'photo'],
      ['full-name', 'carer'],
      ['full-name', 'birth-day'],
    ]) {
      expect(refusals({}, { identifiers })).toEqual(['identity/not-shown'])
    }
    const typed = { identifiers: ['full-name', 'carer'], how: 'typed' }
    expect(refusals({}, typed)).toEqual(['identity/not-shown'])
    // A day that nothing on record can be compared with is no other day.
    expect(refusals({ name: 'Ann Byrne', born: '1980-02-03' }, typed)).toEqual([])
    expect(refusals({ name: 'Ann Byrne' }, typed)).toEqual([])
  })
})

describe('two of one name and one birth day', () => {
  const ann = { kind: 'new', given: 'Ann', family: 'Byrne', born: '1980-02-03' }
  /** Both come today; with or without a number on record. */
  const twins = (other: object, numbers: string[]) => {
    const story = openStory()
    const id = story.book({ patient: ann })
    story.book({ startsAt: '11:00', patient: { ...ann, ...other } })
    for (const patient of story.world().patient) {
      patient.identifiers = numbers.map((value) => ({ system: 'cards', value }))
    }
    comesIn(story, id)
    const said = { name: 'Ann Byrne', born: '1980-02-03' }
    const typed = (identifiers: string[], more: object = {}) =>
      story.refusals(
        'tornqvist',
        'visit.identify',
        { appointmentId: id, how: 'typed', identifiers, said: { ...said, ...more } },
        '08:58',
      )
    return { story, id, typed }
  }

  // Case 17 (READ): two of the same name; where the birth day is the same too it tells neither apart.
  test.each([
    ['the same day', {}],
    ['no day on record', { born: null }],
    ['names the other way round', { given: 'Byrne', family: 'Ann' }],
  ])('[identity/not-apart] %s: name and birth day fit both, the number tells', (_, other) => {
    const { story, id, typed } = twins(other, ['4711'])
    expect(typed(['full-name', 'birth-day'])).toEqual(['identity/not-apart'])
    expect(typed(['full-name', 'birth-day', 'photo'])).toEqual(['identity/not-apart'])
    expect(typed(['full-name', 'patient-number'])).toContain('identity/not-shown')
    expect(story.visit(id).identity).toBeNull()
    expect(typed(['full-name', 'birth-day', 'patient-number'], { number: '4711' })).toEqual([])
  })

  test('[identity/not-apart] another birth day tells them apart', () => {
    expect(twins({ born: '1991-07-01' }, ['4711']).typed(['full-name', 'birth-day'])).toEqual([])
  })

  test('[identity/not-apart] where no number is on record, a photo or whoever came does, beside name and day', () => {
    const { typed } = twins({}, [])
    expect(typed(['full-name', 'birth-day'])).toEqual(['identity/not-apart'])
    expect(typed(['full-name', 'birth-day', 'photo'])).toEqual([])
  })

  test('[identity/not-apart] the second one booked when the first already sits takes the proof away', () => {
    const story = openStory()
    const id = story.book({ patient: ann })
    comesIn(story, id)
    story.does('tornqvist', 'visit.identify', { ...answers(story, id), how: 'typed' }, '08:58')
    story.does('tornqvist', 'visit.seat', { appointmentId: id }, '09:00')
    story.book({ startsAt: '11:00', patient: ann })
    expect(story.refusals('corrigan', 'visit.start', { appointmentId: id }, '09:02')).toContain(
      'identity/not-apart',
    )
  })
})

describe('the birth day among decoys', () => {
  const TODAY = '2026-11-25' as never
  test('the right year is as often the later of the two as the earlier, and none is still to come', () => {
    const isLater = Array.from({ length: 400 }, (_, patient) => {
      const days = birthDaysAmong('1980-02-03' as never, { of: `patient ${patient}`, today: TODAY })
      return days.every((day) => day.slice(0, 4) <= '1980')
    })
    const later = isLater.filter(Boolean).length
    expect(later).toBeGreaterThan(140)
    expect(later).toBeLessThan(260)
    for (let patient = 0; patient < 100; patient += 1) {
      const young = birthDaysAmong('2024-05-06' as never, { of: `patient ${patient}`, today: TODAY })
      expect(young.every((day) => day.slice(0, 4) < '2026')).toBe(true)
    }
  })
  const BORN = ['1980-02-03', '2016-02-29', '1999-12-31', '1951-01-01'] as const
  test.each(BORN)('four different days, %s among them, and none stands out', (born) => {
    const days = birthDaysAmong(born as never, { of: 'patient', today: TODAY })
    expect(new Set(days).size).toBe(4)
    expect(days).toContain(born)
    const isTold = (part: (day: string) => string) => days.filter((day) => part(day) === part(born)).length
    expect(isTold((day) => day.slice(0, 4))).toBe(2)
    expect(isTold((day) => day.slice(5, 7))).toBe(2)
  })

  test('the right one has no place of its own over many patients, and no more than chance gives', () => {
    const places = [0, 0, 0, 0]
    for (let patient = 0; patient < 400; patient += 1) {
      const place = birthDaysAmong('1980-02-03' as never, { of: `patient ${patient}`, today: TODAY }).indexOf(
        '1980-02-03' as never,
      )
      places[place] = (places[place] ?? 0) + 1
    }
    for (const count of places) expect(count).toBeGreaterThan(60)
  })

  test.each([
    ['1997-02-12', '1997-02-12'],
    ['12.2.1997', '1997-02-12'],
    ['12/02/1997', '1997-02-12'],
    ['31.2.1997', null],
    ['12 Feb', null],
    ['', null],
  ])('typed “%s” is read as %s', (text, day) => expect(readBirthDay(text)).toBe(day))
})
