import { expect, test } from 'vitest'
import { DEFAULT_ISOLATION_POLICY } from '#shared/isolation/policy.ts'
import { DEFAULT_POLICY_SET } from '#shared/people/default-policy.ts'

test('a clinic begins with the picks that isolation itself falls back on', () => {
  expect(DEFAULT_POLICY_SET.isolation).toEqual(DEFAULT_ISOLATION_POLICY)
})
