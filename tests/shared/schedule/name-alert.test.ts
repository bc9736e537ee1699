import { expect, test } from 'vitest'
import { hasNameAlert } from '#shared/schedule/name-alert.ts'
import { openStory, patientOf } from './story.ts'

const person = (given: string, family: string) => ({
  patient: { kind: 'new', given, family, born: '1980-01-01' },
})

test('[name/alert] follows every change of name, booking and dentist at once, and forgets nothing in between', () => {
  const story = openStory()
  const one = story.book(person('Ann', 'Byrne'))
  const two = story.book({ startsAt: '11:00', dentistId: story.member('brandt'), ...person('Zoe', 'Quirk') })
  const alerts = () => [one, two].map((id) => hasNameAlert(story.world(), story.appointment(id)))
  expect(alerts()).toEqual([false, false])
  const patientId = patientOf(story, two)
  story.does('kallas', 'patient.change', { patientId, given: 'Anne', family: 'Byrne' })
  expect(alerts()).toEqual([true, true])
  story.does('kallas', 'appointment.arrive', { appointmentId: one })
  expect(alerts()).toEqual([true, true])
  story.does('kallas', 'patient.change', { patientId, given: 'Zoe', family: 'Quirk' })
  expect(alerts()).toEqual([false, false])
  // Born on one day, they may be mixed up as soon as one person treats both.
  story.does('kallas', 'appointment.change', { appointmentId: two, dentistId: story.member('corrigan') })
  expect(alerts()).toEqual([true, true])
  story.does('kallas', 'appointment.cancel', { appointmentId: two, reason: 'ill' })
  expect(hasNameAlert(story.world(), story.appointment(one))).toBe(false)
})
