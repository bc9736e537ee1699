import { expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { does, inChair, shutting } from '../readiness/chair.ts'
import { ASSISTANT } from '../readiness/scene.ts'

// A reaction at a visit is never lost on the next (common practice: the dentist is told of what nobody can place).
test('[allergy/reaction-unread] what it was to is asked before the next needle, until allergies are asked anew', () => {
  const world = inChair()
  const patientId = must(world.patient[0], 'one patient').id
  const by = { by: ASSISTANT, minute: -7 }
  const noted = does(
    world,
    'reaction.record',
    { patientId, text: 'face swelled after she was numbed', severity: 'severe' },
    by,
  )
  expect(shutting(noted, 'seat')).not.toContain('allergy/reaction-unread')
  expect(shutting(noted, 'inject')).toContain('allergy/reaction-unread')
  const asked = { patientId, state: 'asked-unknown', latex: 'none-known' }
  expect(
    shutting(does(noted, 'allergies.record', asked, { by: ASSISTANT, minute: -6 }), 'inject'),
  ).not.toContain('allergy/reaction-unread')
})

test('a reaction whose words deny one asks nothing', () => {
  const world = inChair()
  const patientId = must(world.patient[0], 'one patient').id
  const noted = does(
    world,
    'reaction.record',
    { patientId, text: 'no reaction to latex' },
    { by: ASSISTANT, minute: -7 },
  )
  expect(shutting(noted, 'inject')).not.toContain('allergy/reaction-unread')
})
