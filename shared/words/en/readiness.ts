import type { Sentences } from '../../base/rule.ts'
import type { IsolationQuestion } from '../../isolation/findings.ts'
import type { LapseCause } from '../../isolation/isolation-facts.ts'
import type { LineKind } from '../../people/policy-set.ts'
import type { ReadinessFinding } from '../../readiness/findings.ts'
import type { HelpKind } from '../../readiness/help.ts'
import type { Tooth } from '../../teeth/tooth.ts'

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

export const teethIn = (teeth: readonly Tooth[]): string =>
  teeth.length === 0 ? 'no tooth' : teeth.join(', ')

export const many = (count: number, one: string, more: string): string =>
  `${count} ${count === 1 ? one : more}`

export const questions = (open: readonly string[]): string =>
  many(Math.max(open.length, 1), 'question', 'questions')

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

export const STOPPED_TASK = 'Do not send anyone to this operatory: the team is checking.'

const FORM_TASK = 'Hand the patient the medical history form.'

export const READINESS_SENTENCES = {
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
  'word/not-drawn': {
    says: () =>
      'You draw your own plan first. What is seen before it is thought of teaches little. Draw which teeth, which clamp and which holes.',
    desk: null,
  },
} satisfies Partial<Sentences<ReadinessFinding>>
