import { describe, expect, test } from 'vitest'
import { readNow } from '#server/imports/read-upload.ts'
import { must } from '#shared/base/assert.ts'
import { applyChange, putting } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import { namesOf } from '#shared/schedule/import-batch.ts'
import { NAME_COMMANDS } from '#shared/schedule/name-commands.ts'
import { reconcile } from '#shared/schedule/reconcile.ts'
import {
  DAY,
  DESK,
  importFile,
  list,
  MORNING,
  OPTIONS,
  row,
  smallClinic,
} from '../../server/imports/small-clinic.ts'

const MAP = NAME_COMMANDS['import.map']
let made = 0
const context = (world: World) => ({
  clinicId: must(world.clinic[0], 'a clinic').id,
  now: MORNING,
  today: DAY,
  by: DESK,
  station: 'test',
  newId: <Id>() => `77777777-0000-4000-8000-${String(++made).padStart(12, '0')}` as Id,
  journal: null,
})

function mapped(world: World, input: object): World {
  const decision = MAP.decide(world, MAP.input.parse(input), context(world))
  if (!decision.ok) throw new Error(`refused: ${JSON.stringify(decision.reasons)}`)
  return applyChange(world, decision.value.change)
}
const refused = (world: World, input: object): string[] => {
  const decision = MAP.decide(world, MAP.input.parse(input), context(world))
  return decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
}

const FILE = list(
  row({ id: 'a', operatory: 'Surgery 22', dentist: 'Dr X' }),
  row({ id: 'b', operatory: 'surgery  22.', dentist: 'Dr Corrigan', start: '11:00', patient: 'Bell, Bo' }),
)
const namesIn = (world: World) => {
  const { incoming } = readNow(Buffer.from(FILE), 'day', OPTIONS)
  const source = must(world.importSource[0], 'a source')
  const run = {
    source,
    appointments: incoming.appointments,
    allergies: [],
    covers: null,
    problems: [],
  }
  return reconcile(world, run, { ...context(world), by: DESK.id }).names
}
const forFiles = (world: World, names: object[]) => ({
  sourceId: null,
  sourceName: OPTIONS.source,
  notation: 'iso',
  names: names.map((name) => ({
    kind: 'operatory',
    name: 'Surgery 22',
    id: world.operatory[3]?.id,
    ...name,
  })),
})

// COMMON: what a name means is said by a person, once for each source.
describe('names as files spell them', () => {
  test('each unknown name is told once, with how many rows use it', () => {
    const world = mapped(smallClinic(), forFiles(smallClinic(), []))
    expect(namesIn(world)).toEqual([
      { kind: 'operatory', name: 'Surgery 22', rows: 2 },
      { kind: 'dentist', name: 'Dr X', rows: 1 },
    ])
  })

  test('said before its first file, a name is remembered for a source that is made for it', () => {
    const clinic = smallClinic()
    const world = mapped(
      clinic,
      forFiles(clinic, [{}, { kind: 'dentist', name: 'Dr X', id: clinic.member[2]?.id }]),
    )
    expect(world.importSource).toMatchObject([{ name: OPTIONS.source, notation: 'iso' }])
    const read = importFile(world, FILE)
    expect(read.counts).toMatchObject({ new: 2, problems: 0 })
    expect(read.world.importSource).toHaveLength(1)
    expect(read.world.appointment.map(({ operatoryId }) => operatoryId)).toEqual([
      clinic.operatory[3]?.id,
      clinic.operatory[3]?.id,
    ])
    expect(importFile(read.world, FILE).counts).toMatchObject({ unchanged: 2, problems: 0 })
  })

  test('said after the file was taken, its rows find their place when it comes again, and nothing is left to settle', () => {
    const before = importFile(smallClinic(), FILE).world
    expect(before.importProblem.map(({ field }) => field)).toEqual(['operatory', 'dentist', 'operatory'])
    const half = importFile(mapped(before, forFiles(before, [{}])), FILE)
    const open = half.world.importProblem.filter(({ life }) => life.kind === 'open')
    expect(open.map(({ field }) => field)).toEqual(['dentist'])
    const whole = importFile(
      mapped(half.world, forFiles(before, [{ kind: 'dentist', name: 'DR. X', id: before.member[2]?.id }])),
      FILE,
    )
    expect(whole.world.importProblem.filter(({ life }) => life.kind === 'open')).toEqual([])
    expect(whole.world.appointment[0]).toMatchObject({ dentistId: before.member[2]?.id })
  })

  test('another meaning counts from then on, and a name that is forgotten is asked again', () => {
    const clinic = smallClinic()
    const once = mapped(clinic, forFiles(clinic, [{}]))
    const source = must(once.importSource[0], 'a source')
    const corrected = mapped(once, {
      sourceId: source.id,
      names: [{ kind: 'operatory', name: 'surgery 22', id: clinic.operatory[5]?.id }],
    })
    expect(namesOf(must(corrected.importSource[0], 'a source'))).toEqual([
      { kind: 'operatory', name: 'surgery 22', id: clinic.operatory[5]?.id },
    ])
    expect(namesIn(corrected).map(({ name }) => name)).toEqual(['Dr X'])
    const forgotten = mapped(corrected, {
      sourceId: source.id,
      names: [{ kind: 'operatory', name: 'surgery 22', id: null }],
    })
    expect(namesOf(must(forgotten.importSource[0], 'a source'))).toEqual([])
    expect(namesIn(forgotten).map(({ name }) => name)).toEqual(['Surgery 22', 'Dr X'])
  })

  test('[room/retired] [person/cannot-treat] a name means an operatory in use and somebody who may treat', () => {
    const clinic = smallClinic()
    const room = must(clinic.operatory[3], 'ten operatories')
    const world = applyChange(clinic, putting('operatory', { ...room, retiredAt: MORNING }))
    expect(refused(world, forFiles(world, [{}]))).toEqual(['room/retired'])
    const desk = { kind: 'dentist', name: 'Nell', id: DESK.id }
    expect(refused(world, forFiles(world, [desk]))).toEqual(['person/cannot-treat'])
  })

  test('[import/problem-unknown] a source that is neither known nor named learns nothing', () => {
    const world = smallClinic()
    const names = [{ kind: 'operatory', name: 'Surgery 22', id: world.operatory[3]?.id }]
    expect(refused(world, { sourceId: null, names })).toEqual(['import/problem-unknown'])
    expect(refused(world, { sourceId: DESK.id, names })).toEqual(['import/problem-unknown'])
  })
})
