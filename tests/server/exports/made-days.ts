import fc from 'fast-check'
import { plainText } from '#server/imports/decode.ts'
import { must } from '#shared/base/assert.ts'
import { type ClockTime, clockTimeOf, type Day, dayOf, type Instant, instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type {
  AllergyRecordId,
  AppointmentId,
  ImportSourceId,
  MemberId,
  PatientId,
  VisitId,
  WorkId,
} from '#shared/ids.ts'
import { recogniseWork } from '#shared/procedures/recognise.ts'
import {
  APPOINTMENT_STATUSES,
  type AppointmentStatus,
  type VisitStage,
} from '#shared/schedule/appointment.ts'
import { makeVisit } from '#shared/schedule/visit.ts'
import { MORNING, OPTIONS, smallClinic, ZONE } from '../imports/small-clinic.ts'

/** What people type, and what a format may bend: signs that run, edges, line ends, marks of our own. */
const hostile = fc
  .oneof(
    fc.constantFrom(
      'RCT 36',
      'comp 46 MO',
      "'-5 min late",
      "''=1",
      '=HYPERLINK("x")',
      '＝1',
      'x;=1+1',
      'x\t=1',
      '\n=1',
      'a\r\nb',
      'a\rb',
      'a\n\nb',
      '  two spaces  ',
      '\tedge\t',
      'Tooth: 36',
      'Procedure: x',
      'Born: 1990-01-01',
      '--',
      'a\n--\nb',
      '"quoted" text',
      'ends with \\',
      '\\n \\, \\;',
      'é'.repeat(80),
      '\uFEFFmark',
      '\u2028',
      'not said',
    ),
    fc.string({ maxLength: 25 }),
    fc.string({ unit: 'grapheme', maxLength: 15 }),
    fc.string({
      unit: fc.constantFrom("'", '=', '-', '"', ';', ',', ' ', '\t', '\r', '\n', 'a', '＋'),
      maxLength: 12,
    }),
  )
  .map(plainText)
/** Work has words. */
const worded = hostile.filter((text) => text.trim() !== '')
/** Names come in without edges. */
const name = fc.oneof(
  fc.constantFrom('Ashgrove', 'Ó Briain', 'Smith, junior', "D'Arcy", '山田', 'Count', '=Zoë', 'constructor'),
  hostile.map((text) => text.replace(/\s+/g, ' ').trim()),
)

/** A status, how far the visit is, and whether its list has lost it: as they can stand together. */
const state = fc.oneof(
  fc.record({
    status: fc.constantFrom(...APPOINTMENT_STATUSES),
    stage: fc.constant(null),
    vanished: fc.boolean(),
  }),
  fc.record({
    status: fc.constant<AppointmentStatus>('checked-in'),
    stage: fc.constantFrom<VisitStage>('seated', 'injected', 'clamped', 'started', 'finished'),
    vanished: fc.constant(false),
  }),
  fc.record({
    status: fc.constant<AppointmentStatus>('fulfilled'),
    stage: fc.constant<VisitStage>('left'),
    vanished: fc.constant(false),
  }),
)

/** Words and their codes, invented. */
const CODES: Record<string, string> = {
  'dust of the third kind': '1234567008',
  'a tape of old': '2345678004',
  'plum stones': '3456789000',
}
const allergy = fc.record({
  substance: fc.constant('other'),
  certainty: fc.constantFrom('confirmed' as const, 'suspected' as const, 'past' as const, 'refuted' as const),
  severity: fc.constantFrom('unknown' as const, 'mild' as const, 'severe' as const),
  criticality: fc.constantFrom(null, 'low' as const, 'high' as const),
  text: fc.constantFrom(...Object.keys(CODES)),
  coded: fc.boolean(),
})
const seen = fc.record({
  names: fc.tuple(name, name).filter(([family, given]) => family !== '' || given !== ''),
  born: fc.option(fc.integer({ min: 1930, max: 2020 }), { nil: null }),
  slot: fc.nat(40),
  minutes: fc.integer({ min: 1, max: 1440 }),
  operatory: fc.option(fc.nat(9), { nil: null }),
  dentist: fc.option(fc.integer({ min: 1, max: 5 }), { nil: null }),
  note: hostile,
  work: fc.array(worded, { maxLength: 3 }),
  state,
  listed: fc.boolean(),
  allergies: fc.array(allergy, { maxLength: 2 }),
})
type Seen = typeof seen extends fc.Arbitrary<infer T> ? T : never

const uuid = (kind: number, index: number): string =>
  `${String(kind).padStart(8, '0')}-0000-4000-8000-${String(index).padStart(12, '0')}`
const SOURCE = uuid(5, 1) as ImportSourceId

/** A day as facts, made by no reader: so what no reader would let in, a person may have written, stands in it too. */
export const madeDay: fc.Arbitrary<World> = fc
  .tuple(
    fc.uniqueArray(seen, { selector: ({ slot }) => slot, minLength: 1, maxLength: 4 }),
    fc.constantFrom('2026-11-24', '2026-07-01', '2026-10-25', '2027-03-28'),
  )
  .map(([all, day]) =>
    all.reduce((world, each, index) => addTo(world, each, { day, index: index + 1 }), clinic()),
  )

function clinic(): World {
  const world = smallClinic()
  const { clinicId } = must(world.clinic[0], 'a clinic')
  return {
    ...world,
    importSource: [
      { clinicId, id: SOURCE, name: OPTIONS.source, notation: 'iso', mapping: {}, dateOrder: null },
    ],
  }
}

function addTo(world: World, each: Seen, { day, index }: { day: string; index: number }): World {
  const { clinicId, id: siteId } = must(world.site[0], 'a site')
  const [patientId, id] = [uuid(6, index) as PatientId, uuid(7, index) as AppointmentId]
  const start: Instant = instant(Date.parse(`${day}T07:00:00Z`) + each.slot * 15 * 60_000)
  const [family, given] = each.names
  const { status, stage, vanished } = each.state
  const by = must(world.member[0], 'a member').id
  const visit = makeVisit(id, {
    clinicId,
    now: MORNING,
    by: { id: by },
    newId: <Id>() => uuid(8, index) as Id,
  })
  return {
    ...world,
    patient: [
      ...world.patient,
      {
        clinicId,
        id: patientId,
        given,
        family,
        born: each.born === null ? null : (`${each.born}-05-17` as Day),
        identifiers: [],
        weight: null,
        guardian: null,
        interpreter: null,
        history: [],
        historyConfirmed: null,
      },
    ],
    appointment: [
      ...world.appointment,
      {
        clinicId,
        id,
        siteId,
        operatoryId: each.operatory === null ? null : (world.operatory[each.operatory]?.id ?? null),
        patientId,
        dentistId: each.dentist === null ? null : (world.member[each.dentist]?.id ?? null),
        studentId: null,
        status,
        day: dayOf(start, ZONE),
        startsAt: clockTimeOf(start, ZONE) as ClockTime,
        zone: ZONE,
        start,
        minutes: each.minutes,
        note: each.note,
        external: each.listed
          ? {
              sourceId: SOURCE,
              externalId: `x${index}`,
              recurrenceKey: '',
              sequence: null,
              stamp: null,
              contentHash: 'a'.repeat(64),
              whole: null,
            }
          : null,
        vanished: each.listed && vanished ? { at: MORNING } : null,
        formerDentist: null,
      },
    ],
    visit:
      stage === null ? world.visit : [...world.visit, { ...visit, id: uuid(8, index) as VisitId, stage }],
    work: [
      ...world.work,
      ...each.work.map((text, place) => {
        const { kind, teeth, surfaces, mentions } = recogniseWork(text, 'iso', [])
        const workId = uuid(10, index * 10 + place) as WorkId
        return {
          clinicId,
          id: workId,
          appointmentId: id,
          position: place + 1,
          text,
          kind,
          teeth,
          surfaces,
          mentions,
        }
      }),
    ],
    allergyRecord:
      each.allergies.length === 0
        ? world.allergyRecord
        : [
            ...world.allergyRecord,
            {
              clinicId,
              id: uuid(11, index) as AllergyRecordId,
              patientId,
              state: 'listed',
              asked: { by: by as MemberId, at: MORNING, day: dayOf(MORNING, ZONE) },
              latex: 'not-asked',
              latexAsked: null,
              allergies: each.allergies
                .filter(({ text }, at, list) => list.findIndex((other) => other.text === text) === at)
                .map(({ coded, ...one }) => ({
                  ...one,
                  code: coded ? { system: 'http://snomed.info/sct', code: CODES[one.text] ?? '' } : null,
                  recorded: { by: null, at: MORNING, source: OPTIONS.source },
                })),
              statements: [],
            },
          ],
  }
}
