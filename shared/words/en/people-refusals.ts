import type { Sentences } from '../../base/rule.ts'
import type { PeopleFinding } from '../../people/findings.ts'
import { both } from './people.ts'
import { ROLE_WORDS } from './states.ts'

export const PEOPLE_REFUSALS = {
  'person/not-allowed': both(() => 'Your role does not allow this.'),
  'person/unknown': both(() => 'This person is not known here.'),
  'person/inactive': both(({ name }) => `${name} no longer works here.`),
  'person/last-manager': both(
    () => 'This is the last manager: name another first, or nobody can set the clinic up.',
  ),
  'person/cannot-treat': both(
    ({ roles }) =>
      `A person who is ${roles.map((role) => ROLE_WORDS[role]).join(' and ')} does not treat patients.`,
  ),
  'patient/unknown': both(() => 'This patient is not known here.'),
  'patient/no-companion': both(({ needs }) =>
    needs === 'guardian'
      ? 'No guardian is noted for this patient.'
      : 'No interpreter is noted for this patient.',
  ),
  'weight/impossible': both(({ entered }) => `“${entered}” is not a weight a person can have.`),
  'room/unknown': both(() => 'This operatory is not known here.'),
  'room/name-taken': both(({ name }) => `There is an operatory called ${name} already.`),
  'room/retired': both(
    ({ name }) =>
      `Operatory ${name} is retired and takes nobody new. Choose another, or let the manager take it back into use.`,
  ),
  'room/booked-ahead': both(
    ({ name, count }) =>
      `${count === 1 ? '1 appointment is' : `${count} appointments are`} still booked into operatory ${name}. A retired room would leave them without one. Move them first.`,
  ),
  'site/unknown': both(() => 'This site is not known here.'),
  'site/zone-unknown': both(({ zone }) => `“${zone}” is not a time zone: name one like Europe/Dublin.`),
  'clinic/founded-already': both(() => 'This clinic is founded already.'),
} satisfies Partial<Sentences<PeopleFinding>>
