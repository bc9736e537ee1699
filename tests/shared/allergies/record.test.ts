import { expect, it } from 'vitest'
import { addAllergy, raiseAllergy } from '#shared/allergies/record.ts'
import { CLINICAL } from '../../server/imports/fhir-entries.ts'
import { importFile, smallClinic } from '../../server/imports/small-clinic.ts'

const eugenol = {
  substance: 'eugenol',
  certainty: 'suspected',
  severity: 'unknown',
  text: 'oil of cloves',
  code: null,
  recorded: { by: null, at: 0 as never, source: 'front desk' },
} as const

/** From the least grave; HL7 FHIR R4 names the codes (READ), their order is ours: unknown is not low (COMMON). */
const ORDER = [null, 'low', 'unable-to-assess', 'high'] as const

it('of two criticalities the graver stays, whoever says which first: who cannot assess it has not said low', () => {
  for (const [i, one] of ORDER.entries())
    for (const [j, other] of ORDER.entries()) {
      const standing = { ...eugenol, criticality: one }
      const said = { ...eugenol, criticality: other }
      expect(raiseAllergy(standing, said).criticality).toBe(ORDER[Math.max(i, j)])
      expect(addAllergy([standing], said)[0]?.criticality).toBe(ORDER[Math.max(i, j)])
    }
})

it('a file follows the same order', () => {
  const bundle = (criticality: string | null): string =>
    JSON.stringify({
      resourceType: 'Bundle',
      type: 'collection',
      entry: [
        { resource: { resourceType: 'Patient', id: 'p', name: [{ family: 'Yarrow', given: ['Wanda'] }] } },
        {
          resource: {
            resourceType: 'AllergyIntolerance',
            id: 'a',
            patient: { reference: 'Patient/p' },
            code: { text: 'Eugenol' },
            clinicalStatus: { coding: [{ system: CLINICAL, code: 'active' }] },
            ...(criticality ? { criticality } : {}),
          },
        },
      ],
    })
  for (const [i, one] of ORDER.entries())
    for (const [j, other] of ORDER.entries()) {
      const { world } = importFile(importFile(smallClinic(), bundle(one)).world, bundle(other))
      expect(world.allergyRecord[0]?.allergies[0]?.criticality).toBe(ORDER[Math.max(i, j)])
    }
})
