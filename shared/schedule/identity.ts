import type { Day } from '../base/moment.ts'
import { plainName } from '../people/names.ts'
import type { Patient } from '../people/patient.ts'
import { COMPARED, type Compared, type Identity, type Visit } from './appointment.ts'
import type { ScheduleFinding } from './findings.ts'

/** What the patient answered, as it was picked among decoys, typed or scanned; null: not asked for. */
export interface Said {
  name: string | null
  born: Day | null
  number: string | null
}
export const NOTHING_SAID: Said = { name: null, born: null, number: null }

/** Whether a touch is not enough: another patient of the day is alike, or an answer differed earlier in this visit. */
export const mustBeTyped = (visit: Visit | null, nameAlert: boolean): boolean =>
  nameAlert || visit?.identityDiffered != null

export interface Answered {
  identifiers: Identity['identifiers']
  how: Identity['how']
  said: Said
}

/**
 * What is wrong with the answers: one that differs from the record, else one that was only ticked. Where nothing is on
 * record to compare with, the two identifiers stand as they were told.
 */
export function judgeAnswers(patient: Patient, answered: Answered, about: string): ScheduleFinding[] {
  const differs = COMPARED.filter((each) => isOther(each, patient, answered.said))
  if (differs.length > 0)
    return differs.map((what) => ({ rule: 'identity/differs', level: 'stop', about, what }))
  return notShown(patient, answered).map((what) => ({
    rule: 'identity/not-shown',
    level: 'stop',
    about,
    what,
  }))
}

function isOther(what: Compared, patient: Patient, said: Said): boolean {
  switch (what) {
    case 'name':
      return said.name !== null && !isNamed(patient, said.name)
    case 'birth-day':
      return said.born !== null && said.born !== patient.born
    case 'number':
      return said.number !== null && !hasNumber(patient, said.number)
  }
}

/** Both names in either order, as they sound. */
export const isNamed = ({ given, family }: Patient, said: string): boolean =>
  [`${given}${family}`, `${family}${given}`].map(plainName).includes(plainName(said))

const hasNumber = ({ identifiers }: Patient, said: string): boolean =>
  identifiers.some(({ value }) => value.trim().toLowerCase() === said.trim().toLowerCase())

/** What had to be shown and was not. */
function notShown(patient: Patient, { identifiers, how, said }: Answered): Compared[] {
  const isBornKnown = patient.born !== null
  const isBornMissing = isBornKnown && said.born === null
  const isNumberMissing = said.number === null
  const needs: Record<Compared, boolean> = {
    name: how === 'typed' && said.name === null,
    'birth-day':
      isBornMissing && (identifiers.includes('birth-day') || (how !== 'scanned' && isNumberMissing)),
    number: isNumberMissing && (how === 'scanned' || identifiers.includes('patient-number')),
  }
  return COMPARED.filter((each) => needs[each])
}
