import type { Sentences } from '../../base/rule.ts'
import type { IsolationQuestion } from '../../isolation/findings.ts'
import type { LapseCause } from '../../isolation/isolation-facts.ts'
import type { LineKind } from '../../people/policy-set.ts'
import type { ReadinessFinding, TimeOutDifference } from '../../readiness/findings.ts'
import type { HelpKind } from '../../readiness/help.ts'
import type { Tooth } from '../../teeth/tooth.ts'
import { STAGE_WORDS } from './states.ts'

/** Why a word no longer holds, as the end of "…lapsed: ". */
export const LAPSE_WORDS: Record<LapseCause, string> = {
  'plan-changed': 'the plan changed',
  'dentist-changed': 'another dentist took over',
  'patient-changed': 'the patient was changed',
  'day-changed': 'it moved to another day',
  'consent-changed': 'the consent changed',
  'allergies-changed': 'the allergy record changed',
  'history-changed': 'the medical history changed',
  'weight-changed': 'the weight changed',
  'dose-changed': 'the anaesthetic is not as planned',
  stopped: 'someone called "Stop, check side"',
  'left-chair': 'the patient left the chair',
  interrupted: 'it was interrupted before the start',
  'too-long-ago': 'it was given longer ago than the clinic allows',
  'pack-failed': 'a pack on the tray is held or its indicator failed',
  withdrawn: 'it was withdrawn',
}

const teethIn = (teeth: readonly Tooth[]): string => (teeth.length === 0 ? 'no tooth' : teeth.join(', '))
const many = (count: number, one: string, more: string): string => `${count} ${count === 1 ? one : more}`
const questions = (open: readonly string[]): string => many(Math.max(open.length, 1), 'question', 'questions')

/** What each of the planner's questions is about; its whole sentence stands on the plan page. */
const QUESTION_WORDS: Record<IsolationQuestion['rule'], string> = {
  'mouth/not-charted': 'the mouth is not charted',
  'field/tooth-not-standing': 'the tooth is charted as not there',
  'field/no-tooth': 'no tooth is named',
  'field/policy-silent': 'the field policy says nothing of this tooth',
  'field/wire': 'a wire in the field',
  'field/contact-closed': 'a contact that floss does not pass',
  'anchor/ceramic-crown': 'a ceramic crown would carry the clamp',
  'anchor/unsuitable': 'no sound tooth for the clamp',
  'anchor/distal-of-last': 'the far side of the last tooth',
  'anchor/broken-down': 'a broken-down tooth',
  'breathing/choice': 'breathing under the sheet',
  'alternative/needed': 'another way than a dam',
}

function firstOf(open: readonly string[]): string {
  const words: Record<string, string> = QUESTION_WORDS
  const known = open.flatMap((rule) => words[rule] ?? [])
  return known.length === 0 ? '' : `: ${known[0]}`
}

/** What the clinic has asked before the needle. */
export const LINE_WORDS: Record<LineKind, string> = {
  'blood-pressure': 'Blood pressure',
  anticoagulants: 'Anticoagulants',
  prophylaxis: 'Antibiotic before the work',
  glucose: 'Blood glucose',
}

export const HELP_WORDS: Record<HelpKind, string> = {
  'lost-clamp': 'a clamp or a piece of it is lost',
  'bleach-on-tissue': 'bleach on tissue',
  'anaesthetic-reaction': 'a reaction to the anaesthetic',
  collapse: 'collapse',
  'taste-or-burn': 'the patient tastes or feels burning',
}

const DIFFERENCE_WORDS: Record<TimeOutDifference, string> = {
  patient: 'the patient answered to is not the patient booked',
  teeth: 'the teeth said are not the teeth planned',
  plan: 'the plan read out is not the plan that stands',
}

const STOPPED_TASK = 'Do not send anyone to this operatory: the team is checking.'
const FORM_TASK = 'Hand the patient the medical history form.'

export const READINESS_SENTENCES: Sentences<ReadinessFinding> = {
  'side/stopped': {
    says: () => 'Stopped: check the side and the tooth. Nothing goes on before the dentist clears it.',
    desk: () => STOPPED_TASK,
  },
  'help/open': {
    says: ({ kind }) => `Help is called here: ${HELP_WORDS[kind]}.`,
    desk: () => 'Help is called to this operatory: keep the way clear and be ready to phone.',
  },
  'help/drill': {
    says: ({ kind }) => `Drill: ${HELP_WORDS[kind]}.`,
    desk: () => 'A drill is running in this operatory.',
  },
  'plan/uncharted': {
    says: () => 'The mouth is not charted: count the teeth before punching.',
    desk: null,
  },
  'plan/none-yet': {
    says: () => 'There is no plan for this appointment: what is to be done is not recorded.',
    desk: () => 'Ask what this appointment is for and enter it.',
  },
  'plan/question': {
    says: ({ open }) => `The plan is a draft: ${questions(open)} to be answered${firstOf(open)}.`,
    desk: null,
  },
  'word/missing': {
    says: ({ number, former }) =>
      former === null
        ? `The dentist has not given their word on plan ${number}.`
        : `Another dentist took this visit over: plan ${number} needs their confirmation.`,
    desk: null,
  },
  'word/lapsed': {
    says: ({ why }) => `The dentist’s word has lapsed: ${LAPSE_WORDS[why]}.`,
    desk: null,
  },
  'word/changed-since-start': {
    says: ({ why }) => `Changed since the start, dentist to look: ${LAPSE_WORDS[why]}.`,
    desk: null,
  },
  'side/not-read-back': {
    says: ({ teeth }) => `Tooth and side still to be read back: ${teethIn(teeth)}.`,
    desk: null,
  },
  'history/not-confirmed': {
    says: () => 'Today’s medical history has not been confirmed.',
    desk: () => FORM_TASK,
  },
  'teeth/not-recounted': {
    says: ({ teeth }) => `Teeth still to be counted, before the dam and through it: ${teethIn(teeth)}.`,
    desk: null,
  },
  'time-out/missing': {
    says: ({ teeth }) => `Time-out not held: patient, procedure and tooth ${teethIn(teeth)}.`,
    desk: null,
  },
  'counts/not-done': {
    says: () => 'Clamps, sheet pieces, ligatures, needles, files and blades are not counted yet.',
    desk: null,
  },
  'counts/with-dam': {
    says: () =>
      'A sheet went in here, so nothing was kept. A piece of it may be left behind. Record it as it was placed, lay it flat and count it with the rest.',
    desk: null,
  },
  'line/not-asked': {
    says: ({ kind, words }) => `${LINE_WORDS[kind]}: still to be asked. The clinic’s own line: ${words}`,
    desk: null,
  },
  'line/for-dentist': {
    says: ({ kind, words, said }) =>
      `${LINE_WORDS[kind]}: ${said}. The clinic’s own line: ${words}. Ask the dentist.`,
    desk: null,
  },
  'line/not-today': {
    says: ({ kind, said }) =>
      `The dentist does not go on today (${LINE_WORDS[kind].toLowerCase()}: ${said}).`,
    desk: () => 'The dentist asks for another day: move the appointment.',
  },
  'line/not-here': {
    says: ({ kind }) =>
      `The clinic asks nothing of ${LINE_WORDS[kind].toLowerCase()} here, or nothing waits for the dentist. Nothing was recorded. Set the line first.`,
    desk: null,
  },
  'room/not-free': {
    says: ({ until }) => `The operatory is free about ${until}.`,
    desk: ({ until }) => `The operatory is free about ${until}.`,
  },
  'people/not-free': {
    says: ({ until }) => `The one who treats is free about ${until}.`,
    desk: ({ until }) => `The one who treats is free about ${until}.`,
  },
  'tray/none-yet': {
    says: () => 'No tray stands for this appointment.',
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
  'word/not-drawn': {
    says: () =>
      'You draw your own plan first. What is seen before it is thought of teaches little. Draw which teeth, which clamp and which holes.',
    desk: null,
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
}
