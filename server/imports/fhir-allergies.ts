import { type Day, dayOf, type Instant, parseDay, type Zone } from '#shared/base/moment.ts'
import type { IncomingAllergy } from '#shared/schedule/incoming.ts'
import type { FhirFile } from './fhir-appointment.ts'
import { patientOf } from './fhir-people.ts'
import type { Concept, ResourceOf } from './fhir-schema.ts'
import { wordsOf } from './fhir-work.ts'
import { askedOn, parseStamp } from './moments.ts'

const codeOf = (concept: Concept | undefined): string | undefined =>
  concept?.coding?.find(({ code }) => code !== undefined)?.code
const oneOf = <const Codes extends readonly string[]>(
  codes: Codes,
  code: string | undefined,
): Codes[number] | null => codes.find((known) => known === code) ?? null

/** The coded entry, and its notes as statements of their own: a note may deny what a code says. */
export function allergiesOf(
  resource: ResourceOf<'AllergyIntolerance'>,
  { line, file }: { line: number; file: FhirFile },
): IncomingAllergy[] {
  const coding = resource.code?.coding?.find(({ code }) => code !== undefined)
  const severities = (resource.reaction ?? []).map(({ severity }) => severity)
  const patient = patientOf(resource.patient, file)
  return [
    {
      kind: 'coded',
      line,
      patient,
      text: wordsOf(resource.code),
      code: coding ? { system: coding.system ?? '', code: coding.code ?? '' } : null,
      clinical: oneOf(['active', 'inactive', 'resolved'], codeOf(resource.clinicalStatus)),
      verification: oneOf(
        ['unconfirmed', 'confirmed', 'refuted', 'entered-in-error'],
        codeOf(resource.verificationStatus),
      ),
      criticality: oneOf(['low', 'high', 'unable-to-assess'], resource.criticality),
      severity:
        (['severe', 'moderate', 'mild'] as const).find((severity) => severities.includes(severity)) ?? null,
      ...recordedOf(resource.recordedDate ?? '', file.options.zone),
    },
    ...(resource.note ?? []).map(
      ({ text }): IncomingAllergy => ({ kind: 'text', line, patient, text, asked: null }),
    ),
  ]
}

/** When an entry was recorded, and the day of it on the clinic's clock. A day alone is its noon; less is not known. */
function recordedOf(text: string, zone: Zone): { recorded: Instant | null; recordedOn: Day | null } {
  const at = parseStamp(text)
  if (at !== null) return { recorded: at, recordedOn: dayOf(at, zone) }
  const day = parseDay(text)
  const asked = day === null ? null : askedOn(day, zone)
  return { recorded: asked?.at ?? null, recordedOn: asked?.day ?? null }
}
