/** What a column of a day list can hold. */
export const CSV_FIELDS = [
  'id',
  'ownId',
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

/** How many cells of a row are headers we know, by word or by the person's own mapping. */
export const knownHeaders = (cells: readonly string[], mapping: Record<string, string>): number =>
  cells.filter((cell) => mapping[cell.trim()] !== undefined || fieldOfHeader(cell) !== null).length

export interface Column {
  header: string
  /** Null: not mapped; its cells are kept in the note, so that nothing is lost. */
  field: CsvField | null
}

/** The proposed mapping: what the person chose, else what the header says. No field is filled by two columns. */
export function mapColumns(headers: readonly string[], mapping: Record<string, string>): Column[] {
  const chosen = new Set(headers.flatMap((header) => mapping[header.trim()] ?? []))
  const taken = new Set<CsvField>()
  return headers.map((cell) => {
    const header = cell.trim()
    const said = mapping[header]
    if (said !== undefined) return { header, field: isCsvField(said) ? said : null }
    const field = fieldOfHeader(header)
    if (field === null || field === 'ignore') return { header, field }
    if (taken.has(field) || chosen.has(field)) return { header, field: null }
    taken.add(field)
    return { header, field }
  })
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
