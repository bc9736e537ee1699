/** What a person may do is decided by their roles; who may place a dam or release a load is also a clinic setting. */
export const ROLES = [
  'front-desk',
  'assistant',
  'hygienist',
  'dentist',
  'steriliser-lead',
  'instructor',
  'student',
  'manager',
  'station',
] as const
export type Role = (typeof ROLES)[number]

/** Roles of people. A `station` is no person: a shared device, which anyone may look at and stop from. */
export const PERSON_ROLES = ROLES.filter((role) => role !== 'station')
export const isStation = (roles: readonly Role[]): boolean => roles.includes('station')
/** What a person may be on a shared station: the clinic is not set up by a few digits. */
export const rolesAtStation = (roles: readonly Role[]): Role[] => roles.filter((role) => role !== 'manager')

export const PERMISSIONS = [
  'day:read',
  'clinical:read',
  'day:change',
  'day:import',
  'patient:identify',
  'patient:chart',
  'patient:allergies',
  'tray:use',
  'dam:place',
  'plan:choose',
  'word:give',
  'word:stop',
  'needle:use',
  'numbness:record',
  'work:start',
  'sterility:run',
  'stock:count',
  'sign-off:give',
  'clinic:set',
  'clock:move',
  'journal:undo',
] as const
export type Permission = (typeof PERMISSIONS)[number]

const CHAIRSIDE = [
  'day:read',
  'clinical:read',
  'patient:identify',
  'patient:chart',
  'patient:allergies',
  'numbness:record',
  'word:stop',
  'journal:undo',
] as const
const OF_ROLE: Record<Role, readonly Permission[]> = {
  'front-desk': ['day:read', 'day:change', 'day:import', 'patient:allergies', 'word:stop', 'journal:undo'],
  assistant: [...CHAIRSIDE, 'tray:use', 'dam:place', 'stock:count'],
  hygienist: [...CHAIRSIDE, 'tray:use', 'dam:place', 'needle:use', 'work:start'],
  dentist: [
    ...CHAIRSIDE,
    'day:change',
    'tray:use',
    'dam:place',
    'plan:choose',
    'word:give',
    'needle:use',
    'work:start',
  ],
  'steriliser-lead': [
    'day:read',
    'clinical:read',
    'tray:use',
    'sterility:run',
    'stock:count',
    'word:stop',
    'journal:undo',
  ],
  instructor: [
    ...CHAIRSIDE,
    'tray:use',
    'dam:place',
    'plan:choose',
    'word:give',
    'needle:use',
    'work:start',
    'sign-off:give',
  ],
  student: [...CHAIRSIDE, 'tray:use', 'dam:place', 'needle:use', 'work:start'],
  manager: [
    'day:read',
    'clinical:read',
    'day:change',
    'day:import',
    'sterility:run',
    'stock:count',
    'clinic:set',
    'clock:move',
    'word:stop',
    'journal:undo',
  ],
  station: ['day:read', 'word:stop'],
}

export const can = (roles: readonly Role[], permission: Permission): boolean =>
  roles.some((role) => OF_ROLE[role].includes(permission))

/** What a screen may hold. A screen that may not hold an allergy is sent judged lines, never facts. */
export const AUDIENCES = ['clinical', 'desk', 'wall'] as const
export type Audience = (typeof AUDIENCES)[number]
export function audienceOf(roles: readonly Role[]): Audience {
  if (can(roles, 'clinical:read')) return 'clinical'
  return isStation(roles) ? 'wall' : 'desk'
}
