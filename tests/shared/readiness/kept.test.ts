import fc from 'fast-check'
import { expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange, type Change, putting } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId, PatientId, RosterId, VisitId, WorkId } from '#shared/ids.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { VISIT_STAGES } from '#shared/schedule/appointment.ts'
import {
  ASSISTANT,
  appointment,
  at,
  CLINIC,
  DAY,
  DENTIST,
  having,
  idOf,
  OTHER_DENTIST,
  operatory,
  SITE,
  scene,
  visit,
  word,
  work,
} from './scene.ts'

/** Four appointments over two rooms and two dentists, so that each leans on others. */
function fourfold(): World {
  const patient = must(scene().patient[0], 'one')
  return [0, 1, 2].reduce<World>(
    (world, n) => {
      const id = idOf<AppointmentId>(400 + n)
      const patientId = idOf<PatientId>(430 + n)
      return applyChange(world, {
        put: {
          patient: [
            {
              ...patient,
              id: patientId,
              given: ['Ada', 'Bea', 'Cy'][n] ?? 'Di',
              family: `Quay${'abc'.repeat(n + 1)}`,
            },
          ],
          appointment: [
            appointment(400 + n, {
              patientId,
              start: at(60 * (n + 1)),
              operatoryId: n === 1 ? idOf(5) : idOf(3),
            }),
          ],
          work: [work({ id: idOf<WorkId>(410 + n), appointmentId: id })],
        },
        remove: {},
      })
    },
    having(scene(), 'operatory', operatory(5, 2)),
  )
}

const pick = <T>(list: readonly T[], n: number): T => must(list[n % list.length], 'a list with members')

const EDITS: readonly ((world: World, n: number) => Change)[] = [
  (world, n) => {
    const booked = pick(world.appointment, n)
    return putting('visit', {
      ...visit(pick(VISIT_STAGES.slice(1), n >> 2)),
      id: idOf<VisitId>(600 + (n % 4)),
      appointmentId: booked.id,
    })
  },
  (world, n) => putting('appointment', { ...pick(world.appointment, n), start: at(30 * (n % 8)) }),
  (world, n) =>
    putting('appointment', {
      ...pick(world.appointment, n),
      dentistId: n & 4 ? DENTIST.id : OTHER_DENTIST.id,
      operatoryId: n & 8 ? idOf(3) : idOf(5),
    }),
  (world, n) =>
    putting('appointment', { ...pick(world.appointment, n), status: n & 4 ? 'cancelled' : 'booked' }),
  (world, n) =>
    putting('patient', { ...pick(world.patient, n), family: n & 4 ? 'Orrery' : 'Orrory', given: 'Ada' }),
  (world, n) =>
    putting('allergyRecord', {
      ...must(world.allergyRecord[0], 'one'),
      latex: n & 1 ? 'confirmed' : 'not-asked',
    }),
  (_, n) => putting('word', word(n & 1 ? {} : { life: { kind: 'lapsed', at: at(n % 60), why: 'stopped' } })),
  (world, n) =>
    putting('tray', {
      ...must(world.tray[0], 'one'),
      life: { kind: n & 1 ? 'needed' : 'held', at: at(0), why: 'pack', before: 'checked' } as never,
    }),
  (world, n) =>
    putting('occupancy', {
      ...must(world.occupancy[0], 'one'),
      life:
        n & 1
          ? { kind: 'clear', since: at(0) }
          : { kind: 'turning-over', since: at(0), done: ['light'], latexUsed: false },
    }),
  (_, n) =>
    putting('roster', {
      clinicId: CLINIC,
      id: idOf<RosterId>(650),
      memberId: n & 1 ? DENTIST.id : ASSISTANT.id,
      siteId: SITE,
      day: DAY,
      start: at(-60),
      away: null,
      end: at(n % 300),
    }),
  (world, n) =>
    putting('policySet', {
      ...must(world.policySet[0], 'one'),
      word: { liveMinutes: n % 120, twoStepForStudents: true },
    }),
]

test('a board judged from what was kept equals one judged afresh, after any change and at any minute', () => {
  const edits = fc.array(
    fc.tuple(fc.nat({ max: EDITS.length - 1 }), fc.nat({ max: 500 }), fc.constantFrom(-60, -60, -60, 30)),
    {
      minLength: 2,
      maxLength: 12,
    },
  )
  fc.assert(
    fc.property(edits, (steps) => {
      let world = fourfold()
      for (const [which, n, minute] of steps) {
        world = applyChange(world, pick(EDITS, which)(world, n))
        const asked = { siteId: SITE, day: DAY, now: at(minute) }
        expect(boardFor(world, asked)).toEqual(boardFor(structuredClone(world), asked))
      }
    }),
    { numRuns: 300 },
  )
})
