import type { Sentences } from '../../base/rule.ts'
import { CATALOGUE } from '../../procedures/catalogue.ts'
import type {
  AppointmentStatus,
  Compared,
  PermittedWork,
  RoomTask,
  VisitStage,
} from '../../schedule/appointment.ts'
import type { ScheduleFinding } from '../../schedule/findings.ts'
import type { Tooth } from '../../teeth/tooth.ts'

const STAGES: Record<VisitStage, string> = {
  expected: 'expected',
  arrived: 'in the waiting room',
  seated: 'seated',
  injected: 'injected',
  clamped: 'under the dam',
  started: 'under way',
  finished: 'finished',
  left: 'gone home',
}

export const COMPARED_WORDS: Record<Compared, string> = {
  name: 'The name',
  'birth-day': 'The birth date',
  number: 'The patient number',
}

/** A stage of a visit in words: "the patient is …". */
export const sayStage = (stage: VisitStage): string => STAGES[stage]

const STATUSES: Record<AppointmentStatus, string> = {
  proposed: 'only proposed',
  pending: 'not accepted yet',
  booked: 'booked',
  arrived: 'here',
  fulfilled: 'done',
  cancelled: 'cancelled',
  noshow: 'marked as not come',
  'entered-in-error': 'entered in error',
  'checked-in': 'in the chair',
  waitlist: 'on the waiting list',
}

/** An appointment's status in words: "the appointment is …". */
export const sayStatus = (status: AppointmentStatus): string => STATUSES[status]

const TASKS: Record<RoomTask, string> = {
  barriers: 'barriers changed',
  'wet-time': 'surfaces wet for their time',
  'water-air': 'water and air flushed',
  suction: 'suction rinsed',
  light: 'light and switches wiped',
}

/** A turnover task in words, as it is when done. */
export const sayRoomTask = (task: RoomTask): string => TASKS[task]

export const listed = (words: readonly string[]): string => {
  const last = words.at(-1) ?? 'nothing'
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} and ${last}`
}

export const teeth = (named: readonly Tooth[]): string => (named.length === 0 ? 'no tooth' : listed(named))

const works = (permitted: readonly PermittedWork[]): string =>
  permitted.length === 0
    ? 'nothing'
    : listed(
        permitted.map(
          ({ kind, teeth: on }) =>
            `${kind === 'undetermined' ? 'undetermined work' : CATALOGUE[kind].name} on ${teeth(on)}`,
        ),
      )

const minutes = (count: number): string => `${count} min`

const addedWords = (added: string | null): string => (added === null ? 'Squeezed in' : `Added ${added}`)

const clash = (what: string) => ({
  says: () => `${what} is booked twice at that time.`,
  desk: () => `${what} is booked twice at that time: move one appointment.`,
})

export const SCHEDULE_SENTENCES = {
  'appointment/vanished': {
    says: () => 'The last import no longer lists this appointment and did not cancel it.',
    desk: () => 'The last import no longer lists this appointment: ask, then keep or cancel it.',
  },
  'appointment/not-accepted': {
    says: ({ added, suggested }) =>
      `${addedWords(added)}, not accepted${suggested === null ? ' by the chair team' : `; the chair team suggests ${suggested}`}.`,
    desk: ({ added, suggested }) =>
      suggested === null
        ? `${addedWords(added)}, not accepted yet by the chair team.`
        : `${addedWords(added)}, not accepted: the chair team suggests ${suggested}. Move it there, or ask them again.`,
  },
  'patient/not-arrived': {
    says: ({ minutes: late }) => `The patient was due ${minutes(late)} ago and is not here.`,
    desk: ({ minutes: late }) =>
      `Due ${minutes(late)} ago, not here: phone the patient, or mark as not come.`,
  },
  'room/clash': clash('This operatory'),
  'dentist/clash': clash('The dentist'),
  'student/clash': clash('The student'),
  'patient/clash': clash('The patient'),
  'dentist/away': {
    says: () => 'The dentist is not here at that time by the roster.',
    desk: () => 'The dentist is not here at that time: move the appointment or name another dentist.',
  },
  'dentist/marked-away': {
    says: () => 'The dentist is away at that time: who treats is to be settled.',
    desk: () => 'The dentist is away: hand the visit over to another dentist, move it or cancel it.',
  },
  'dentist/unnamed': {
    says: () => 'Nobody is named to treat this patient.',
    desk: () => 'Nobody is named to treat this patient: name a dentist.',
  },
  'room/unnamed': {
    says: () => 'No operatory is named for this appointment.',
    desk: () => 'No operatory is named: choose one.',
  },
  'identity/missing': {
    says: () => 'Who this is has not been asked: two identifiers, by open question.',
    desk: null,
  },
  'identity/not-typed': {
    says: ({ why }) =>
      `${why === 'alike' ? 'Another patient of today is alike' : 'An answer did not agree with the record'}: name and birth date must be typed or scanned, not ticked.`,
    desk: null,
  },
  'identity/not-apart': {
    says: ({ hasNumber }) =>
      `Another patient of today has the same name and birth date, so these tell neither from the other. ${hasNumber ? 'Enter or scan the patient number.' : 'No number is on record: compare a photo, or ask who came with them.'}`,
    desk: null,
  },
  'guardian/not-recorded': {
    says: ({ relation }) => `Who came with the patient is not recorded (${relation}).`,
    desk: ({ relation }) => `Record who came with the patient (${relation}).`,
  },
  'guardian/age-unknown': {
    says: () =>
      'The birth date is not known, so neither is whether this is a child: who must come along, permit and take the warning home hangs on it. Ask for the birth date.',
    desk: () => 'Ask for the birth date.',
  },
  'interpreter/not-booked': {
    says: ({ language }) => `No interpreter is booked (${language}).`,
    desk: ({ language }) => `Book an interpreter (${language}).`,
  },
  'interpreter/not-recorded': {
    says: ({ language }) => `Whether an interpreter is here is not recorded (${language}).`,
    desk: ({ language }) => `Record whether the interpreter is here (${language}).`,
  },
  'consent/missing': {
    says: ({ relation }) => `Permission for this work is not recorded (${relation}).`,
    desk: () => 'Hand the permission form.',
  },
  'consent/differs': {
    says: ({ consented, planned }) =>
      consented === null
        ? `What the permission on record covers is not kept; planned is ${works(planned)}.`
        : `Permission is recorded for ${works(consented)}; planned is ${works(planned)}.`,
    desk: () => 'Hand the permission form again.',
  },
  'sedation/no-monitor': {
    says: () => 'Sedation is booked and nobody is named to watch the patient.',
    desk: null,
  },
  'day/running-late': {
    says: ({ minutes: late }) => `Running ${minutes(late)} late.`,
    desk: ({ minutes: late, prompt }) =>
      prompt ? `Running ${minutes(late)} late: tell the patient.` : `Running ${minutes(late)} late.`,
  },
  'identity/differs': {
    says: ({ what }) =>
      `${COMPARED_WORDS[what]} differs from the record: this may be another patient. First find out who it is, then what is to be done.`,
    desk: null,
  },
} satisfies Partial<Sentences<ScheduleFinding>>
