import { describe, expect, it } from 'vitest'
import {
  actor,
  allergy,
  appointment,
  coded,
  imported,
  type Json,
  patient,
  read,
  request,
} from './fhir-entries.ts'

/** What HL7 FHIR R4 (4.0.1) says of each element, READ in its own definitions. */

describe('where and who', () => {
  it('two places are asked about, the same place twice is one', () => {
    const places = (...names: string[]) =>
      read([
        patient(),
        appointment({
          participant: [actor('Patient/p1'), ...names.map((name) => actor(`Location/${name}`))],
        }),
      ])
    expect(places('l1', 'l2').problems).toMatchObject([{ line: 2, field: 'participant' }])
    expect(places('l1', 'l2').appointments).toEqual([])
    expect(places('l1', 'l1').appointments).toHaveLength(1)
  })

  it('a given name alone is a given name, whatever is displayed', () => {
    const named = (name: Json) =>
      read([
        patient({ name: [name] }),
        appointment({ participant: [actor('Patient/p1', { display: 'Solo' })] }),
      ]).appointments[0]?.patient
    expect(named({ given: ['Solo'] })).toMatchObject({ given: 'Solo', family: '' })
    expect(named({ given: ['Solo'], text: 'Solo' })).toMatchObject({ given: 'Solo', family: '' })
    expect(named({ given: ['Aoife'], text: 'Aoife Ashgrove' })).toMatchObject({
      given: 'Aoife',
      family: 'Ashgrove',
    })
    expect(named({ family: 'Ashgrove', text: 'Aoife Ashgrove' })).toMatchObject({
      given: 'Aoife',
      family: 'Ashgrove',
    })
  })
})

describe('a word of the language is no code', () => {
  it.each(['constructor', '__proto__', 'toString', 'hasOwnProperty'])('%s', (word) => {
    const { appointments, problems } = read([
      patient({ identifier: [{ system: word, value: word }] }),
      request({ bodySite: [{ coding: [coded(word, word, '36')] }], id: word }),
      appointment({ basedOn: [{ reference: `ServiceRequest/${word}` }], id: word }),
      allergy({ code: { coding: [coded(word, word)] }, recordedDate: '2026-11-20T09:00:00Z' }),
      { resourceType: word },
    ])
    expect(problems).toEqual([])
    expect(appointments[0]?.work).toMatchObject([{ text: 'Root canal 36 36', teeth: [] }])
    const denied = imported(patient(), allergy({ code: { coding: [coded(word, word)] } })).world
    expect(denied.allergyRecord[0]).toMatchObject({ state: 'listed' })
  })
})
