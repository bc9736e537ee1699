import type { Role } from '#shared/people/role.ts'

/** Everybody here is invented; one tap signs in as whoever is touched, and this is their common password. */
export const INVENTED_PASSWORD = 'everyone here is invented'

/** And these the digits by which each of them takes over a shared station. */
export const INVENTED_PIN = '4321'

export interface InventedPerson {
  name: string
  /** As on the board. */
  shortName: string
  roles: Role[]
  releasesLoads?: true
}

export const PEOPLE = {
  vasarely: { name: 'Ingrid Vasarely', shortName: 'I. Vasarely', roles: ['manager'] },
  kallas: { name: 'Noor Kallas', shortName: 'N. Kallas', roles: ['front-desk'] },
  whelan: { name: 'Tomas Whelan', shortName: 'T. Whelan', roles: ['front-desk'] },
  corrigan: { name: 'Dr Maeve Corrigan', shortName: 'Dr Corrigan', roles: ['dentist'] },
  feher: { name: 'Dr Ilan Feher', shortName: 'Dr Feher', roles: ['dentist'] },
  nambiar: { name: 'Dr Priya Nambiar', shortName: 'Dr Nambiar', roles: ['dentist'] },
  brandt: { name: 'Prof. Aldo Brandt', shortName: 'Prof. Brandt', roles: ['instructor', 'dentist'] },
  wolters: { name: 'Sanne Wolters', shortName: 'S. Wolters', roles: ['hygienist'] },
  larbi: { name: 'Kofi Larbi', shortName: 'K. Larbi', roles: ['student'] },
  tornqvist: { name: 'Bea Tornqvist', shortName: 'B. Tornqvist', roles: ['assistant'] },
  saleh: { name: 'Hamid Saleh', shortName: 'H. Saleh', roles: ['assistant'] },
  petrescu: { name: 'Jo Petrescu', shortName: 'J. Petrescu', roles: ['assistant'] },
  amaral: { name: 'Lucia Amaral', shortName: 'L. Amaral', roles: ['assistant'] },
  zielak: { name: 'Wiktor Zielak', shortName: 'W. Zielak', roles: ['steriliser-lead'], releasesLoads: true },
} as const satisfies Record<string, InventedPerson>
export type PersonKey = keyof typeof PEOPLE
export const PERSON_KEYS = Object.keys(PEOPLE) as PersonKey[]

/** Who founds the invented clinic; everybody else is added by them. */
export const FOUNDER: PersonKey = 'vasarely'

/** A name to sign in with. Nothing is ever sent to it: the domain is reserved and leads nowhere. */
export const emailOf = (key: PersonKey): string => `${key}@weirboard.invalid`
