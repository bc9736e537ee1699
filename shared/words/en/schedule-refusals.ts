import type { Sentences } from '../../base/rule.ts'
import type { ScheduleFinding } from '../../schedule/findings.ts'
import { COMPARED_WORDS, listed, sayRoomTask, sayStage, sayStatus, teeth } from './schedule.ts'

export const SCHEDULE_REFUSALS = {
  'visit/wrong-stage': {
    says: ({ stage, needs }) =>
      `Not now: the patient is ${sayStage(stage)}. This is done when the patient is ${listed(needs.map(sayStage))}.`,
    desk: ({ stage }) => `Not now: the patient is ${sayStage(stage)}.`,
  },
  'appointment/over': {
    says: ({ status }) =>
      `This appointment is ${sayStatus(status)}. It is not changed any more: book a new one.`,
    desk: ({ status }) => `This appointment is ${sayStatus(status)}: book a new one.`,
  },
  'appointment/under-way': {
    says: ({ stage }) => `The patient is ${sayStage(stage)}: time and place stay until they leave the chair.`,
    desk: () => 'The patient is in the chair: time and place stay until they leave it.',
  },
  'appointment/not-vanished': {
    says: () => 'This appointment is still listed: there is nothing to keep.',
    desk: () => 'This appointment is still listed: there is nothing to keep.',
  },
  'appointment/other-dentist': {
    says: () =>
      'This visit is not with that dentist any more: somebody has changed it. Handing it over again could undo that. Look at the list again.',
    desk: () =>
      'This visit is not with that dentist any more: somebody has changed it. Handing it over again could undo that. Look at the list again.',
  },
  'call/not-due': {
    says: () =>
      'There is nothing to tell this patient: whom they expect treats, or they were told already. A second call would only worry them. Look at the list again.',
    desk: () =>
      'There is nothing to tell this patient: whom they expect treats, or they were told already. A second call would only worry them. Look at the list again.',
  },
  'appointment/accepted-already': {
    says: () => 'This appointment needs no acceptance.',
    desk: () => 'This appointment needs no acceptance.',
  },
  'room/occupied': {
    says: () => 'Another patient is in this operatory: seat when they have left.',
    desk: () => 'Another patient is in this operatory.',
  },
  'room/not-turned-over': {
    says: ({ left }) => `The operatory is not turned over. Left to do: ${listed(left.map(sayRoomTask))}.`,
    desk: () => 'The operatory is not turned over yet.',
  },
  'room/nothing-to-turn-over': {
    says: () => 'There is nothing to turn over here now.',
    desk: null,
  },
  'identity/too-few': {
    says: () => 'One identifier does not tell two patients apart: ask for two different ones.',
    desk: null,
  },
  'identity/not-shown': {
    says: ({ what }) =>
      `${COMPARED_WORDS[what]} was only ticked. A tick does not show that it was asked: pick it, type it or scan it.`,
    desk: null,
  },
  'side/differs': {
    says: ({ said, planned }) =>
      `Read back was ${teeth(said)}; planned is ${teeth(planned)}. First ask who the patient is, then which tooth.`,
    desk: null,
  },
  'clamp/not-tied': {
    says: () => 'The clamp is not tied: it could be swallowed. Tie floss through it first.',
    desk: null,
  },
  'clamp/not-planned': {
    says: () => 'No dam is planned here, so there is no clamp to place.',
    desk: null,
  },
  'sedation/monitor-treats': {
    says: () => 'Who treats cannot watch as well: name another person.',
    desk: null,
  },
  'time/does-not-exist': {
    says: ({ day, time }) => `The clocks jump over ${time} on ${day}: choose another time.`,
    desk: ({ day, time }) => `The clocks jump over ${time} on ${day}: choose another time.`,
  },
  'clock/real-clinic': {
    says: () => 'A real clinic’s clock is never moved.',
    desk: () => 'A real clinic’s clock is never moved.',
  },
} satisfies Partial<Sentences<ScheduleFinding>>
