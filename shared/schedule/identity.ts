import type { Day } from '../base/moment.ts'
import { plainName } from '../people/names.ts'
import type { Patient } from '../people/patient.ts'
import { COMPARED, type Compared, type Identity, type Visit, type Who } from './appointment.ts'
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

/** Whether another patient of the day may be taken for this one, and whether name and birth day even fit both. */
export const LIKENESSES = ['none', 'alike', 'same'] as const
export type Likeness = (typeof LIKENESSES)[number]

/** A birth day that is not on record may be the other's. */
export function likenessOf(patient: Patient | null, alerts: readonly { other: Patient }[]): Likeness {
  if (alerts.length === 0) return 'none'
  const isSame = ({ other }: { other: Patient }): boolean =>
    patient !== null &&
    isNamed(other, `${patient.given} ${patient.family}`) &&
    (patient.born === null || other.born === null || patient.born === other.born)
  return alerts.some(isSame) ? 'same' : 'alike'
}

/**
 * Whether an identity tells this patient from one of the same name and birth day: by number or scanned code. Where no
 * number is on record, by a photo or by whoever came with them.
 */
export const tellsApart = (
  { how, identifiers }: Pick<Identity, 'how' | 'identifiers'>,
  patient: Patient | null,
): boolean =>
  how === 'scanned' ||
  identifiers.includes('patient-number') ||
  (patient?.identifiers.length === 0 && (identifiers.includes('photo') || identifiers.includes('carer')))

export interface Answered {
  identifiers: Identity['identifiers']
  how: Identity['how']
  said: Said
}

/**
 * What is wrong with the answers: one that differs from the record, else one that was only ticked. At least one answer
 * is always shown and compared: where no birth day is on record the number, or the name as it is typed.
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
      return said.born !== null && patient.born !== null && said.born !== patient.born
    case 'number':
      return said.number !== null && !hasNumber(patient, said.number)
  }
}

/**
 * What of a record became another's: names that sound otherwise, or a birth day in the place of another. A birth day
 * that is entered for the first time makes nobody else of a person.
 */
export function becameAnother(before: Who, after: Who): Compared[] {
  const isRenamed = !isNamed(after, `${before.given} ${before.family}`)
  const isReborn = before.born !== null && before.born !== after.born
  return [...(isRenamed ? (['name'] as const) : []), ...(isReborn ? (['birth-day'] as const) : [])]
}

/** Both names in either order, as they sound. */
export const isNamed = ({ given, family }: Who, said: string): boolean =>
  [`${given}${family}`, `${family}${given}`].map(plainName).includes(plainName(said))

const hasNumber = ({ identifiers }: Patient, said: string): boolean =>
  identifiers.some(({ value }) => value.trim().toLowerCase() === said.trim().toLowerCase())

/** What had to be shown and was not. */
function notShown(patient: Patient, { identifiers, how, said }: Answered): Compared[] {
  const isBornKnown = patient.born !== null
  const isBornMissing = isBornKnown && said.born === null
  const isNumberMissing = said.number === null
  const isNothingShown = !isBornKnown && isNumberMissing && said.name === null
  const needs: Record<Compared, boolean> = {
    name: said.name === null && (how === 'typed' || (isNothingShown && patient.identifiers.length === 0)),
    'birth-day':
      isBornMissing && (identifiers.includes('birth-day') || (how !== 'scanned' && isNumberMissing)),
    number:
      isNumberMissing &&
      (how === 'scanned' ||
        identifiers.includes('patient-number') ||
        (isNothingShown && patient.identifiers.length > 0)),
  }
  return COMPARED.filter((each) => needs[each])
}
