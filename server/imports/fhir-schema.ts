import { z } from 'zod'

/**
 * HL7 FHIR R4 (4.0.1), narrow: only what is read here, plus the names R5 gives the same elements. Unknown elements
 * are let through unread; an unknown modifierExtension refuses the resource, as the standard demands.
 */
const coding = z.object({
  system: z.string().optional(),
  code: z.string().optional(),
  display: z.string().optional(),
})
const concept = z.object({ coding: z.array(coding).optional(), text: z.string().optional() })
const reference = z.object({ reference: z.string().optional(), display: z.string().optional() })
/** R5 CodeableReference, or the plain concept that stood there in R4. */
const conceptOrReference = concept.extend({ concept: concept.optional(), reference: reference.optional() })
const identifier = z.object({ system: z.string().optional(), value: z.string().optional() })
const extension = z.object({ url: z.string(), valueReference: reference.optional() })
const name = z.object({
  use: z.string().optional(),
  text: z.string().optional(),
  family: z.string().optional(),
  given: z.array(z.string()).optional(),
})

const base = {
  id: z.string().optional(),
  meta: z.object({ lastUpdated: z.string().optional() }).optional(),
  identifier: z.array(identifier).optional(),
  extension: z.array(extension).optional(),
  contained: z.array(z.unknown()).optional(),
  modifierExtension: z.array(z.unknown()).max(0).optional(),
}

export const PATIENT = z.object({
  ...base,
  resourceType: z.literal('Patient'),
  name: z.array(name).optional(),
  birthDate: z.string().optional(),
})
export const PRACTITIONER = z.object({
  ...base,
  resourceType: z.literal('Practitioner'),
  name: z.array(name).optional(),
})
export const PRACTITIONER_ROLE = z.object({
  ...base,
  resourceType: z.literal('PractitionerRole'),
  practitioner: reference.optional(),
})
export const LOCATION = z.object({
  ...base,
  resourceType: z.literal('Location'),
  name: z.string().optional(),
})
export const BODY_STRUCTURE = z.object({
  ...base,
  resourceType: z.literal('BodyStructure'),
  location: concept.optional(),
  locationQualifier: z.array(concept).optional(),
  includedStructure: z.array(z.object({ structure: concept })).optional(),
})
export const APPOINTMENT = z.object({
  ...base,
  resourceType: z.literal('Appointment'),
  status: z.enum([
    'proposed',
    'pending',
    'booked',
    'arrived',
    'fulfilled',
    'cancelled',
    'noshow',
    'entered-in-error',
    'checked-in',
    'waitlist',
  ]),
  description: z.string().optional(),
  comment: z.string().optional(),
  note: z.array(z.object({ text: z.string() })).optional(),
  start: z.string().optional(),
  end: z.string().optional(),
  minutesDuration: z.number().int().positive().optional(),
  serviceType: z.array(conceptOrReference).optional(),
  reasonCode: z.array(concept).optional(),
  reasonReference: z.array(reference).optional(),
  reason: z.array(conceptOrReference).optional(),
  basedOn: z.array(reference).optional(),
  supportingInformation: z.array(reference).optional(),
  subject: reference.optional(),
  participant: z
    .array(
      z.object({
        type: z.array(concept).optional(),
        actor: reference.optional(),
        status: z.string().optional(),
      }),
    )
    .min(1),
})
const request = {
  ...base,
  status: z.string(),
  code: conceptOrReference.optional(),
  subject: reference.optional(),
  bodySite: z.array(concept).optional(),
  bodyStructure: reference.optional(),
  note: z.array(z.object({ text: z.string() })).optional(),
}
export const SERVICE_REQUEST = z.object({ ...request, resourceType: z.literal('ServiceRequest') })
export const PROCEDURE = z.object({
  ...request,
  resourceType: z.literal('Procedure'),
  basedOn: z.array(reference).optional(),
})
export const ALLERGY = z.object({
  ...base,
  resourceType: z.literal('AllergyIntolerance'),
  clinicalStatus: concept.optional(),
  verificationStatus: concept.optional(),
  criticality: z.string().optional(),
  code: concept.optional(),
  patient: reference,
  recordedDate: z.string().optional(),
  note: z.array(z.object({ text: z.string() })).optional(),
  reaction: z
    .array(z.object({ severity: z.string().optional(), description: z.string().optional() }))
    .optional(),
})

/** Kinds that are read; every other kind is passed over and told. */
export const SCHEMAS = {
  Patient: PATIENT,
  Practitioner: PRACTITIONER,
  PractitionerRole: PRACTITIONER_ROLE,
  Location: LOCATION,
  BodyStructure: BODY_STRUCTURE,
  Appointment: APPOINTMENT,
  ServiceRequest: SERVICE_REQUEST,
  Procedure: PROCEDURE,
  AllergyIntolerance: ALLERGY,
}
export type KnownType = keyof typeof SCHEMAS
export type Resource = { [Type in KnownType]: z.infer<(typeof SCHEMAS)[Type]> }[KnownType]
export type ResourceOf<Type extends KnownType> = Extract<Resource, { resourceType: Type }>
export const isKnownType = (text: string): text is KnownType => Object.hasOwn(SCHEMAS, text)

export type Concept = z.infer<typeof concept>
export type ConceptOrReference = z.infer<typeof conceptOrReference>
export type Reference = z.infer<typeof reference>
export type Name = z.infer<typeof name>

export const BUNDLE = z.object({
  resourceType: z.literal('Bundle'),
  type: z.string().optional(),
  entry: z.array(z.object({ fullUrl: z.string().optional(), resource: z.unknown().optional() })).optional(),
})
