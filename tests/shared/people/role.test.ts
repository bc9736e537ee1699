import { describe, expect, test } from 'vitest'
import {
  audienceOf,
  can,
  PERMISSIONS,
  PERSON_ROLES,
  type Permission,
  ROLES,
  type Role,
  rolesAtStation,
} from '#shared/people/role.ts'

/** Who may do what, as a table to be read: the roles that hold each permission (our own; local law comes first). */
const HOLDERS: Record<Permission, Role[]> = {
  'day:read': [
    'front-desk',
    'assistant',
    'hygienist',
    'dentist',
    'steriliser-lead',
    'instructor',
    'student',
    'manager',
    'station',
  ],
  'clinical:read': [
    'assistant',
    'hygienist',
    'dentist',
    'steriliser-lead',
    'instructor',
    'student',
    'manager',
  ],
  'day:change': ['front-desk', 'dentist', 'manager'],
  'day:import': ['front-desk', 'manager'],
  'patient:identify': ['assistant', 'hygienist', 'dentist', 'instructor', 'student'],
  'patient:chart': ['assistant', 'hygienist', 'dentist', 'instructor', 'student'],
  'patient:allergies': ['front-desk', 'assistant', 'hygienist', 'dentist', 'instructor', 'student'],
  'tray:use': ['assistant', 'hygienist', 'dentist', 'steriliser-lead', 'instructor', 'student'],
  'dam:place': ['assistant', 'hygienist', 'dentist', 'instructor', 'student'],
  'plan:choose': ['dentist', 'instructor'],
  'word:give': ['dentist', 'instructor'],
  'word:stop': [
    'front-desk',
    'assistant',
    'hygienist',
    'dentist',
    'steriliser-lead',
    'instructor',
    'student',
    'manager',
    'station',
  ],
  'needle:use': ['hygienist', 'dentist', 'instructor', 'student'],
  'numbness:record': ['assistant', 'hygienist', 'dentist', 'instructor', 'student'],
  'work:start': ['hygienist', 'dentist', 'instructor', 'student'],
  'sterility:run': ['steriliser-lead', 'manager'],
  'stock:count': ['assistant', 'steriliser-lead', 'manager'],
  'sign-off:give': ['instructor'],
  'clinic:set': ['manager'],
  'clock:move': ['manager'],
  'journal:undo': [
    'front-desk',
    'assistant',
    'hygienist',
    'dentist',
    'steriliser-lead',
    'instructor',
    'student',
    'manager',
  ],
}

describe('permissions', () => {
  test.each(PERMISSIONS)('%s is held by exactly the roles of the table', (permission) => {
    expect(ROLES.filter((role) => can([role], permission)).sort()).toEqual([...HOLDERS[permission]].sort())
  })

  test('two roles hold what either holds, no role holds nothing', () => {
    expect(can(['student', 'manager'], 'clinic:set')).toBe(true)
    expect(PERMISSIONS.some((permission) => can([], permission))).toBe(false)
  })

  test('the desk and people without a role are never sent clinical facts', () => {
    expect(ROLES.filter((role) => audienceOf([role]) !== 'clinical')).toEqual(['front-desk', 'station'])
    expect(audienceOf([])).toBe('desk')
  })

  test('case 86 a shared station shows what a corridor may see, and lets anyone stop, nothing else', () => {
    expect(audienceOf(['station'])).toBe('wall')
    expect(PERMISSIONS.filter((permission) => can(['station'], permission))).toEqual([
      'day:read',
      'word:stop',
    ])
    expect(PERSON_ROLES).not.toContain('station')
  })

  test('case 86 at a shared station nobody sets the clinic up, and what else they are they stay', () => {
    expect(rolesAtStation(['manager', 'dentist'])).toEqual(['dentist'])
    expect(rolesAtStation(['manager'])).toEqual([])
  })
})
