import type { ClockTime, Day, Instant } from '#shared/base/moment.ts'
import { findFact, type World } from '#shared/facts.ts'
import type { AppointmentId, ClinicId, ImportSourceId, MemberId } from '#shared/ids.ts'
import { nameWork } from '#shared/procedures/catalogue.ts'
import { ownWordsIn } from '#shared/procedures/own-words.ts'
import type { ImportSource } from '#shared/schedule/import-batch.ts'
import type { ImportInput } from '#shared/schedule/import-commands.ts'
import type { Reconciled } from '#shared/schedule/import-run.ts'
import type { Coverage } from '#shared/schedule/incoming.ts'
import { reconcile } from '#shared/schedule/reconcile.ts'
import type { ReadOptions } from './incoming.ts'
import type { Upload } from './read-upload.ts'

/** What an import would do. Nothing is saved. */
export interface Preview {
  file: Upload['file']
  rows: number
  counts: Reconciled['counts']
  outcomes: Reconciled['outcomes']
  /** Every row that cannot be taken, or only in part. */
  problems: Reconciled['problems']
  passedOver: Upload['incoming']['passedOver']
  /** What the file covers and no longer lists: who is booked, where and when. Nothing clinical. */
  vanished: Vanished[]
  /** Names whose meaning here is to be said. */
  names: Reconciled['names']
  findings: Reconciled['findings']
  covers: Coverage | null
  assumed: string[]
  table: Upload['table']
}

/** An appointment that a file no longer lists, as the list of the day names it. */
export interface Vanished {
  appointmentId: AppointmentId
  day: Day
  startsAt: ClockTime
  /** Null where it has no operatory yet. */
  operatory: string | null
  patient: { given: string; family: string } | null
}

export interface PreviewOptions extends ReadOptions {
  fileName: string
  /** The known source; left out for one that brings its first file. */
  known?: ImportSource
  now: Instant
  today: Day
  /** What a person says the file covers, where it differs from what it looks like. */
  covers?: Coverage | null
}

/** The command that does what was previewed. */
export function makeImportInput(
  { file, incoming }: Upload,
  source: ImportInput['source'],
  covers?: Coverage | null,
): ImportInput {
  const { appointments, allergies, problems } = incoming
  return {
    source,
    file,
    appointments,
    allergies,
    problems,
    covers: covers === undefined ? incoming.covers : covers,
  }
}

/** Compares a file that has been read. */
export function previewUpload(
  world: World,
  { file, incoming, table }: Upload,
  options: PreviewOptions,
): Preview {
  const clinicId = world.clinic[0]?.id ?? ('00000000-0000-4000-8000-000000000000' as ClinicId)
  let made = 0
  const newId = <Id>(): Id => `00000000-0000-4000-8000-${(++made).toString(16).padStart(12, '0')}` as Id
  const source: ImportSource = options.known ?? {
    clinicId,
    id: newId<ImportSourceId>(),
    name: options.source,
    notation: options.notation,
    mapping: options.mapping ?? {},
    dateOrder: options.dateOrder ?? null,
  }
  const covers = options.covers === undefined ? incoming.covers : options.covers
  const { counts, outcomes, problems, names, findings } = reconcile(
    withSite(world, options),
    {
      source,
      appointments: incoming.appointments,
      allergies: incoming.allergies,
      problems: incoming.problems,
      covers,
    },
    { clinicId, now: options.now, today: options.today, by: '' as MemberId, newId },
  )
  const all = [...problems].sort((one, other) => one.line - other.line)
  return {
    file,
    rows: incoming.rows,
    counts: { ...counts, problems: all.length },
    outcomes,
    vanished: vanishedIn(world, outcomes),
    problems: all,
    passedOver: incoming.passedOver,
    names,
    findings,
    covers,
    assumed: [...incoming.assumed, ...ownWordsSaid(world, incoming)],
    table,
  }
}

function vanishedIn(world: World, outcomes: Reconciled['outcomes']): Vanished[] {
  const gone = new Set(
    outcomes.flatMap(({ outcome, appointmentId }) => (outcome === 'vanished' ? appointmentId : [])),
  )
  return world.appointment
    .filter(({ id }) => gone.has(id))
    .map(({ id, day, startsAt, operatoryId, patientId }) => {
      const patient = findFact(world, 'patient', patientId)
      return {
        appointmentId: id,
        day,
        startsAt,
        operatory: findFact(world, 'operatory', operatoryId)?.name ?? null,
        patient: patient ? { given: patient.given, family: patient.family } : null,
      }
    })
    .sort((one, other) => (whenOf(one) < whenOf(other) ? -1 : 1))
}
const whenOf = ({ day, startsAt, operatory }: Vanished): string => `${day} ${startsAt} ${operatory ?? ''}`

/** Which lines are read by words that the clinic has taught, so that nobody takes them for common ones. */
function ownWordsSaid({ ownWord }: World, { appointments }: Upload['incoming']): string[] {
  const texts = appointments.flatMap(({ work }) => (work ?? []).map(({ text }) => text))
  return ownWord.flatMap((own) => {
    const lines = texts.filter((text) => ownWordsIn(text, [own]).length > 0).length
    return lines === 0
      ? []
      : [`“${own.words}” is read as ${nameWork(own.kind)} in ${lines} lines: the clinic’s own word.`]
  })
}

/** An empty clinic still has one place where its appointments are. */
function withSite(world: World, { zone }: ReadOptions): World {
  if (world.site.length > 0) return world
  const clinicId = '00000000-0000-4000-8000-000000000000' as ClinicId
  const site = {
    clinicId,
    id: clinicId as never,
    name: '',
    zone,
    opensAt: '00:00' as never,
    closesAt: '23:59' as never,
    assistantPlaces: 'not-set',
    startOfDay: null,
  } as const
  return { ...world, site: [site] }
}
