import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { shownHistory, shownMouth, shownPlace, shownTray, shownWork } from '#shared/readiness/shown.ts'
import { findStop } from '#shared/readiness/stop.ts'
import { identified, openStory, patientOf, type Story, seated } from '../schedule/story.ts'

const factsOf = ({ world }: Story, id: AppointmentId) =>
  must(findAppointment(indexDay(world()), id), 'it is booked')
const workOf = (story: Story, id: AppointmentId) => factsOf(story, id).work
const linesOf = (story: Story, id: AppointmentId) =>
  story.world().trayLine.filter(({ trayId }) => trayId === factsOf(story, id).tray?.id)

/** Another tooth, named by the dentist while somebody reads the old one. */
function nameAnother(story: Story, appointmentId: AppointmentId): void {
  const workId = workOf(story, appointmentId)[0]?.id
  identified(story, appointmentId, '09:02')
  const named = { appointmentId, workId, kind: 'direct-composite', teeth: ['47'], settles: true }
  story.does('corrigan', 'work.name', named, '09:03')
}

interface Answered {
  what: string
  by: Parameters<Story['does']>[0]
  kind: string
  input: (story: Story, id: AppointmentId) => object
  /** What the screen showed, as it stands. */
  shows: (story: Story, id: AppointmentId) => string
  /** What another does meanwhile. */
  meanwhile: (story: Story, id: AppointmentId) => void
  set?: (story: Story, id: AppointmentId) => void
}

const ofIt = (_: Story, appointmentId: AppointmentId) => ({ appointmentId })
const stopIn = (story: Story, id: AppointmentId) => must(findStop(factsOf(story, id)), 'it is stopped')

const ANSWERED: Answered[] = [
  {
    what: 'permission for the work',
    by: 'tornqvist',
    kind: 'consent.record',
    input: (_, appointmentId) => ({ appointmentId, text: 'signed', teeth: ['46', '47'] }),
    shows: (story, id) => shownWork(workOf(story, id)),
    meanwhile: nameAnother,
  },
  {
    what: 'teeth counted',
    by: 'tornqvist',
    kind: 'teeth.recount',
    input: (_, appointmentId) => ({ appointmentId, when: 'before' }),
    shows: (story, id) => shownWork(workOf(story, id)),
    meanwhile: nameAnother,
  },
  {
    what: 'which work it is',
    by: 'corrigan',
    kind: 'work.name',
    input: (story, appointmentId) => ({
      appointmentId,
      workId: workOf(story, appointmentId)[0]?.id,
      kind: 'root-canal',
      teeth: ['46'],
      settles: true,
    }),
    shows: (story, id) => shownWork(workOf(story, id)),
    meanwhile: nameAnother,
  },
  {
    what: 'nothing new in the history',
    by: 'tornqvist',
    kind: 'history.confirm',
    input: (story, id) => ({ patientId: patientOf(story, id) }),
    shows: (story, id) => shownHistory(must(factsOf(story, id).patient, 'known')),
    meanwhile: (story, id) =>
      story.does('corrigan', 'history.confirm', {
        patientId: patientOf(story, id),
        added: ['takes warfarin'],
      }),
  },
  {
    what: 'all stand as drawn',
    by: 'tornqvist',
    kind: 'mouth.stand-as-drawn',
    input: ofIt,
    shows: (story, id) => shownMouth(factsOf(story, id).chart),
    meanwhile: (story, appointmentId) =>
      story.does('corrigan', 'mouth.chart', { appointmentId, tooth: '45', conditions: ['missing'] }),
  },
  {
    what: 'the stop looked into',
    by: 'corrigan',
    kind: 'stop.clear',
    input: (_, appointmentId) => ({ appointmentId, outcome: 'nothing-wrong' }),
    set: (story, appointmentId) => story.does('tornqvist', 'stop.check-side', { appointmentId }, '09:01'),
    shows: (story, id) => stopIn(story, id).id,
    meanwhile: (story, appointmentId) => {
      story.does('corrigan', 'stop.clear', { appointmentId, outcome: 'nothing-wrong' }, '09:02')
      story.does('tornqvist', 'stop.check-side', { appointmentId }, '09:03')
    },
  },
]

describe('[shown/moved] an answer counts for what was read when it was given', () => {
  test.each(ANSWERED)('$what ($kind)', ({ by, kind, input, shows, meanwhile, set }) => {
    const story = openStory()
    const id = story.book({ work: ['comp 46 MO'] })
    seated(story, id)
    set?.(story, id)
    const read = shows(story, id)
    meanwhile(story, id)
    const answer = () => ({ ...input(story, id) })
    const before = story.world()
    expect(story.refusals(by, kind, { ...answer(), saw: read }, '09:05')).toEqual(['shown/moved'])
    expect(story.world()).toBe(before)
    story.does(by, kind, { ...answer(), saw: shows(story, id) }, '09:06')
  })

  test('a tray of other lines than were looked over is not checked by that look', () => {
    const story = openStory()
    const id = story.book({ work: ['comp 46 MO'] })
    const trayId = must(factsOf(story, id).tray, 'it has a tray').id
    story.does('tornqvist', 'tray.claim', { trayId })
    for (const line of linesOf(story, id)) {
      const one = { trayId, lineId: line.id }
      if (line.packKind === null) story.does('tornqvist', 'tray.tick', { ...one, inspected: true })
      else story.does('corrigan', 'tray.omit', { ...one, reason: 'not in this test' })
    }
    story.does('tornqvist', 'tray.lay-out', { trayId })
    const read = shownTray(linesOf(story, id))
    const line = must(
      linesOf(story, id).find(({ omitted }) => omitted === null),
      'something lies on it',
    )
    story.does('corrigan', 'tray.omit', { trayId, lineId: line.id, reason: 'not wanted today' })
    expect(story.refusals('larbi', 'tray.check', { trayId, saw: read })).toEqual(['shown/moved'])
    story.does('larbi', 'tray.check', { trayId, saw: shownTray(linesOf(story, id)) })
  })

  test('an emergency moved by the desk is not accepted at the time that was read', () => {
    const story = openStory()
    const appointmentId = story.book({ emergency: true })
    const read = shownPlace(story.appointment(appointmentId))
    story.does('kallas', 'appointment.change', { appointmentId, startsAt: '15:20' })
    const refused = story.refusals('tornqvist', 'appointment.accept', { appointmentId, saw: read })
    expect(refused).toEqual(['shown/moved'])
    const saw = shownPlace(story.appointment(appointmentId))
    story.does('tornqvist', 'appointment.accept', { appointmentId, saw })
  })

  test('a patient told of a dentist who no longer treats is not ticked as told', () => {
    const story = openStory()
    const appointmentId = story.book()
    story.does('kallas', 'appointment.change', { appointmentId, dentistId: story.member('brandt') })
    const read = story.member('larbi')
    const refused = story.refusals('kallas', 'patient.called', { appointmentId, saw: read })
    expect(refused).toEqual(['shown/moved'])
    story.does('kallas', 'patient.called', { appointmentId, saw: story.member('brandt') })
  })

  test('what came from no screen says nothing of what it saw, and is decided as it stands', () => {
    const story = openStory()
    const id = story.book({ work: ['comp 46 MO'] })
    seated(story, id)
    story.does('tornqvist', 'mouth.stand-as-drawn', { appointmentId: id }, '09:05')
  })

  test('the key does not depend on the order in which a database gives facts or keys', () => {
    const story = openStory()
    const id = story.book({ work: ['comp 46 MO', 'comp 36 DO'] })
    const work = workOf(story, id)
    expect(work).toHaveLength(2)
    expect(shownWork([...work].reverse())).toBe(shownWork(work))
    const entry = {
      conditions: ['missing' as const],
      by: story.member('corrigan'),
      at: story.appointment(id).start,
    }
    story.does('corrigan', 'mouth.chart', { appointmentId: id, tooth: '45', conditions: ['missing'] })
    const chart = must(factsOf(story, id).chart, 'charted')
    const [one, other] = [
      { '45': entry, '18': entry },
      { '18': entry, '45': entry },
    ]
    expect(shownMouth({ ...chart, teeth: one })).toBe(shownMouth({ ...chart, teeth: other }))
    expect(shownMouth(null)).toBe(shownMouth({ ...chart, teeth: {} }))
  })
})
