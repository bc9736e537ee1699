import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import type { TrayId, VisitId } from '#shared/ids.ts'
import { IMPORT_COMMANDS } from '#shared/schedule/import-commands.ts'
import { NAME_COMMANDS } from '#shared/schedule/name-commands.ts'
import { CLINICAL, VERIFICATION } from '../../server/imports/fhir-entries.ts'
import {
  DAY,
  DESK,
  effect,
  importFile,
  list,
  MORNING,
  row,
  smallClinic,
} from '../../server/imports/small-clinic.ts'

const DAY_LIST = readFileSync(new URL('../../fixtures/day-list.csv', import.meta.url))
const appointmentOf = (world: World, index = 0) => must(world.appointment[index], 'an appointment')
const context = (world: World) => ({
  clinicId: must(world.clinic[0], 'a clinic').id,
  now: MORNING,
  today: DAY,
  by: DESK,
  station: 'test',
  newId: <Id>() => '77777777-0000-4000-8000-000000000000' as Id,
  journal: null,
})

describe('a day list of sixty rows', () => {
  it('brings sixty appointments, and the same file again changes nothing', () => {
    const first = importFile(smallClinic(), DAY_LIST)
    expect(first.counts).toMatchObject({ new: 60, problems: 0, vanished: 0 })
    expect(
      first.world.appointment.every(
        ({ operatoryId, dentistId }) => operatoryId !== null && dentistId !== null,
      ),
    ).toBe(true)
    expect(first.world.patient).toHaveLength(60)
    const again = importFile(first.world, DAY_LIST)
    expect(again.counts).toMatchObject({
      new: 0,
      changed: 0,
      cancelled: 0,
      unchanged: 60,
      vanished: 0,
      problems: 0,
    })
    expect(effect(again)).toEqual([])
  })

  it('keeps leading zeros of patient numbers', () => {
    expect(importFile(smallClinic(), DAY_LIST).world.patient[0]?.identifiers).toEqual([
      { system: 'front desk', value: '004200' },
    ])
  })
})

describe('only what is newer is written', () => {
  it('a moved appointment is the same appointment, its work untouched', () => {
    const before = importFile(smallClinic(), list(row())).world
    const moved = importFile(before, list(row({ start: '14:00', operatory: '3' })))
    expect(moved.counts).toMatchObject({ new: 0, changed: 1, vanished: 0 })
    expect(appointmentOf(moved.world).id).toBe(appointmentOf(before).id)
    expect(appointmentOf(moved.world).startsAt).toBe('14:00')
    expect(moved.change.put.work).toBeUndefined()
  })

  it('another tooth changes the line of work and keeps its id', () => {
    const before = importFile(smallClinic(), list(row())).world
    const changed = importFile(before, list(row({ work: 'comp 47 MO' }))).world
    expect(changed.work.map(({ id, teeth }) => [id, teeth])).toEqual([[before.work[0]?.id, ['47']]])
  })

  it('rows of one appointment that differ only in the work are one appointment', () => {
    const { world, counts } = importFile(smallClinic(), list(row(), row({ work: 'RCT 36' })))
    expect(counts.new).toBe(1)
    expect(world.work.map(({ text }) => text)).toEqual(['comp 46 MO', 'RCT 36'])
  })

  it('what the clinic has seen is not set back by a list that still says booked', () => {
    const before = importFile(smallClinic(), list(row())).world
    const arrived: World = {
      ...before,
      appointment: before.appointment.map((each) => ({ ...each, status: 'arrived' as const })),
    }
    expect(appointmentOf(importFile(arrived, list(row({ minutes: '45' }))).world)).toMatchObject({
      status: 'arrived',
      minutes: 45,
    })
  })

  it('a list cannot move a patient who is in the chair; the row is told', () => {
    const before = importFile(smallClinic(), list(row())).world
    const seated: World = {
      ...before,
      visit: [
        {
          clinicId: context(before).clinicId,
          id: 'visit' as VisitId,
          appointmentId: appointmentOf(before).id,
          stage: 'seated',
          since: MORNING,
          steps: [],
          identity: null,
          identityDiffered: null,
          nameAlertSeen: null,
          readBack: null,
          recounted: null,
          timeOut: null,
          consent: null,
          clamp: null,
          counts: null,
          aftercare: null,
        },
      ],
    }
    const moved = importFile(seated, list(row({ start: '15:00' })))
    expect(appointmentOf(moved.world).startsAt).toBe('10:00')
    expect(moved.world.importProblem).toHaveLength(1)
  })
})

describe('what is no longer listed', () => {
  const two = [row({ id: 'a' }), row({ id: 'b', start: '11:00', patient: 'Fennimore, Farid' })]

  it('[appointment/vanished] is asked, once, and comes back when it is listed again', () => {
    const before = importFile(smallClinic(), list(...two)).world
    const without = importFile(before, list(row({ id: 'a' })))
    expect(without.counts.vanished).toBe(1)
    expect(without.findings.map(({ rule }) => rule)).toContain('appointment/vanished')
    expect(appointmentOf(without.world, 1)).toMatchObject({ status: 'booked', vanished: { at: MORNING } })
    expect(importFile(without.world, list(row({ id: 'a' }))).counts.vanished).toBe(0)
    expect(appointmentOf(importFile(without.world, list(...two)).world, 1).vanished).toBeNull()
  })

  it('a file of another day or another operatory says nothing of it', () => {
    const before = importFile(smallClinic(), list(...two)).world
    expect(
      importFile(before, list(row({ id: 'c', day: '2026-11-25', patient: 'Yarrow, Wanda' }))).counts.vanished,
    ).toBe(0)
    expect(
      importFile(before, list(row({ id: 'c', operatory: '7', patient: 'Yarrow, Wanda' }))).counts.vanished,
    ).toBe(0)
  })

  const calendar = (...days: [uid: string, day: string][]): string =>
    [
      'BEGIN:VCALENDAR',
      ...days.flatMap(([uid, day]) => [
        'BEGIN:VEVENT',
        `UID:${uid}`,
        `DTSTART:${day.replaceAll('-', '')}T100000Z`,
        'DURATION:PT30M',
        `SUMMARY:Ashgrove\\, Aoife ${uid.toUpperCase()}: RCT 36`,
        'END:VEVENT',
      ]),
      'END:VCALENDAR',
    ].join('\r\n')
  const window = { from: '2026-11-24', to: '2027-01-23' }
  const week: [string, string][] = [
    ['a', '2026-11-24'],
    ['b', '2026-11-25'],
    ['c', '2026-11-26'],
  ]
  const vanishedIn = (
    file: string,
    options: Parameters<typeof importFile>[2] = {},
  ): (string | undefined)[] => {
    const before = importFile(smallClinic(), calendar(...week), { window }).world
    return importFile(before, file, { window, ...options })
      .world.appointment.filter(({ vanished }) => vanished !== null)
      .map(({ external }) => external?.externalId)
  }

  it('[appointment/vanished] a calendar speaks for the days between its first and its last, though it names none on them', () => {
    expect(vanishedIn(calendar(...week.filter(([uid]) => uid !== 'b')))).toEqual(['b'])
  })

  it('a calendar says nothing of days before and after its own, nor of what is past', () => {
    expect(vanishedIn(calendar(['b', '2026-11-25'], ['x', '2026-11-25']))).toEqual([])
    const later = { window: { from: '2026-11-26', to: '2027-01-23' } }
    expect(
      vanishedIn(calendar(['c', '2026-11-26'], ['x', '2026-11-26'], ['y', '2026-11-20']), later),
    ).toEqual([])
  })

  it('a list of nothing speaks for the days that a person says', () => {
    const day = { first: '2026-11-25', last: '2026-11-25' } as never
    expect(vanishedIn(calendar(), { wholeOf: day })).toEqual(['b'])
    expect(vanishedIn('Id,Date,Start,Patient\n', { wholeOf: day })).toEqual(['b'])
    expect(() => vanishedIn(calendar())).toThrow('nothing-read')
  })

  it('a part is missing nothing, where a person says that it is one', () => {
    expect(vanishedIn(calendar(...week.filter(([uid]) => uid !== 'b')), { wholeOf: null })).toEqual([])
  })

  it('a row that cannot be read still lists its appointment', () => {
    const before = importFile(smallClinic(), list(...two)).world
    const unread = importFile(
      before,
      list(row({ id: 'a' }), row({ id: 'b', start: 'soon', patient: 'Fennimore, Farid' })),
    )
    expect(unread.counts).toMatchObject({ vanished: 0, problems: 1, unchanged: 1 })
    expect(unread.world.importProblem[0]).not.toHaveProperty('externalId')
    const endless = calendar(...week).replace(
      'DTSTART:20261125T100000Z',
      'DTSTART;TZID=Nowhere:20261125T100000',
    )
    expect(vanishedIn(endless)).toEqual([])
  })

  it('so does a FHIR appointment that is not as the standard says, in any way', () => {
    const bundle = (...statuses: string[]): string =>
      JSON.stringify({
        resourceType: 'Bundle',
        type: 'searchset',
        entry: statuses.flatMap((status, index) => [
          { resource: { resourceType: 'Patient', id: `p${index}`, name: [{ text: `Ann Byrne${index}` }] } },
          {
            resource: {
              resourceType: 'Appointment',
              id: `a${index}`,
              status,
              start: '2026-11-24T10:00:00Z',
              minutesDuration: 30,
              participant: [{ actor: { reference: `Patient/p${index}` }, status: 'accepted' }],
            },
          },
        ]),
      })
    const before = importFile(smallClinic(), bundle('booked', 'booked', 'booked')).world
    const after = importFile(before, bundle('booked', 'rumoured', 'booked'))
    expect(after.counts).toMatchObject({ unchanged: 2, vanished: 0, problems: 1 })
  })

  it('a row that is asked about still lists its appointment', () => {
    const before = importFile(smallClinic(), list(...two)).world
    const doubled = importFile(
      before,
      list(
        row({ id: 'a' }),
        row({ id: 'b', start: '12:00', patient: 'Fennimore, Farid' }),
        row({ id: 'b', start: '13:00', patient: 'Fennimore, Farid' }),
      ),
    )
    expect(doubled.counts).toMatchObject({ vanished: 0, problems: 2, unchanged: 1 })
  })
})

describe('rows without ids', () => {
  it('are known again by name, birth date and start', () => {
    const before = importFile(smallClinic(), list(row({ id: '' }))).world
    expect(importFile(before, list(row({ id: '' }))).counts).toMatchObject({ new: 0, unchanged: 1 })
    expect(importFile(before, list(row({ id: '', minutes: '50' }))).counts).toMatchObject({
      new: 0,
      changed: 1,
    })
  })

  it('moved on the day are the same appointment where nothing else can be meant', () => {
    const before = importFile(smallClinic(), list(row({ id: '' }))).world
    const moved = importFile(before, list(row({ id: '', start: '15:30' })))
    expect(moved.counts).toMatchObject({ new: 0, changed: 1, vanished: 0 })
  })

  it('where two fit, it is asked', () => {
    const before = importFile(
      smallClinic(),
      list(row({ id: '' }), row({ id: '', operatory: '2', work: 'RCT 36' })),
    ).world
    const unclear = importFile(before, list(row({ id: '', operatory: '9', work: 'RCT 36' })))
    expect(unclear.counts).toMatchObject({ new: 0, changed: 0, vanished: 0, problems: 1 })
  })
})

describe('who is meant', () => {
  it('the same name and birth date is the same patient, another birth date another', () => {
    const { world } = importFile(
      smallClinic(),
      list(
        row({ id: 'a' }),
        row({ id: 'b', start: '11:00' }),
        row({ id: 'c', start: '12:00', born: '1961-02-03' }),
      ),
    )
    expect(world.patient).toHaveLength(2)
  })

  it('a name without a birth date beside one that has it is asked', () => {
    const before = importFile(smallClinic(), list(row())).world
    const asked = importFile(before, list(row(), row({ id: 'b', start: '11:00', born: '' })))
    expect(asked.counts).toMatchObject({ new: 0, problems: 1 })
    expect(asked.world.importProblem[0]).toMatchObject({ field: 'patient', life: { kind: 'open' } })
  })

  it('an unknown operatory or dentist is told and not invented, and mended once the name is mapped', () => {
    const before = importFile(smallClinic(), list(row({ operatory: 'Garden wing', dentist: 'Dr Who-ever' })))
    expect(before.counts).toMatchObject({ new: 1, problems: 2 })
    expect(before.world.operatory).toHaveLength(10)
    expect(appointmentOf(before.world)).toMatchObject({ operatoryId: null, dentistId: null })
    const source = must(before.world.importSource[0], 'a source')
    const map = NAME_COMMANDS['import.map']
    const input = map.input.parse({
      sourceId: source.id,
      names: [
        { kind: 'operatory', name: 'Garden wing', id: before.world.operatory[4]?.id },
        { kind: 'dentist', name: 'Dr Who-ever', id: before.world.member[2]?.id },
      ],
    })
    const learned = map.decide(before.world, input, context(before.world))
    if (!learned.ok) throw new Error('refused')
    const mended = importFile(
      applyChange(before.world, learned.value.change),
      list(row({ operatory: 'Garden wing', dentist: 'Dr Who-ever' })),
    )
    expect(appointmentOf(mended.world)).toMatchObject({
      operatoryId: before.world.operatory[4]?.id,
      dentistId: before.world.member[2]?.id,
    })
  })

  it('[import/name-unknown] a name cannot be mapped to nobody', () => {
    const { world } = importFile(smallClinic(), list(row()))
    const map = NAME_COMMANDS['import.map']
    const input = map.input.parse({
      sourceId: world.importSource[0]?.id,
      names: [{ kind: 'operatory', name: 'Attic', id: '12345678-0000-4000-8000-000000000000' }],
    })
    expect(map.decide(world, input, context(world))).toMatchObject({
      ok: false,
      reasons: [{ rule: 'import/name-unknown' }],
    })
  })
})

describe('allergies are never lowered', () => {
  const entry = (verification: string, clinical: string | null, more: object = {}) => ({
    resourceType: 'AllergyIntolerance',
    id: 'x',
    ...(clinical ? { clinicalStatus: { coding: [{ system: CLINICAL, code: clinical }] } } : {}),
    verificationStatus: { coding: [{ system: VERIFICATION, code: verification }] },
    code: { coding: [{ system: 'http://snomed.info/sct', code: '300916003' }], text: 'Latex allergy' },
    patient: { reference: 'Patient/p' },
    recordedDate: '2020-02-03T09:00:00Z',
    ...more,
  })
  const bundle = (...resources: object[]) =>
    JSON.stringify({
      resourceType: 'Bundle',
      type: 'collection',
      entry: [
        {
          resourceType: 'Patient',
          id: 'p',
          name: [{ family: 'Ashgrove', given: ['Aoife'] }],
          birthDate: '1990-05-01',
        },
        ...resources,
      ].map((resource) => ({ resource })),
    })

  it.each([
    // HL7 FHIR R4 verificationStatus and clinicalStatus (READ) → what is known here
    ['confirmed', 'active', 'confirmed', 'listed', 'confirmed'],
    ['unconfirmed', 'active', 'suspected', 'listed', 'suspected'],
    ['confirmed', 'resolved', 'past', 'not-asked', 'not-asked'],
    ['confirmed', 'inactive', 'past', 'not-asked', 'not-asked'],
    ['refuted', 'inactive', 'refuted', 'not-asked', 'not-asked'],
    ['confirmed', 'odd-code', 'suspected', 'listed', 'suspected'],
  ])('%s, %s is kept as %s', (verification, clinical, certainty, state, latex) => {
    const { world } = importFile(smallClinic(), bundle(entry(verification, clinical)))
    expect(world.allergyRecord[0]).toMatchObject({
      state,
      latex,
      allergies: [{ substance: 'latex', certainty }],
    })
  })

  it('entered in error was never one', () => {
    const { world } = importFile(smallClinic(), bundle(entry('entered-in-error', null)))
    expect(world.allergyRecord.flatMap(({ allergies }) => allergies)).toEqual([])
  })

  it.each([
    ['refuted', 'inactive'],
    ['confirmed', 'resolved'],
    ['unconfirmed', 'active'],
    ['entered-in-error', null],
  ] as const)(
    '[import/allergy-kept] a confirmed latex allergy stays when the source says %s',
    (verification, clinical) => {
      const before = importFile(smallClinic(), bundle(entry('confirmed', 'active'))).world
      const after = importFile(before, bundle(entry(verification, clinical)))
      expect(after.world.allergyRecord[0]).toMatchObject({
        state: 'listed',
        latex: 'confirmed',
        allergies: [{ certainty: 'confirmed' }],
      })
      expect(after.world.allergyRecord[0]?.statements).toHaveLength(1)
      expect(after.findings.map(({ rule }) => rule)).toContain('import/allergy-kept')
      expect(effect(importFile(after.world, bundle(entry(verification, clinical))))).toEqual([])
    },
  )

  it('criticality and severity are kept apart and only rise', () => {
    const mild = entry('confirmed', 'active', { criticality: 'high', reaction: [{ severity: 'mild' }] })
    const grave = entry('confirmed', 'active', { criticality: 'low', reaction: [{ severity: 'severe' }] })
    const { world } = importFile(importFile(smallClinic(), bundle(mild)).world, bundle(grave))
    expect(world.allergyRecord[0]?.allergies[0]).toMatchObject({ criticality: 'high', severity: 'severe' })
  })

  it('"no known allergy" is an answer, nothing recorded is none, and neither speaks of latex', () => {
    const nka = entry('confirmed', 'active', {
      code: { coding: [{ system: 'http://snomed.info/sct', code: '716186003' }], text: 'NKA' },
    })
    const { world } = importFile(smallClinic(), bundle(nka))
    expect(world.allergyRecord[0]).toMatchObject({
      state: 'none-known',
      latex: 'not-asked',
      asked: { day: '2020-02-03' },
    })
    const listed = importFile(
      importFile(smallClinic(), bundle(entry('confirmed', 'active'))).world,
      bundle(nka),
    ).world
    expect(listed.allergyRecord[0]).toMatchObject({ state: 'listed', latex: 'confirmed' })
  })
})

describe('cancelled after its tray was begun', () => {
  const before = importFile(smallClinic(), list(row())).world
  const { id: appointmentId, clinicId } = appointmentOf(before)
  const tray: World['tray'][number] = {
    clinicId,
    id: 'tray' as TrayId,
    appointmentId,
    kits: ['dam-base'],
    planNumber: 1,
    standby: false,
    life: { kind: 'claimed', by: DESK.id, since: MORNING, touched: MORNING },
    done: 2,
    of: 9,
    firstMissing: null,
    contains: [],
  }
  const rulesAfter = (life: typeof tray.life, ...rows: string[]) =>
    importFile({ ...before, tray: [{ ...tray, life }] }, list(...rows)).findings.map(({ rule }) => rule)

  it('[import/tray-released] that it is given back is told, where the visit is not booked again', () => {
    const cancelled = row({ status: 'cancelled' })
    expect(rulesAfter(tray.life, cancelled)).toContain('import/tray-released')
    expect(
      rulesAfter({ kind: 'laid-out', by: DESK.id, at: MORNING } as typeof tray.life, cancelled),
    ).toContain('import/tray-released')
    expect(rulesAfter(tray.life, cancelled, row({ id: 'b', start: '14:00' }))).not.toContain(
      'import/tray-released',
    )
    expect(rulesAfter({ kind: 'needed' } as typeof tray.life, cancelled)).toEqual([])
  })

  it('[import/tray-carried] what was begun on the tray goes over to the new visit, with its claim', () => {
    const after = importFile(
      { ...before, tray: [tray] },
      list(row({ status: 'cancelled' }), row({ id: 'b', start: '14:00' })),
    )
    const again = must(
      after.world.appointment.find(({ startsAt }) => startsAt === '14:00'),
      'the new visit',
    )
    expect(after.world.tray).toEqual([{ ...tray, appointmentId: again.id }])
    expect(after.findings).toContainEqual({
      rule: 'import/tray-carried',
      level: 'note',
      about: `appointment:${again.id}`,
      from: appointmentId,
    })
  })
})

describe('rows to be settled', () => {
  const broken = list(row(), row({ id: 'b', start: 'after lunch', patient: 'Yarrow, Wanda' }))

  it('[import/row-open] are kept with their original text, once', () => {
    const first = importFile(smallClinic(), broken)
    expect(first.world.importProblem).toMatchObject([{ line: 3, field: 'start', life: { kind: 'open' } }])
    expect(first.world.importProblem[0]?.original).toContain('after lunch')
    expect(first.findings.map(({ rule }) => rule)).toContain('import/row-open')
    expect(importFile(first.world, broken).world.importProblem).toHaveLength(1)
  })

  it('[import/problem-settled] [import/problem-unknown] are settled once, and only if they are there', () => {
    const { world } = importFile(smallClinic(), broken)
    const settle = IMPORT_COMMANDS['import.settle']
    const input = settle.input.parse({
      problemId: world.importProblem[0]?.id,
      appointmentId: null,
      note: 'phoned: comes tomorrow',
    })
    const settled = settle.decide(world, input, context(world))
    if (!settled.ok) throw new Error('refused')
    const after = applyChange(world, settled.value.change)
    expect(after.importProblem[0]?.life).toMatchObject({ kind: 'settled', note: 'phoned: comes tomorrow' })
    expect(settle.decide(after, input, context(after))).toMatchObject({
      ok: false,
      reasons: [{ rule: 'import/problem-settled' }],
    })
    expect(settle.decide(smallClinic(), input, context(world))).toMatchObject({
      ok: false,
      reasons: [{ rule: 'import/problem-unknown' }],
    })
  })

  it('[import/nothing-read] a file with nothing in it is refused', () => {
    expect(() => importFile(smallClinic(), 'Date,Time,Patient\r\n')).toThrow('import/nothing-read')
  })
})
