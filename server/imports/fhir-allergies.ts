import { type Day, dayOf, type Instant, parseDay, type Zone } from '#shared/base/moment.ts'
import { CONCEPT_KIND, namedBy, tellingCode } from '#shared/schedule/import-allergies.ts'
import type { IncomingAllergy } from '#shared/schedule/incoming.ts'
import type { FhirFile } from './fhir-appointment.ts'
import { patientOf } from './fhir-people.ts'
import type { Concept, ResourceOf } from './fhir-schema.ts'
import { askedOn, parseStamp } from './moments.ts'

const CLINICAL = 'http://terminology.hl7.org/CodeSystem/allergyintolerance-clinical'
const VERIFICATION = 'http://terminology.hl7.org/CodeSystem/allergyintolerance-verification'

/** The one code of a status that is of its own system and known; without one, or with two, it has to be looked at. */
function statusOf<const Codes extends readonly string[]>(
  concept: Concept | undefined,
  system: string,
  codes: Codes,
): Codes[number] | null {
  const said = new Set(
    (concept?.coding ?? []).flatMap((each) => (each.system === system ? [each.code ?? ''] : [])),
  )
  const [only = '', ...more] = said
  return more.length > 0 ? null : oneOf(codes, only)
}
const oneOf = <const Codes extends readonly string[]>(
  codes: Codes,
  code: string | undefined,
): Codes[number] | null => codes.find((known) => known === code) ?? null

/** The coded entries, and the notes as statements of their own: a note may deny what a code says. */
export function allergiesOf(
  resource: ResourceOf<'AllergyIntolerance'>,
  { line, file }: { line: number; file: FhirFile },
): IncomingAllergy[] {
  const { reaction = [], note = [] } = resource
  const patient = patientOf(resource.patient, file)
  const entries = entriesOf([resource.code ?? {}, ...reaction.map(({ substance = {} }) => substance)])
  const verification = statusOf(resource.verificationStatus, VERIFICATION, [
    'unconfirmed',
    'confirmed',
    'refuted',
    'entered-in-error',
  ])
  const described = reaction.map(({ description = '' }) => description.trim()).find((text) => text !== '')
  return [
    ...entries.map(
      ({ text, code }, index): IncomingAllergy => ({
        kind: 'coded',
        line,
        patient,
        text: text || (code?.code ?? '') || (described ?? 'not said'),
        code,
        clinical: statusOf(resource.clinicalStatus, CLINICAL, ['active', 'inactive', 'resolved']),
        verification: index > 0 && verification === 'confirmed' ? 'unconfirmed' : verification,
        criticality: oneOf(['low', 'high', 'unable-to-assess'], resource.criticality),
        severity: SEVERITIES.find((wanted) => reaction.some(({ severity }) => severity === wanted)) ?? null,
        ...recordedOf(resource.recordedDate ?? '', file.options.zone),
      }),
    ),
    ...note.map(({ text }): IncomingAllergy => ({ kind: 'text', line, patient, text, asked: null })),
  ]
}
/** The worst first. */
const SEVERITIES = ['severe', 'moderate', 'mild'] as const

/**
 * What an allergy is to, and the substances of its reactions: one entry, unless a reaction names another substance than
 * those before it, for an entry stands for one. R4 (AllergyIntolerance.reaction.substance, READ) would have such a one
 * passed by; here it is asked about.
 */
function entriesOf(concepts: readonly Concept[]): Said[] {
  const groups: Concept[][] = [[]]
  for (const concept of concepts) {
    const named = namedBy(saidBy([concept]))
    const fits = groups.find((group) => {
      const before = namedBy(saidBy(group))
      return before.length === 0 || named.every((substance) => before.includes(substance))
    })
    if (fits) fits.push(concept)
    else groups.push([concept])
  }
  return groups.map(saidBy)
}

type Said = Pick<Extract<IncomingAllergy, { kind: 'coded' }>, 'text' | 'code'>
const saidBy = (concepts: readonly Concept[]): Said => ({
  text: allWords(concepts),
  code: tellingCode(
    concepts
      .flatMap(({ coding = [] }) => coding)
      .flatMap(({ system = '', code }) => (code === undefined ? [] : [{ system, code }])),
  ),
})

/**
 * The words of a concept and of the substances of its reactions, each once. Codings are alternates of one concept, and
 * their order means nothing (R4, CodeableConcept.coding, READ), so any of them may be the one that warns.
 */
function allWords(concepts: readonly Concept[]): string {
  const said = concepts.flatMap(({ text, coding = [] }) => [text, ...coding.map(({ display }) => display)])
  const words = [...new Set(said.flatMap((each) => each?.trim() || []))]
  const [only = '', ...more] = words
  if (more.length === 0) return only
  const bare = words.map((each) => each.replace(CONCEPT_KIND, ''))
  const isHeld = (each: string, index: number): boolean =>
    bare.some((other, at) => at !== index && holds(other, each) && (!holds(each, other) || at < index))
  return bare.filter((each, index) => !isHeld(each, index)).join('; ')
}
const holds = (text: string, part: string): boolean =>
  ` ${text} `.toLowerCase().includes(` ${part} `.toLowerCase())

/** When an entry was recorded, and the day of it on the clinic's clock. A day alone is its noon; less is not known. */
function recordedOf(text: string, zone: Zone): { recorded: Instant | null; recordedOn: Day | null } {
  const at = parseStamp(text)
  if (at !== null) return { recorded: at, recordedOn: dayOf(at, zone) }
  const day = parseDay(text)
  const asked = day === null ? null : askedOn(day, zone)
  return { recorded: asked?.at ?? null, recordedOn: asked?.day ?? null }
}
