import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { allergy, bundleOf, coded, type Entry, patient, SNOMED } from '../../server/imports/fhir-entries.ts'
import { effect, importFile, smallClinic } from '../../server/imports/small-clinic.ts'

const told = (entries: Entry[], world = smallClinic()) => importFile(world, JSON.stringify(bundleOf(entries)))
const recordOf = (...entries: Entry[]) =>
  must(told([patient(), ...entries]).world.allergyRecord[0], 'a record of what was told')
const listed = (...entries: Entry[]) =>
  recordOf(...entries).allergies.map(({ substance, certainty }) => `${substance} ${certainty}`)

describe('an allergy whose words name two substances', () => {
  it('lists each: the one it stands for as it is, the other suspected until somebody looks', () => {
    expect(listed(allergy({ code: { text: 'Allergy to penicillin and latex' } }))).toEqual([
      'latex confirmed',
      'penicillins suspected',
    ])
    const code = { coding: [coded(SNOMED, '91936005', 'Allergy to penicillin')], text: 'Penicillin, latex' }
    const record = recordOf(allergy({ code }))
    expect(record.allergies.map(({ substance }) => substance).sort()).toEqual(['latex', 'penicillins'])
    expect(['suspected', 'confirmed']).toContain(record.latex)
  })
  it('lists one where the other is denied, only hinted at, or the same', () => {
    expect(listed(allergy({ code: { text: 'Penicillin allergy, no latex allergy' } }))).toHaveLength(1)
    expect(listed(allergy({ code: { text: 'plaster rash' } }))).toHaveLength(1)
    expect(listed(allergy({ code: { text: 'latex (rubber gloves)' } }))).toHaveLength(1)
  })
  it('says nothing new when it comes again, and nothing of today where it is past or refuted', () => {
    const entry = allergy({ code: { text: 'Allergy to penicillin and latex' } })
    const { world } = told([patient(), entry])
    expect(effect(told([patient(), entry], world))).toEqual([])
    const both = [entry, allergy({ id: 'x2', code: { text: 'Allergy to penicillin and latex' } })]
    expect(effect(told([patient(), ...both], world))).toEqual([])
    const past = {
      coding: [coded('http://terminology.hl7.org/CodeSystem/allergyintolerance-clinical', 'resolved')],
    }
    expect(listed(allergy({ code: { text: 'Penicillin and latex' }, clinicalStatus: past }))).toHaveLength(1)
  })
})
