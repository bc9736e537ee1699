import { describe, expect, test } from 'vitest'
import { DEMO_DAY } from '#seed/clinic.ts'
import { momentOf } from '#seed/telling.ts'
import { ROOM_TASKS } from '#shared/schedule/appointment.ts'
import { answers, comesIn, identified, openStory, openTray, patientOf, seated } from './story.ts'

describe('arriving and being known', () => {
  test('[visit/wrong-stage] a stage is never skipped, nor silently repeated', () => {
    const story = openStory()
    const appointmentId = story.book()
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId })).toEqual(['visit/wrong-stage'])
    expect(story.refusals('corrigan', 'visit.start', { appointmentId })).toEqual(['visit/wrong-stage'])
    story.does('kallas', 'appointment.arrive', { appointmentId })
    expect(story.refusals('kallas', 'appointment.arrive', { appointmentId })).toEqual(['visit/wrong-stage'])
    expect(story.refusals('tornqvist', 'visit.leave', { appointmentId })).toEqual(['visit/wrong-stage'])
  })

  test('[identity/missing] nobody is seated unknown', () => {
    const story = openStory()
    const appointmentId = story.book()
    comesIn(story, appointmentId)
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId }, '09:00')).toEqual([
      'identity/missing',
    ])
    identified(story, appointmentId)
    story.does('tornqvist', 'visit.seat', { appointmentId }, '09:00')
  })

  test('[identity/too-few] one identifier, or the same twice, is not two', () => {
    const story = openStory()
    const appointmentId = story.book()
    story.does('kallas', 'appointment.arrive', { appointmentId })
    for (const identifiers of [[], ['full-name'], ['full-name', 'full-name']]) {
      const asked = { appointmentId, identifiers, how: 'typed' }
      expect(story.refusals('tornqvist', 'visit.identify', asked)).toEqual(['identity/too-few'])
    }
  })

  test('[identity/not-typed] with a name alert a tick proves nothing; typed or scanned does', () => {
    const story = openStory()
    const appointmentId = story.book()
    story.book({
      startsAt: '11:00',
      patient: { kind: 'new', given: 'Ann', family: 'Byrne', born: '1991-07-01' },
    })
    story.does('kallas', 'appointment.arrive', { appointmentId })
    const asked = answers(story, appointmentId)
    expect(story.refusals('tornqvist', 'visit.identify', { ...asked, how: 'asked' })).toEqual([
      'identity/not-typed',
    ])
    expect(story.visit(appointmentId).identity).toBeNull()
    story.does('tornqvist', 'visit.identify', { ...asked, how: 'typed' })
    expect(story.visit(appointmentId).nameAlertSeen).not.toBeNull()
  })

  test('[guardian/not-recorded] a child is not seated before it is recorded who came', () => {
    const story = openStory()
    const child = { kind: 'new', given: 'Mia', family: 'Sand', born: '2016-04-04', guardian: 'mother' }
    const appointmentId = story.book({ patient: child })
    comesIn(story, appointmentId)
    identified(story, appointmentId)
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId }, '09:00')).toEqual([
      'guardian/not-recorded',
    ])
    const patientId = patientOf(story, appointmentId)
    const companion = { kind: 'guardian', relation: 'grandmother' }
    story.does('kallas', 'companion.record', { patientId, companion }, '09:00')
    story.does('tornqvist', 'visit.seat', { appointmentId }, '09:00')
    expect(story.world().patient[0]?.guardian?.present?.relation).toBe('grandmother')
  })

  test('[interpreter/not-recorded] whether the interpreter is there is asked at every visit', () => {
    const story = openStory()
    const patient = {
      kind: 'new',
      given: 'Petra',
      family: 'Vidal',
      born: '1992-12-20',
      interpreter: 'Italian',
    }
    const appointmentId = story.book({ patient })
    const patientId = patientOf(story, appointmentId)
    const companion = { kind: 'interpreter', who: 'relative', reason: 'the professional fell ill' }
    story.does('kallas', 'companion.record', { patientId, companion }, '08:10')
    comesIn(story, appointmentId)
    identified(story, appointmentId)
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId }, '09:00')).toEqual([
      'interpreter/not-recorded',
    ])
    story.does('kallas', 'companion.record', { patientId, companion }, '09:00')
    story.does('tornqvist', 'visit.seat', { appointmentId }, '09:00')
  })
})

describe('the room', () => {
  test('[room/occupied] one patient at a time; the chair says who', () => {
    const story = openStory()
    const first = story.book()
    const second = story.book({ startsAt: '09:40', dentistId: story.member('brandt'), patient: CARLA })
    seated(story, first)
    comesIn(story, second, '09:30')
    identified(story, second, '09:31')
    expect(story.refusals('tornqvist', 'visit.seat', { appointmentId: second }, '09:40')).toEqual([
      'room/occupied',
    ])
  })

  test('[room/not-turned-over] a chair that was left is not clear until all five are done', () => {
    const story = openStory()
    const first = story.book()
    const second = story.book({ startsAt: '09:40', dentistId: story.member('brandt'), patient: CARLA })
    seated(story, first)
    story.does('tornqvist', 'visit.leave-chair', { appointmentId: first, why: 'felt faint' }, '09:05')
    comesIn(story, second, '09:30')
    identified(story, second, '09:31')
    const seat = () => story.refusals('tornqvist', 'visit.seat', { appointmentId: second }, '09:40')
    const operatoryId = story.room('1')
    expect(seat()).toEqual(['room/not-turned-over'])
    story.does('tornqvist', 'room.turn-over', {
      operatoryId,
      tasks: ['barriers', 'suction', 'light', 'light'],
    })
    expect(seat()).toEqual(['room/not-turned-over'])
    story.does('tornqvist', 'room.turn-over', { operatoryId, tasks: ['wet-time', 'water-air'] })
    expect(seat()).toEqual([])
  })

  test('[room/nothing-to-turn-over] a clear room, or one with a patient in it, is not turned over', () => {
    const story = openStory()
    const turn = () =>
      story.refusals('tornqvist', 'room.turn-over', { operatoryId: story.room('1'), tasks: [...ROOM_TASKS] })
    expect(turn()).toEqual(['room/nothing-to-turn-over'])
    seated(story, story.book())
    expect(turn()).toEqual(['room/nothing-to-turn-over'])
  })
})

describe('in the chair', () => {
  test('[side/differs] what is read back must be what is planned, tooth for tooth', () => {
    const story = openStory()
    const appointmentId = story.book({ work: ['extraction 46'] })
    seated(story, appointmentId)
    const read = (teeth: string[], planNumber = 1) =>
      story.refusals('corrigan', 'visit.read-back', { appointmentId, teeth, planNumber }, '09:02')
    expect(read([])).toEqual(['side/differs'])
    expect(read(['46'], 2)).toEqual(['word/stale-number'])
    expect(read(['46'])).toEqual([])
    expect(story.visit(appointmentId).readBack?.teeth).toEqual(['46'])
  })

  test.each([[['36']], [['46', '47']]])(
    '[side/differs] %s in the place of 46 may be another patient: it is kept, and who it is is asked anew',
    (teeth) => {
      const story = openStory()
      const appointmentId = story.book({ work: ['extraction 46'] })
      seated(story, appointmentId)
      const asked = story.ask('corrigan', 'visit.read-back', { appointmentId, teeth, planNumber: 1 }, '09:02')
      expect(asked.ok && asked.value.findings.map(({ rule }) => rule)).toEqual(['side/differs'])
      story.does('corrigan', 'visit.read-back', { appointmentId, teeth, planNumber: 1 }, '09:02')
      expect(story.visit(appointmentId)).toMatchObject({ identity: null, readBack: null })
      story.does('corrigan', 'visit.read-back', { appointmentId, teeth: ['46'], planNumber: 1 }, '09:03')
      const start = () => story.refusals('corrigan', 'visit.start', { appointmentId }, '09:05')
      expect(start()).toContain('identity/missing')
      identified(story, appointmentId, '09:04')
      expect(start()).not.toContain('identity/missing')
    },
  )

  test('leaving the chair forgets who it was and which tooth was said; nothing else', () => {
    const story = openStory()
    const appointmentId = story.book({ work: ['extraction 46'] })
    seated(story, appointmentId)
    story.does('corrigan', 'visit.read-back', { appointmentId, teeth: ['46'], planNumber: 1 }, '09:02')
    story.does('tornqvist', 'visit.leave-chair', { appointmentId, why: 'toilet' }, '09:03')
    const visit = story.visit(appointmentId)
    expect([visit.stage, visit.identity, visit.readBack, visit.timeOut]).toEqual([
      'arrived',
      null,
      null,
      null,
    ])
    expect(visit.steps.map(({ stage }) => stage)).toEqual(['arrived', 'seated', 'arrived'])
    expect(story.appointment(appointmentId).status).toBe('arrived')
  })

  test('an interruption before the start means: say it again', () => {
    const story = openStory()
    const appointmentId = story.book({ work: ['extraction 46'] })
    seated(story, appointmentId)
    story.does('corrigan', 'visit.read-back', { appointmentId, teeth: ['46'], planNumber: 1 }, '09:02')
    story.does('tornqvist', 'visit.interrupt', { appointmentId, why: 'called to the phone' }, '09:03')
    expect(story.visit(appointmentId).readBack).toBeNull()
    expect(story.visit(appointmentId).identity).not.toBeNull()
  })

  test('[clamp/not-planned] no clamp where no dam is planned', () => {
    const story = openStory()
    const appointmentId = story.book()
    seated(story, appointmentId)
    expect(story.refusals('tornqvist', 'visit.clamp', { appointmentId, tied: true }, '09:05')).toEqual([
      'clamp/not-planned',
    ])
  })

  test('[clamp/not-tied] an untied clamp does not pass, whatever else is in order', () => {
    const story = openStory()
    const appointmentId = story.book({ work: ['RCT 36'] })
    seated(story, appointmentId)
    const clamp = (tied: boolean) =>
      story.refusals('tornqvist', 'visit.clamp', { appointmentId, tied }, '09:05')
    expect(clamp(false)).toContain('clamp/not-tied')
    expect(clamp(true)).not.toContain('clamp/not-tied')
    // No word, no read-back, no needle: the gate itself is shut all the same.
    expect(clamp(true)).toContain('word/missing')
  })

  test('[visit/wrong-stage] a planned dam is on before the work starts', () => {
    const story = openStory()
    const appointmentId = story.book({ work: ['RCT 36'] })
    seated(story, appointmentId)
    expect(story.refusals('corrigan', 'visit.start', { appointmentId }, '09:05')).toEqual([
      'visit/wrong-stage',
    ])
  })

  test('a check-up runs from the door to the door, and leaves the room to be turned over', () => {
    const story = openStory()
    const appointmentId = story.book()
    seated(story, appointmentId)
    const patientId = patientOf(story, appointmentId)
    story.does('tornqvist', 'history.confirm', { patientId }, '09:01')
    openTray(story, appointmentId)
    story.does('corrigan', 'visit.start', { appointmentId }, '09:05')
    expect(story.refusals('tornqvist', 'visit.leave', { appointmentId }, '09:06')).toEqual([
      'visit/wrong-stage',
    ])
    story.does('corrigan', 'visit.finish', { appointmentId }, '09:20')
    story.does('tornqvist', 'visit.leave', { appointmentId }, '09:22')
    expect(story.appointment(appointmentId).status).toBe('fulfilled')
    const room = story.world().occupancy.find(({ operatoryId }) => operatoryId === story.room('1'))
    expect(room?.life).toMatchObject({ kind: 'turning-over', done: [] })
    expect(
      story.refusals('tornqvist', 'visit.identify', {
        ...answers(story, appointmentId),
        how: 'typed',
      }),
    ).toEqual(['appointment/over'])
  })
})

describe('permission', () => {
  const child = { kind: 'new', given: 'Mia', family: 'Sand', born: '2016-04-04', guardian: 'mother' }
  const openOf = (story: ReturnType<typeof openStory>, appointmentId: string) =>
    story.refusals('tornqvist', 'visit.clamp', { appointmentId, tied: true }, '09:05')

  const accompanied = (work: string) => {
    const story = openStory()
    const appointmentId = story.book({ patient: child, work: [work] })
    comesIn(story, appointmentId)
    identified(story, appointmentId)
    const patientId = patientOf(story, appointmentId)
    story.does('kallas', 'companion.record', { patientId, companion: { kind: 'guardian' } }, '08:59')
    story.does('tornqvist', 'visit.seat', { appointmentId }, '09:00')
    return { story, appointmentId }
  }

  test('[consent/missing] where someone else permits, it is recorded before anything is done', () => {
    const { story, appointmentId } = accompanied('pulpotomy 85')
    expect(openOf(story, appointmentId)).toContain('consent/missing')
    story.does('tornqvist', 'consent.record', { appointmentId, text: 'signed', teeth: ['85'] }, '09:02')
    expect(openOf(story, appointmentId)).not.toContain('consent/missing')
  })

  test('[consent/differs] permission covers exactly the planned teeth; other work re-opens it', () => {
    const { story, appointmentId } = accompanied('pulpotomy 85')
    story.does('tornqvist', 'consent.record', { appointmentId, text: 'signed', teeth: ['85'] }, '09:02')
    const work = story.world().work.find((each) => each.appointmentId === appointmentId)
    identified(story, appointmentId, '09:02')
    story.does(
      'corrigan',
      'work.name',
      { appointmentId, workId: work?.id, kind: 'pulpotomy', teeth: ['84'] },
      '09:03',
    )
    expect(openOf(story, appointmentId)).toContain('consent/differs')
  })

  test('[consent/differs] and exactly the procedure: a pulpotomy permitted is no extraction of that tooth', () => {
    const { story, appointmentId } = accompanied('pulpotomy 85')
    story.does('tornqvist', 'consent.record', { appointmentId, text: 'signed', teeth: ['85'] }, '09:02')
    const work = story.world().work.find((each) => each.appointmentId === appointmentId)
    const other = { appointmentId, workId: work?.id, kind: 'extraction', teeth: ['85'] }
    identified(story, appointmentId, '09:02')
    story.does('corrigan', 'work.name', other, '09:03')
    expect(story.refusals('corrigan', 'visit.start', { appointmentId }, '09:05')).toContain('consent/differs')
    story.does('tornqvist', 'consent.record', { appointmentId, text: 'signed anew', teeth: ['85'] }, '09:06')
    expect(story.refusals('corrigan', 'visit.start', { appointmentId }, '09:07')).not.toContain(
      'consent/differs',
    )
  })
})

describe('sedation', () => {
  // Practitioner case 51: READ. Nothing turns ready by a timer alone.
  test('case 51 [sedation/monitor-treats] somebody watches who does not treat, and is named before the needle', () => {
    const story = openStory()
    const appointmentId = story.book({ work: ['RCT 36'], note: 'IV sedation' })
    seated(story, appointmentId)
    const open = () => story.refusals('tornqvist', 'visit.clamp', { appointmentId, tied: true }, '11:00')
    expect(open()).toContain('sedation/no-monitor')
    const name = (key: 'corrigan' | 'zielak') =>
      story.refusals('corrigan', 'monitor.name', { appointmentId, memberId: story.member(key) }, '09:02')
    expect(name('corrigan')).toEqual(['sedation/monitor-treats'])
    expect(name('zielak')).toEqual([])
    expect(open()).not.toContain('sedation/no-monitor')
  })
})

test('[numbness/nobody-stays] whoever stays after the needle is named, also the one who treats', () => {
  const story = openStory()
  const appointmentId = story.book({ work: ['RCT 36'] })
  const memberId = story.member('corrigan')
  story.does('tornqvist', 'stay.name', { appointmentId, memberId })
  expect(story.world().isolationChoice[0]?.answers).toMatchObject([
    { rule: 'numbness/nobody-stays', answer: memberId },
  ])
  expect(story.refusals('tornqvist', 'stay.name', { appointmentId, memberId: appointmentId })).toEqual([
    'person/unknown',
  ])
})

describe('the demo clock', () => {
  test('moves the invented clinic’s clock by what lies between', () => {
    const story = openStory()
    story.does('vasarely', 'clock.move', { to: momentOf(DEMO_DAY, '11:00') }, '08:30')
    expect(story.world().clinic[0]?.clock).toEqual({ kind: 'demo', offset: 150 * 60_000 })
  })
  test('[clock/real-clinic] never a real clinic’s', () => {
    const story = openStory({ invented: false })
    expect(story.refusals('vasarely', 'clock.move', { to: 0 })).toEqual(['clock/real-clinic'])
  })
  test('[person/not-allowed] and only by its manager', () => {
    expect(openStory().refusals('kallas', 'clock.move', { to: 0 })).toEqual(['person/not-allowed'])
  })
})

const CARLA = { kind: 'new', given: 'Carla', family: 'Roth', born: '1975-05-05' }
