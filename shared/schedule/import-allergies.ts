import type { Allergy, AllergyRecord, Certainty } from '../allergies/allergy-record.ts'
import { emptyRecord, isLive, lowersCertainty, raiseAllergy, raisesLatex } from '../allergies/record.ts'
import { holdsDenial, readStatement, substancesNamed } from '../allergies/statement.ts'
import { canonicalJson } from '../base/canonical.ts'
import { type Day, type Instant, parseDay } from '../base/moment.ts'
import type { Result } from '../base/result.ts'
import { type Change, nothing, putting } from '../change.ts'
import type { World } from '../facts.ts'
import type { AllergyRecordId, ClinicId, PatientId } from '../ids.ts'
import type { ImportFinding } from './import-findings.ts'
import type { NoPatient } from './import-people.ts'
import { NO_PATIENT } from './import-problems.ts'
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
      problems.push(noPatient(entry, patient.reasons[0]))
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

const NOBODY_FOR_IT =
  'Whose allergy this is cannot be told: the patient is not in the file and not known here, or several fit. An allergy on the wrong record is as bad as none. Record it by hand on the right patient.'
const noPatient = ({ line, patient, text }: IncomingAllergy, why?: NoPatient): IncomingProblem => ({
  line,
  ...(why === 'birth-date-ahead'
    ? { field: 'born', text: NO_PATIENT[why].join(' ') }
    : { field: 'patient', text: NOBODY_FOR_IT }),
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

function mergeEntry(standing: AllergyRecord, entry: IncomingAllergy, context: AllergyImport): Merged {
  if (entry.kind === 'text') {
    const denied = deniedIn(entry.text)
    const asked = entry.asked ?? askedIn(entry.text)
    const record = denied
      ? withDenial(standing, { text: entry.text, denied, asked }, context)
      : withStatement(standing, entry.text, context)
    return { record, kept: false }
  }
  const record = standing
  const denied = deniedBy(entry)
  if (denied !== null) {
    const holds = entry.verification === 'confirmed' && entry.clinical === 'active'
    const asked = holds ? recordedAt(entry) : null
    return { record: withDenial(record, { text: entry.text, denied, asked }, context), kept: false }
  }
  // A statement that went out as an uncoded entry and comes home says nothing new.
  if (entry.code === null && record.statements.some(({ text }) => text === entry.text))
    return { record, kept: false }
  if (isHalfDenied(entry) && !warns(entry))
    return { record: withStatement(record, entry.text, context), kept: false }
  const certainty = certaintyOf(entry)
  const index = findEntry(record.allergies, entry, certainty)
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
  const lowers = known !== undefined && lowersCertainty(known.certainty, certainty)
  const merged = known
    ? raiseAllergy(known, { ...entry, certainty, severity: entry.severity ?? 'unknown' })
    : allergyOf(entry, certainty, context)
  const allergies = known ? record.allergies.with(index, merged) : [...record.allergies, merged]
  const listed = raiseState({ ...record, allergies }, { allergy: merged, entry }, context)
  const raised = isLive({ certainty })
    ? furtherOf(entry, context).reduce(
        (before, allergy) => withFurther(before, { allergy, entry }, context),
        listed,
      )
    : listed
  return lowers
    ? {
        record: withStatement(raised, `${entry.text}: ${certainty}, says ${context.source}`, context),
        kept: true,
      }
    : { record: raised, kept: false }
}

/**
 * HL7 verificationStatus and clinicalStatus (R4, READ). Refuted never flags; inactive and resolved are past; an
 * active entry that is not confirmed, or whose status is missing or unknown, is suspected until somebody looks; so is
 * one that denies and warns in one breath.
 */
function certaintyOf(entry: Coded): Certainty | null {
  const { verification, clinical } = entry
  if (verification === 'entered-in-error') return null
  if (verification === 'refuted') return 'refuted'
  if (clinical === 'inactive' || clinical === 'resolved') return 'past'
  const isCertain = clinical === 'active' && verification === 'confirmed' && !isHalfDenied(entry)
  return isCertain ? 'confirmed' : 'suspected'
}

/** What a denial answers: all but latex, latex, or neither of the two. "No known drug allergy" says nothing of latex. */
type Denied = 'all' | 'latex' | 'part'

/** Codes that deny: SNOMED CT, and the HL7 IPS code system of what is absent or unknown. */
const DENIAL_CODES: ReadonlyMap<string, Denied> = new Map([
  ['716186003', 'all'], // HL7 example "nka", READ
  ['716184000', 'latex'], // HL7 FHIR core example "nkla", READ
  ['1003774007', 'latex'], // MEMORY
  ['409137002', 'part'], // of drugs, MEMORY
  ['no-known-allergies', 'all'], // this and the following: IPS absent-or-unknown-allergies 1.1.0, READ
  ['no-known-medication-allergies', 'part'],
  ['no-known-environmental-allergies', 'part'],
  ['no-known-food-allergies', 'part'],
  ['no-allergy-info', 'part'],
])
const codedDenial = ({ code }: Coded): Denied | null =>
  code === null || isLatexCode(code) ? null : (DENIAL_CODES.get(code.code) ?? null)

/**
 * Of several codes for one concept the one that counts: latex, else any that does not deny, else the denial that
 * answers least. Null where there is none.
 */
export function tellingCode(codes: readonly NonNullable<Coded['code']>[]): Coded['code'] {
  const latex = codes.find(isLatexCode)
  const warning = codes.find(({ code }) => !DENIAL_CODES.has(code))
  const [denial = null] = NARROWEST.flatMap((of) => codes.filter(({ code }) => DENIAL_CODES.get(code) === of))
  return latex ?? warning ?? denial
}
const NARROWEST = ['part', 'latex', 'all'] as const

/** The kind of concept at the end of a SNOMED CT name. */
export const CONCEPT_KIND = /\s*\((?:situation|finding|disorder|substance)\)\s*$/i

/** A denial by code holds where the words beside it deny the same; they outvote it where they say anything else. */
function deniedBy(entry: Coded): Denied | null {
  if (isLatexCode(entry.code)) return null
  const coded = codedDenial(entry)
  const words = entry.text === entry.code?.code ? '' : entry.text.replace(CONCEPT_KIND, '')
  const said = readStatement(words).kind === 'empty' ? coded : deniedIn(words)
  return coded === null || said === coded ? said : said === null ? null : 'part'
}

/** A denial, by code or in words, of which the whole entry does not hold: it answers nothing. */
function isHalfDenied(entry: Coded): boolean {
  if (isLatexCode(entry.code)) return readStatement(entry.text).kind === 'denies'
  return deniedBy(entry) === null && (codedDenial(entry) !== null || holdsDenial(entry.text))
}
const warns = ({ code, text }: Coded): boolean => isLatexCode(code) || readStatement(text).kind === 'possible'

/** The same of free text: "none known" denies all, "NKDA" drugs alone (COMMON). What is half denied is a statement. */
function deniedIn(text: string): Denied | null {
  const reading = readStatement(text)
  if (reading.kind !== 'denies') return null
  if (reading.of === 'everything') return 'all'
  return reading.of.includes('latex') ? 'latex' : 'part'
}

type Asked = AllergyRecord['asked']

/** When an entry was recorded, with the clinic's own day of it. */
const recordedAt = ({ recorded, recordedOn }: Coded): Asked =>
  recorded === null || recordedOn === null ? null : { by: null, at: recorded, day: recordedOn }

/** "None known, asked 2026-03-02": words that say on which day somebody asked. */
function askedIn(text: string): Asked {
  const said = /\b(?:asked|checked|reviewed)\b\D{0,12}(\d{4}-\d{2}-\d{2})\b/i.exec(text)?.[1]
  const day = parseDay(said ?? '')
  return day === null ? null : { by: null, at: Date.parse(`${day}T12:00:00Z`) as Instant, day }
}

const isUnasked = (state: string): boolean => state === 'not-asked' || state === 'asked-unknown'

/**
 * Nobody has an allergy because nobody wrote one down: a denial is an answer only where the source says when it was
 * given, for without a day it cannot age. Else its words are kept, and the question stays open.
 */
function withDenial(
  record: AllergyRecord,
  { text, denied, asked: said }: { text: string; denied: Denied; asked: Asked },
  context: AllergyImport,
): AllergyRecord {
  const isKnown =
    denied === 'all' ? record.state === 'none-known' : denied === 'latex' && record.latex === 'none-known'
  const stated = isKnown ? record : withStatement(record, text, context)
  if (said === null || said.day > context.today) return stated
  // A day alone is taken for its noon, which may be yet to come.
  const asked = said.at > context.now ? { ...said, at: context.now } : said
  // By the day: what a list says of today is no newer each time that it comes today.
  const isNewer = (before: Asked): boolean => before === null || before.day < asked.day
  if (denied === 'all' && (isUnasked(stated.state) || (isKnown && isNewer(stated.asked))))
    return { ...stated, state: 'none-known', asked }
  if (denied === 'latex' && (isUnasked(stated.latex) || (isKnown && isNewer(stated.latexAsked))))
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
const isLatexCode = (code: Coded['code']): boolean =>
  code?.system === 'http://snomed.info/sct' && LATEX_CODES.has(code.code)

/** What an entry names, by its code and in its words. */
export const namedBy = ({ code, text }: Pick<Coded, 'code' | 'text'>): string[] => [
  ...(isLatexCode(code) ? ['latex'] : []),
  ...substancesNamed(text),
]

/** Of several that are named, the first that the words warn of. */
function substanceOf({ code, text }: Coded): string {
  if (isLatexCode(code)) return 'latex'
  const named: readonly string[] = substancesNamed(text)
  const reading = readStatement(text)
  const warned: readonly string[] = reading.kind === 'possible' ? reading.substances : named
  return named.find((substance) => warned.includes(substance)) ?? warned[0] ?? 'other'
}

/** The standing entry that says the same; of several, which words of two substances make, one that is not lowered. */
function findEntry(allergies: readonly Allergy[], entry: Coded, certainty: Certainty | null): number {
  const same = allergies.map((allergy) => isSameEntry(allergy, entry))
  const fits = allergies.findIndex(
    (allergy, index) => same[index] && certainty !== null && !lowersCertainty(allergy.certainty, certainty),
  )
  return fits < 0 ? same.indexOf(true) : fits
}

/** Words that warn of a second substance list that too: suspected, as the entry stands for one. */
function furtherOf(entry: Coded, context: AllergyImport): Allergy[] {
  const reading = readStatement(entry.text)
  if (reading.kind !== 'possible') return []
  const own = substanceOf(entry)
  return substancesNamed(entry.text)
    .filter((substance) => substance !== own && reading.substances.includes(substance))
    .map((substance) => ({ ...allergyOf(entry, 'suspected', context), substance, code: null }))
}

function withFurther(
  record: AllergyRecord,
  further: { allergy: Allergy; entry: Coded },
  context: AllergyImport,
): AllergyRecord {
  const { allergy } = further
  const isListed = record.allergies.some(
    ({ substance, text }) => substance === allergy.substance && text === allergy.text,
  )
  if (isListed) return record
  return raiseState({ ...record, allergies: [...record.allergies, allergy] }, further, context)
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

/** A live entry makes the record listed; a past or refuted one is kept in the list and says nothing of today. */
function raiseState(
  record: AllergyRecord,
  { allergy, entry }: { allergy: Allergy; entry: Coded },
  { now, today }: AllergyImport,
): AllergyRecord {
  const { substance, certainty } = allergy
  if (!isLive(allergy)) return record
  const asked = recordedAt(entry) ?? { by: null, at: now, day: today }
  const listed: AllergyRecord = record.state === 'listed' ? record : { ...record, state: 'listed', asked }
  const latex = certainty === 'confirmed' ? 'confirmed' : 'suspected'
  return substance === 'latex' && raisesLatex(record.latex, latex)
    ? { ...listed, latex, latexAsked: asked }
    : listed
}
