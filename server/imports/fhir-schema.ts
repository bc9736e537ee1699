import { z } from 'zod'
import { APPOINTMENT_STATUSES } from '#shared/schedule/appointment.ts'

/**
 * HL7 FHIR R4 (4.0.1), narrow: only what is read here, plus the names R5 gives the same elements. Unknown elements
 * are let through unread; what modifies the meaning of the whole refuses it, as the standard demands.
 */
const coding = z.object({
  system: z.string().optional(),
  code: z.string().optional(),
  display: z.string().optional(),
})
const concept = z.object({ coding: z.array(coding).optional(), text: z.string().optional() })
const identifier = z.object({
  use: z.string().optional(),
  system: z.string().optional(),
  value: z.string().optional(),
})
const reference = z.object({
  reference: z.string().optional(),
  type: z.string().optional(),
  identifier: identifier.optional(),
  display: z.string().optional(),
})
/** R5 CodeableReference, or the plain concept that stood there in R4. */
const conceptOrReference = concept.extend({ concept: concept.optional(), reference: reference.optional() })
const extension = z.object({ url: z.string(), valueReference: reference.optional() })
const name = z.object({
  use: z.string().optional(),
  text: z.string().optional(),
  family: z.string().optional(),
  given: z.array(z.string()).optional(),
})

/** How the message of an issue begins where the resource is as the standard says, and yet means something else. */
export const MODIFIED = 'modified: '
/** An element that R4 marks `isModifier` (READ in HL7's definitions), under which a resource cannot be taken as it stands. */
const modifier = (isPlain: (value: unknown) => boolean, what: string) =>
  z
    .unknown()
    .refine((value) => value === undefined || isPlain(value), MODIFIED + what)
    .optional()
const never = (): boolean => false
const modifierExtension = modifier(
  (value) => Array.isArray(value) && value.length === 0,
  'carries a modifier extension that is not known here',
)
const implicitRules = modifier(never, 'is written under rules of its own that are not known here')
const active = modifier((value) => value === true, 'is no longer in use')

const base = {
  id: z.string().optional(),
  meta: z
    .object({
      lastUpdated: z.string().optional(),
      versionId: z.string().optional(),
      tag: z.array(coding).optional(),
    })
    .optional(),
  implicitRules,
  identifier: z.array(identifier).optional(),
  extension: z.array(extension).optional(),
  contained: z.array(z.unknown()).optional(),
  modifierExtension,
}

export const PATIENT = z.object({
  ...base,
  resourceType: z.literal('Patient'),
  active,
  deceasedBoolean: modifier((value) => value === false, 'is of somebody recorded as having died'),
  deceasedDateTime: modifier(never, 'is of somebody recorded as having died'),
  link: z
    .array(
      z.object({
        type: modifier((value) => value !== 'replaced-by', 'has been replaced by another record'),
        modifierExtension,
      }),
    )
    .optional(),
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
  status: modifier((value) => value === 'active', 'is not in use'),
  name: z.string().optional(),
})
export const BODY_STRUCTURE = z.object({
  ...base,
  resourceType: z.literal('BodyStructure'),
  active,
  location: concept.optional(),
  locationQualifier: z.array(concept).optional(),
  includedStructure: z.array(z.object({ structure: concept, modifierExtension })).optional(),
})
export const APPOINTMENT = z.object({
  ...base,
  resourceType: z.literal('Appointment'),
  status: z.enum(APPOINTMENT_STATUSES),
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
        modifierExtension,
      }),
    )
    .min(1),
})
const request = {
  ...base,
  code: conceptOrReference.optional(),
  subject: reference.optional(),
  bodySite: z.array(concept).optional(),
  bodyStructure: reference.optional(),
  note: z.array(z.object({ text: z.string() })).optional(),
}
/** Work that is over or will not be done, by HL7's request and event statuses. */
const ENDED: readonly unknown[] = [
  'revoked',
  'completed',
  'entered-in-error',
  'unknown',
  'not-done',
  'stopped',
]
export const isEnded = (status: string | undefined): boolean => ENDED.includes(status)

/** HL7 request-intent without those that ask nothing of anybody yet: proposal, option, directive. */
const INTENDED: readonly unknown[] = [
  'plan',
  'order',
  'original-order',
  'reflex-order',
  'filler-order',
  'instance-order',
]
export const SERVICE_REQUEST = z.object({
  ...request,
  resourceType: z.literal('ServiceRequest'),
  status: z.enum(['draft', 'active', 'on-hold', 'revoked', 'completed', 'entered-in-error', 'unknown']),
  intent: z
    .unknown()
    .refine((value) => INTENDED.includes(value), `${MODIFIED}does not say that it is planned or ordered`),
  doNotPerform: modifier((value) => value === false, 'says that the work must not be done'),
})
export const PROCEDURE = z.object({
  ...request,
  resourceType: z.literal('Procedure'),
  status: z.enum([
    'preparation',
    'in-progress',
    'not-done',
    'on-hold',
    'stopped',
    'completed',
    'entered-in-error',
    'unknown',
  ]),
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
    .array(
      z.object({
        substance: concept.optional(),
        severity: z.string().optional(),
        description: z.string().optional(),
        modifierExtension,
      }),
    )
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
/** Which one a resource is, as far as that can be read. */
export const WHICH = z.object({
  id: z.string().optional().catch(undefined),
  identifier: z.array(identifier).optional().catch(undefined),
})

export const isKnownType = (text: string): text is KnownType => Object.hasOwn(SCHEMAS, text)

export type Concept = z.infer<typeof concept>
export type ConceptOrReference = z.infer<typeof conceptOrReference>
export type Reference = z.infer<typeof reference>
export type Name = z.infer<typeof name>

export const BUNDLE = z.object({
  resourceType: z.literal('Bundle'),
  implicitRules,
  type: z.string().optional(),
  /** Of a searchset: how many match in all, which may be more than this page holds. */
  total: z.number().optional(),
  link: z.array(z.object({ relation: z.string().optional() })).optional(),
  entry: z
    .array(
      z.looseObject({
        fullUrl: z.string().optional(),
        resource: z.unknown().optional(),
        request: z.object({ method: z.string().optional(), url: z.string().optional() }).optional(),
        search: z.object({ mode: z.string().optional() }).optional(),
        modifierExtension: z.array(z.unknown()).optional(),
      }),
    )
    .optional(),
})
export type Bundle = z.infer<typeof BUNDLE>
export type BundleEntry = NonNullable<Bundle['entry']>[number]
