/** What a column of a day list can hold, as it is said to whoever maps it. */
export const FIELD_WORDS = {
  id: 'appointment’s own number',
  ownId: 'our own number',
  ownMark: 'our own mark',
  sequence: 'version',
  changed: 'when it was changed',
  status: 'status',
  start: 'day and time in one',
  day: 'day',
  time: 'time',
  endTime: 'end',
  minutes: 'length in minutes',
  operatory: 'operatory',
  dentist: 'dentist',
  patient: 'patient’s whole name',
  given: 'given name',
  family: 'family name',
  born: 'birth date',
  patientNumber: 'patient’s number',
  work: 'what for',
  tooth: 'tooth',
  surfaces: 'surfaces',
  allergies: 'allergies',
  allergiesAsked: 'when asked about allergies',
  note: 'note',
  ignore: 'not needed',
} as const
export type FieldName = keyof typeof FIELD_WORDS
/** No field: its cells are kept in the note, so that nothing is lost. */
export const KEPT_IN_NOTE = 'kept in the note'

export const isFieldName = (text: string): text is FieldName => Object.hasOwn(FIELD_WORDS, text)
