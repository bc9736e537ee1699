import type { Sentences } from '../../base/rule.ts'
import type { ReadinessFinding, Shown, TimeOutDifference } from '../../readiness/findings.ts'
import { LINE_WORDS, many, questions, STOPPED_TASK, teethIn } from './readiness.ts'
import { STAGE_WORDS } from './states.ts'

const DIFFERENCE_WORDS: Record<TimeOutDifference, string> = {
  patient: 'the patient answered to is not the patient booked',
  teeth: 'the teeth said are not the teeth planned',
  plan: 'the plan read out is not the plan that stands',
}

const SHOWN_WORDS: Record<Shown, string> = {
  work: 'The work',
  history: 'The history on record',
  mouth: 'The mouth chart',
  tray: 'The tray',
  place: 'The time, operatory or dentist',
  dentist: 'The dentist who treats',
  stop: 'The stop',
}

export const READINESS_REFUSALS = {
  'counts/with-dam': {
    says: () =>
      'A sheet went in here, so nothing was kept. A piece of it may be left behind. Record it as it was placed, lay it flat and count it with the rest.',
    desk: null,
  },
  'line/not-here': {
    says: ({ kind }) =>
      `The clinic asks nothing of ${LINE_WORDS[kind].toLowerCase()} here, or nothing waits for the dentist. Nothing was recorded. Set the line first.`,
    desk: null,
  },
  'appointment/unknown': {
    says: () =>
      'This appointment is not known here. Nothing was recorded. Open it again from the board, or book it.',
    desk: () => 'This appointment is not known here. Search for it, or book it.',
  },
  'word/no-plan': {
    says: () =>
      'There is no plan to agree to. A word without a plan would open the needle on a guess. Name the work first.',
    desk: null,
  },
  'word/draft': {
    says: ({ number, open }) =>
      `Plan ${number} is a draft: ${questions(open)} open. A word on it would settle them unseen. Answer them first.`,
    desk: null,
  },
  'word/stale-number': {
    says: ({ named, number }) =>
      `You read plan ${named}; plan ${number} stands now. A word must name what was read. Read the plan again.`,
    desk: null,
  },
  'word/asks-open': {
    says: ({ open }) =>
      `${many(open.length, 'question is', 'questions are')} open on this appointment. The word would pass over them. Answer them first.`,
    desk: null,
  },
  'word/not-booked-dentist': {
    says: ({ booked }) =>
      `Only the dentist who will do the work may say this${booked === null ? '; none is booked' : `: ${booked}`}. Change the dentist of the appointment first.`,
    desk: () => 'Enter the dentist who will do the work.',
  },
  'word/already-given': {
    says: ({ number }) => `The word on plan ${number} already stands. There is nothing to repeat.`,
    desk: null,
  },
  'word/not-proposed': {
    says: ({ number }) =>
      `The student has not proposed plan ${number} yet. This clinic asks for two steps. Let the student propose it first.`,
    desk: null,
  },
  'word/not-booked-student': {
    says: ({ booked }) =>
      `Only the student of this appointment puts its plan to the instructor: ${booked ?? 'nobody is entered'}. A plan put by another teaches nobody and binds nobody. Let the student put it, or enter who does the work.`,
    desk: () => 'Enter the student who will do the work.',
  },
  'drawing/not-yours': {
    says: () =>
      'Only the student of this appointment draws here. The drawing is kept as theirs. Open an appointment of your own.',
    desk: null,
  },
  'drawing/no-plan': {
    says: () =>
      'No sheet is planned here, so there is nothing to draw against. Let the work be named and its questions be answered first.',
    desk: null,
  },
  'word/same-person': {
    says: () =>
      'The one who does the work cannot also agree to it. Two people see more than one. Ask the instructor.',
    desk: null,
  },
  'word/none-live': {
    says: () => 'No live word stands on this plan, so there is none to withdraw. Nothing was changed.',
    desk: null,
  },
  'stop/already-open': {
    says: () => 'A stop is already open here and holds. Nothing more is needed to stop.',
    desk: () => STOPPED_TASK,
  },
  'stop/not-open': {
    says: () => 'No stop is open here, so there is none to clear. Nothing was changed.',
    desk: null,
  },
  'help/already-called': {
    says: () => 'Help is already called here and the team is told. Go on with the steps on the card.',
    desk: null,
  },
  'help/not-ended-so': {
    says: ({ kind }) =>
      kind === 'lost-clamp'
        ? 'The call was not closed. A clamp or fragment that is lost may be swallowed or breathed in: it is found and complete, or the patient is referred. Say which.'
        : 'The call was not closed: it did not end that way. How it ended is kept. Say how it was settled, or to whom the patient went.',
    desk: null,
  },
  'help/not-open': {
    says: () =>
      'No such call for help is open, so there is nothing to add or close. Call help anew if it is needed.',
    desk: null,
  },
  'time-out/differs': {
    says: ({ what, said, planned }) =>
      `Plan and mouth differ: ${DIFFERENCE_WORDS[what]} (said ${teethIn(said)}, planned ${teethIn(planned)}). Check who it is before what is to be done.`,
    desk: null,
  },
  'time-out/instructor-checks': {
    says: () =>
      'The instructor looks at the isolation before a student starts, never the student alone. Ask the instructor to hold the time-out.',
    desk: null,
  },
  'time-out/not-due': {
    says: ({ stage }) =>
      `The time-out is held just before the start; the patient is ${STAGE_WORDS[stage]}. Held earlier it proves nothing. Hold it when the field stands.`,
    desk: null,
  },
  'recount/not-due': {
    says: ({ stage }) =>
      `Teeth are counted in the chair; the patient is ${STAGE_WORDS[stage]}. A count without the mouth proves nothing. Count when seated.`,
    desk: null,
  },
  'override/not-allowed': {
    says: () =>
      'This cannot be overridden: tooth, identity, allergies, an unproven pack, the dentist’s word and an open call for help are never passed over. Settle it, or stop.',
    desk: null,
  },
  'override/not-open': {
    says: () =>
      'This is not open here, or it reads otherwise by now, so it was not passed over. An override answers one finding as it was read. Look again.',
    desk: null,
  },
  'override/no-reason': {
    says: () =>
      'An override needs a reason. It is kept with your name so that others can learn from it. Say why in a few words.',
    desk: null,
  },
  'shown/moved': {
    says: ({ what }) =>
      `${SHOWN_WORDS[what]} has changed since this screen showed it, so nothing was kept. An answer would stand for what nobody read. Read what stands there now, then answer.`,
    desk: ({ what }) =>
      what === 'dentist'
        ? 'Another dentist treats by now than this screen showed, so nothing was kept. The patient would expect the wrong one. Look again, and tell them anew.'
        : 'This has changed since this screen showed it, so nothing was kept. Look again, then answer.',
  },
} satisfies Partial<Sentences<ReadinessFinding>>
