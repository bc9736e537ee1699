import { describe, expect, test } from 'vitest'
import { planFor } from '#shared/isolation/plan-for.ts'
import { scene, VISITED, work } from '#tests/shared/readiness/scene.ts'

describe('the plan of an appointment', () => {
  test('is null where the world does not hold it', () => {
    expect(planFor({ ...scene(), appointment: [] }, VISITED)).toBeNull()
  })
  test('is undetermined where no work is booked, and not needed where none of it calls for isolation', () => {
    expect(planFor({ ...scene(), work: [] }, VISITED)?.state).toBe('undetermined')
    expect(planFor({ ...scene(), work: [work({ kind: 'exam', teeth: [] })] }, VISITED)?.state).toBe(
      'not-needed',
    )
  })
  test('takes a non-latex sheet where nothing is recorded of latex', () => {
    expect(planFor({ ...scene(), allergyRecord: [] }, VISITED)?.sheetMaterial).toBe('non-latex')
  })
})
