import type { Zone } from '../base/moment.ts'
import type { NoPatient } from './import-people.ts'
import type { IncomingAppointment, IncomingProblem } from './incoming.ts'
import type { UnderWay } from './under-way.ts'

export type Three = [what: string, why: string, todo: string]
export const rowProblem = (incoming: IncomingAppointment, field: string, parts: Three): IncomingProblem => ({
  line: incoming.line,
  field,
  text: parts.join(' '),
  original: sayRow(incoming),
  ...(incoming.externalId === null ? {} : { externalId: incoming.externalId }),
})
/** A row whose text is not at hand any more, in a line that a person can act on. */
export const sayRow = ({
  patient,
  day,
  startsAt,
  operatory,
  work,
  note,
  externalId,
}: Pick<
  IncomingAppointment,
  'patient' | 'day' | 'startsAt' | 'operatory' | 'work' | 'note' | 'externalId'
>): string =>
  [
    externalId,
    day,
    startsAt,
    operatory,
    patient && `${patient.family}, ${patient.given} ${patient.born ?? ''}`,
    ...(work ?? []).map(({ text }) => text),
    note,
  ]
    .filter((part) => part)
    .join(' · ')

/** A message that ends what is not known: with its version, since a later one is another message. */
export const sayEnding = (incoming: IncomingAppointment): string =>
  [
    sayRow(incoming),
    incoming.status,
    ...(incoming.sequence === null ? [] : [`version ${incoming.sequence}`]),
    ...(incoming.stamp === null ? [] : [new Date(incoming.stamp).toISOString()]),
  ].join(' · ')

/** It is kept as it came, so that a booking which comes late is known as late. */
export const ENDS_UNKNOWN: Three = [
  'This calls off an appointment that is not known here.',
  'If it was booked here by hand, its patient is still expected.',
  'See whether it stands here and cancel it by hand; else put this row aside with a note.',
]

export const NO_PATIENT: Record<NoPatient | 'nobody', Three> = {
  unnamed: [
    'The patient is named by a number that is not known here.',
    'Whose appointment it is cannot be told.',
    'Bring a file that holds the patient too, or book it by hand.',
  ],
  nobody: [
    'The line does not say which patient is meant.',
    'Nobody can be expected, and no allergy can be looked up.',
    'Settle it by hand with the patient from your own system.',
  ],
  several: [
    'More than one patient of this name fits.',
    'The wrong one would bring the wrong allergies.',
    'Compare number and birth date, and book it by hand for the right one.',
  ],
  'birth-date-differs': [
    'The patient number is known here with another birth date.',
    'One of the two is wrong, and they may be different people.',
    'Ask the patient for the birth date and mend it where it is wrong.',
  ],
  'birth-date-ahead': [
    'The birth date is after the visit, or still to come.',
    'A wrong date puts the wrong patient in the chair.',
    'Ask for the birth date and mend it in the list, or book it by hand.',
  ],
  'birth-date-missing': [
    'A patient of this name is known, but without a birth date on both sides they cannot be told apart.',
    'The wrong one would bring the wrong allergies.',
    'Add the birth date or number to the list, or book it by hand.',
  ],
}

/** What the source asks of somebody who cannot be sent away by a list. Whoever reads it may not know why. */
export const UNDER_WAY: Record<UnderWay, Three> = {
  'in-chair': [
    'The source moves or cancels an appointment whose patient is in the chair.',
    'A list cannot end what is under way.',
    'See who is in the chair, then finish, interrupt or cancel the visit here.',
  ],
  called: [
    'The source moves or cancels an appointment for which a stop or help is called.',
    'Until that is closed nobody is sent away, nor called elsewhere by a list.',
    'Wait until it is closed, then ask the chair team and move or cancel the visit here.',
  ],
  begun: [
    'The source moves or cancels an appointment on which work has begun; its patient is out of the chair.',
    'Sent away by a list, the patient would go home with what was begun.',
    'Ask the chair team whether it goes on today, then move or cancel the visit here.',
  ],
  left: [
    'The source moves or cancels an appointment whose patient has been here and has left.',
    'What was done stays on record, and a list cannot say that it was not.',
    'Find out who was here, mend the list, and put this row aside with a note.',
  ],
}

/** An export of ours that comes home changed, when the visit was changed here too. */
export const CHANGED_TWICE: Three = [
  'This appointment was changed here after the list was exported, and the row was changed as well.',
  'Taken as it stands, the row could book again what was cancelled here, or undo a move.',
  'See the appointment here, make by hand what still holds of the row, and put it aside with a note.',
]
export const UNMARKED: Three = [
  'This row carries our own number, and not the mark with which it was exported.',
  'Whether it is older than what is known here cannot be told: it could book again what was cancelled.',
  'Export the list again and leave the mark in it, or make the change by hand.',
]

/** An id under which a source now gives somebody else on another day. */
export const RENUMBERED: Three = [
  'The source gave this id to another patient on another day before.',
  'Taken as it stands, the visit that is known would become somebody else’s.',
  'See in your own system whether its ids last; then book or change this appointment by hand.',
]

/** RFC 5546 section 2.1.5 (READ): which of two messages holds is told by their sequence, then by their stamp. */
export const SAME_VERSION: Three = [
  'The source says something else of this appointment than before, in the same version.',
  'Which of the two holds cannot be told, and the wrong one would move a patient.',
  'Find out in the system it comes from, and change the appointment by hand.',
]

export const noSuchTime = ({ day, startsAt }: IncomingAppointment, zone: Zone): Three => [
  `On ${day} the clocks of ${zone}, where this operatory is, jump over ${startsAt}.`,
  'There is no such time, so when the patient is due cannot be told.',
  'Ask which time is meant and mend it.',
]

/** The fields of rows that were taken, but for what a name means. */
export const NAME_FIELDS: ReadonlySet<string> = new Set(['operatory', 'dentist'])

export const noOperatory = (name: string): Three => [
  `"${name}" is no operatory of this clinic.`,
  'The appointment is taken, but without a place it stands in no lane.',
  'Say which operatory this name means, or give it one by hand.',
]
export const noDentist = (name: string): Three => [
  `"${name}" is nobody who works here.`,
  'The appointment is taken, but nobody can give the word on its plan.',
  'Say whom this name means, or name the dentist by hand.',
]
