import type { Allergy, AllergyRecord, Certainty } from '../allergies/allergy-record.ts'
import { emptyRecord, isLive } from '../allergies/record.ts'
import { substancesIn } from '../allergies/substance.ts'
import { canonicalJson } from '../base/digest.ts'
import type { Day, Instant } from '../base/moment.ts'
import type { Result } from '../base/result.ts'
import { type Change, nothing, putting } from '../change.ts'
import type { World } from '../facts.ts'
import type { AllergyRecordId, ClinicId, PatientId } from '../ids.ts'
import type { ImportFinding } from './import-findings.ts'
import type { NoPatient } from './import-people.ts'
import type { IncomingAllergy, IncomingPatient, IncomingProblem } from './incoming.ts'

export interface AllergyImport {
  clinicId: ClinicId
  now: Instant
  today: Day
  newId: <Id>() => Id
  source: string
  patientOf: (patient: IncomingPatient) => Result<PatientId, NoPatient>
}

type Coded = Extract<IncomingAllergy, { kind: 'coded' }>

/**
 * What a source says of allergies, added to what is known. Nothing here is ever lowered: an entry that the source
 * withdraws stays, with the source's words beside it, until a clinician clears it.
 */
export function reconcileAllergies(
  world: World,
  incoming: readonly IncomingAllergy[],
  context: AllergyImport,
): { change: Change; findings: ImportFinding[]; problems: IncomingProblem[] } {
  const standing = new Map(world.allergyRecord.map((record) => [record.patientId, record]))
  const records = new Map<PatientId, AllergyRecord>()
  const findings: ImportFinding[] = []
  const problems: IncomingProblem[] = []
  for (const entry of incoming) {
    const patient = context.patientOf(entry.patient)
    if (!patient.ok) {
      problems.push(noPatient(entry))
      continue
    }
    const record =
      records.get(patient.value) ??
      standing.get(patient.value) ??
      emptyRecord(context.clinicId, context.newId<AllergyRecordId>(), patient.value)
    const merged = mergeEntry(record, entry, context)
    records.set(patient.value, merged.record)
    if (merged.kept)
      findings.push({
        rule: 'import/allergy-kept',
        level: 'note',
        about: `patient:${patient.value}`,
        text: entry.text,
      })
  }
  const changed = [...records.values()].filter((record) => {
    const before = standing.get(record.patientId)
    return before === undefined || canonicalJson(before) !== canonicalJson(record)
  })
  return { change: changed.length === 0 ? nothing : putting('allergyRecord', ...changed), findings, problems }
}

const noPatient = ({ line, patient, text }: IncomingAllergy): IncomingProblem => ({
  line,
  field: 'patient',
  text: 'Whose allergy this is cannot be told: the patient is not in the file and not known here, or several fit. An allergy on the wrong record is as bad as none. Record it by hand on the right patient.',
  original: [
    `${patient.family}, ${patient.given}`,
    patient.born,
    ...patient.identifiers.map(({ value }) => value),
    text,
  ]
    .filter((part) => part && part !== ', ')
    .join(' · '),
})

interface Merged {
  record: AllergyRecord
  /** The source would have lowered it, and was not followed. */
  kept: boolean
}

function mergeEntry(record: AllergyRecord, entry: IncomingAllergy, context: AllergyImport): Merged {
  if (entry.kind === 'text') return { record: withStatement(record, entry.text, context), kept: false }
  const denied = deniedBy(entry)
  if (denied !== null) return { record: withDenial(record, { entry, denied }, context), kept: false }
  // A statement that went out as an uncoded entry and comes home says nothing new.
  if (entry.code === null && record.statements.some(({ text }) => text === entry.text))
    return { record, kept: false }
  const certainty = certaintyOf(entry)
  const index = record.allergies.findIndex((allergy) => isSameEntry(allergy, entry))
  const known = record.allergies[index]
  if (certainty === null) {
    // Entered in error: it never was one. What is known already stays until a clinician clears it.
    return known
      ? {
          record: withStatement(record, `${entry.text}: entered in error, says ${context.source}`, context),
          kept: true,
        }
      : { record, kept: false }
  }
  const lowers = known !== undefined && RANK[certainty] < RANK[known.certainty]
  const merged = known ? raise(known, entry, certainty) : allergyOf(entry, certainty, context)
  const allergies = known ? record.allergies.with(index, merged) : [...record.allergies, merged]
  const raised = raiseState({ ...record, allergies }, merged)
  return lowers
    ? {
        record: withStatement(raised, `${entry.text}: ${certainty}, says ${context.source}`, context),
        kept: true,
      }
    : { record: raised, kept: false }
}

const RANK: Record<Certainty, number> = { refuted: 0, past: 1, preference: 2, suspected: 3, confirmed: 4 }

/**
 * HL7 verificationStatus and clinicalStatus (R4, READ). Refuted never flags; inactive and resolved are past; an
 * active entry that is not confirmed, or whose status is missing or unknown, is suspected until somebody looks.
 */
function certaintyOf({ verification, clinical }: Coded): Certainty | null {
  if (verification === 'entered-in-error') return null
  if (verification === 'refuted') return 'refuted'
  if (clinical === 'inactive' || clinical === 'resolved') return 'past'
  return clinical === 'active' && verification === 'confirmed' ? 'confirmed' : 'suspected'
}

/** Codes and words of the three statements that deny an allergy. "No known drug allergy" says nothing of latex. */
function deniedBy({ code, text }: Coded): 'all' | 'drugs' | 'latex' | null {
  const snomed = code?.system === 'http://snomed.info/sct' ? code.code : ''
  if (snomed === '716186003' || /^(nka|no known allerg(y|ies))\b/i.test(text)) return 'all' // HL7 example "nka", READ
  if (snomed === '409137002' || /^(nkda|no known drug allerg(y|ies))\b/i.test(text)) return 'drugs' // MEMORY
  return snomed === '1003774007' || /^no known latex allerg(y|ies)\b/i.test(text) ? 'latex' : null // MEMORY
}

const isUnasked = (state: string): boolean => state === 'not-asked' || state === 'asked-unknown'

function withDenial(
  record: AllergyRecord,
  { entry, denied }: { entry: Coded; denied: 'all' | 'drugs' | 'latex' },
  context: AllergyImport,
): AllergyRecord {
  const isKnown =
    denied === 'all' ? record.state === 'none-known' : denied === 'latex' && record.latex === 'none-known'
  if (isKnown) return record
  const stated = withStatement(record, entry.text, context)
  const holds = entry.verification === 'confirmed' && entry.clinical === 'active'
  // Without a day it cannot age, so it is no answer.
  if (!holds || entry.recorded === null) return stated
  const asked = {
    by: null,
    at: entry.recorded,
    day: new Date(entry.recorded).toISOString().slice(0, 10) as Day,
  }
  if (denied === 'all' && isUnasked(stated.state)) return { ...stated, state: 'none-known', asked }
  if (denied === 'latex' && isUnasked(stated.latex))
    return { ...stated, latex: 'none-known', latexAsked: asked }
  return stated
}

function withStatement(record: AllergyRecord, text: string, { source, now }: AllergyImport): AllergyRecord {
  const known = record.statements.some((statement) => statement.text === text && statement.source === source)
  return known || text.trim() === ''
    ? record
    : { ...record, statements: [...record.statements, { text, source, at: now }] }
}

const isSameEntry = (allergy: Allergy, { code, text }: Coded): boolean =>
  code !== null && allergy.code !== null
    ? allergy.code.system === code.system && allergy.code.code === code.code
    : allergy.text.toLowerCase() === text.toLowerCase()

/** SNOMED CT: Latex; Latex allergy; Allergy to Hevea brasiliensis latex protein (READ in published example records). */
const LATEX_CODES = new Set(['111088007', '300916003', '1003755004'])
const substanceOf = ({ code, text }: Coded): string => {
  if (code?.system === 'http://snomed.info/sct' && LATEX_CODES.has(code.code)) return 'latex'
  return substancesIn(text)[0] ?? 'other'
}

const allergyOf = (entry: Coded, certainty: Certainty, { source, now }: AllergyImport): Allergy => ({
  substance: substanceOf(entry),
  certainty,
  severity: entry.severity ?? 'unknown',
  criticality: entry.criticality,
  text: entry.text,
  code: entry.code,
  recorded: { by: null, at: entry.recorded ?? now, source },
})

const SEVERITY = ['unknown', 'mild', 'moderate', 'severe']
/** Criticality is how bad the next exposure may be; it only rises. */
const CRITICALITY = [null, 'low', 'unable-to-assess', 'high']

const raise = (known: Allergy, entry: Coded, certainty: Certainty): Allergy => ({
  ...known,
  certainty: RANK[certainty] > RANK[known.certainty] ? certainty : known.certainty,
  severity:
    SEVERITY.indexOf(entry.severity ?? 'unknown') > SEVERITY.indexOf(known.severity)
      ? (entry.severity ?? 'unknown')
      : known.severity,
  criticality:
    CRITICALITY.indexOf(entry.criticality) > CRITICALITY.indexOf(known.criticality)
      ? entry.criticality
      : known.criticality,
})

const LATEX: readonly string[] = ['not-asked', 'asked-unknown', 'none-known', 'suspected', 'confirmed']

/** A live entry makes the record listed; a past or refuted one is kept in the list and says nothing of today. */
function raiseState(record: AllergyRecord, allergy: Allergy): AllergyRecord {
  const { substance, certainty, recorded } = allergy
  if (!isLive(allergy)) return record
  const asked = { by: null, at: recorded.at, day: new Date(recorded.at).toISOString().slice(0, 10) as Day }
  const listed: AllergyRecord = record.state === 'listed' ? record : { ...record, state: 'listed', asked }
  if (substance !== 'latex' || LATEX.indexOf(record.latex) >= LATEX.indexOf(certainty)) return listed
  return { ...listed, latex: certainty === 'confirmed' ? 'confirmed' : 'suspected', latexAsked: asked }
}
