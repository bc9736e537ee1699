import { NAMED } from '#shared/schedule/import-batch.ts'
import { OWN } from '#shared/schedule/import-matches.ts'
import { unguarded, unguardedStart } from '../exports/formula-guard.ts'
import type { CsvRow } from './csv-rows.ts'

/** What a column of a day list can hold. */
export const CSV_FIELDS = [
  'id',
  'ownId',
  'ownMark',
  'sequence',
  'changed',
  'status',
  'start',
  'day',
  'time',
  'endTime',
  'minutes',
  'operatory',
  'dentist',
  'patient',
  'given',
  'family',
  'born',
  'patientNumber',
  'work',
  'tooth',
  'surfaces',
  'allergies',
  'allergiesAsked',
  'note',
  'ignore',
] as const
export type CsvField = (typeof CSV_FIELDS)[number]

/** Header words by field, in lower case without spaces and signs. The first field that knows a header takes it. */
const HEADERS: Record<CsvField, string> = {
  ownId: 'weirboardid',
  ownMark: 'weirboardmark',
  id: 'id appointmentid apptid bookingid bookingref bookingreference appointmentnumber appointmentref appointmentno reference ref uid terminid terminnummer',
  sequence: 'sequence version revision',
  changed: 'changed lastchanged modified lastmodified updated updatedat lastupdated geändert',
  status: 'status state appointmentstatus terminstatus statut estado',
  start:
    'start starts startdatetime starttimestamp datetime dateandtime datetimestart appointmentdatetime appointmenttimestamp beginn',
  day: 'date day apptdate appointmentdate startdate visitdate datum tag fecha',
  time: 'time starttime appttime appointmenttime from at hour zeit uhrzeit von startzeit heure hora',
  endTime: 'end endtime until finish finishtime to bis ende fin endzeit',
  minutes:
    'minutes duration durationminutes durationmin length mins min lengthminutes dauer dauermin durée duración',
  operatory:
    'operatory op room chair surgery operatorychair treatmentroom location raum zimmer behandlungszimmer salle fauteuil sala',
  dentist:
    'dentist provider clinician doctor practitioner operator dr hygienist zahnarzt behandler arzt praticien dentiste odontólogo',
  patient: 'patient patientname name client fullname nameofpatient',
  given: 'given givenname firstname forename first vorname prénom nombre',
  family: 'family familyname lastname surname last nachname nom apellido',
  born: 'born birthdate dateofbirth dob birthday patientdob geburtsdatum gebdatum naissance datedenaissance nacimiento',
  patientNumber:
    'patientnumber patientid patientno patno patid chartnumber chartno chart recordnumber filenumber mrn patientennummer patientennr',
  work: 'work procedure treatment reason service appointmenttype treatmentplan procedures description behandlung grund traitement motif tratamiento',
  tooth: 'tooth teeth toothnumber toothno site zahn zähne dent dents diente',
  surfaces: 'surface surfaces flächen fläche faces',
  allergies: 'allergies allergy alerts medicalalerts allergien allergie alergias',
  allergiesAsked:
    'allergiesasked allergyasked allergiesaskedon allergiesreviewed allergieschecked allergiesupdated allergienerfragt',
  note: 'note notes comment comments remark remarks bemerkung bemerkungen notiz notes remarques notas',
  ignore: 'age sex gender phone mobile email alter geschlecht telefon',
}
const FIELD_OF: ReadonlyMap<string, CsvField> = new Map(
  CSV_FIELDS.flatMap((field) =>
    HEADERS[field].split(' ').map((word): [string, CsvField] => [word, field]),
  ).reverse(),
)

const bare = (header: string): string => header.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '')
export const isCsvField = (text: string): text is CsvField => (CSV_FIELDS as readonly string[]).includes(text)

/** The field a header names by itself, or null. */
export const fieldOfHeader = (header: string): CsvField | null => FIELD_OF.get(bare(header)) ?? null

/** What a person said of a column; a header that is only written otherwise, as in capitals, is the same column. */
function saidOf(
  header: string,
  { headers, mapping }: { headers: readonly string[]; mapping: Record<string, string> },
): string | undefined {
  if (Object.hasOwn(mapping, header)) return mapping[header]
  const alike = Object.keys(mapping).filter(
    (key) => !NAME_KEY.test(key) && !headers.includes(key) && bare(key) !== '' && bare(key) === bare(header),
  )
  return alike.length === 1 ? mapping[alike[0] ?? ''] : undefined
}
/** What names of operatories and people mean is kept beside the columns. */
const NAME_KEY = new RegExp(`^(?:${NAMED.join('|')})/`)

/** How many cells of a row are headers we know, by word or by the person's own mapping. */
export function knownHeaders(cells: readonly string[], mapping: Record<string, string>): number {
  const headers = cells.map((cell) => cell.trim())
  return headers.filter(
    (header) => saidOf(header, { headers, mapping }) !== undefined || fieldOfHeader(header) !== null,
  ).length
}

export interface Column {
  header: string
  /** Null: not mapped; its cells are kept in the note, so that nothing is lost. */
  field: CsvField | null
}

/** The proposed mapping: what the person chose, else what the header says. Of two columns of words the first is taken. */
export function mapColumns(headers: readonly string[], mapping: Record<string, string>): Column[] {
  const trimmed = headers.map((header) => header.trim())
  const said = (header: string): string | undefined => saidOf(header, { headers: trimmed, mapping })
  const chosen = new Set(trimmed.flatMap((header) => said(header) ?? []))
  const taken = new Set<CsvField>()
  return trimmed.map((header) => {
    const field = said(header)
    if (field !== undefined) return { header, field: isCsvField(field) ? field : null }
    const named = fieldOfHeader(header)
    if (named === null || named === 'ignore') return { header, field: named }
    if (chosen.has(named) || (taken.has(named) && LEFT_OVER.has(named))) return { header, field: null }
    taken.add(named)
    return { header, field: named }
  })
}

/** Fields of words: a second column of one is kept in the note. */
const LEFT_OVER: ReadonlySet<CsvField> = new Set(['work', 'note'])
/** Fields of which several columns are read together. */
const JOINED: ReadonlySet<CsvField> = new Set([...LEFT_OVER, 'allergies', 'ignore'])

/** Columns that by their names are the same field, where one alone can hold: a person says which. */
export function rivalColumns(columns: readonly Column[], mapping: Record<string, string>): Column[][] {
  const headers = columns.map(({ header }) => header)
  const byField = new Map<CsvField, Column[]>()
  for (const column of columns)
    if (
      column.field !== null &&
      !JOINED.has(column.field) &&
      saidOf(column.header, { headers, mapping }) === undefined
    )
      byField.set(column.field, [...(byField.get(column.field) ?? []), column])
  return [...byField.values()].filter(({ length }) => length > 1)
}

/** Whether it is a file that we gave: then its words stand in it as they are kept. */
export const isOwnFile = (columns: readonly Column[]): boolean =>
  columns.some(({ field }) => field === 'ownId')

/** The words of a row under a field, those of several columns joined. */
export function cellOf(row: Pick<CsvRow, 'cells'>, columns: readonly Column[], field: CsvField): string {
  const own = isOwnFile(columns)
  return columns
    .flatMap((column, index) => (column.field === field ? [row.cells[index] ?? ''] : []))
    .map((text) => (own ? unguarded(text) : unguardedStart(text.trim())))
    .filter((text) => text !== '')
    .join(' ')
}

/** The id of a row: our own, which is known again whatever the source, else the source's. */
export function idIn(cell: (field: CsvField) => string): string | null {
  const own = cell('ownId').trim()
  return own === '' ? cell('id').trim() || null : `${OWN}${own}`
}

/** Headers that stand twice: which of the two is meant cannot be known. */
export function doubledHeaders(headers: readonly string[]): string[] {
  const seen = new Set<string>()
  return [
    ...new Set(
      headers
        .map((header) => header.trim())
        .filter((header) => header !== '' && (seen.has(header) || !seen.add(header))),
    ),
  ]
}
