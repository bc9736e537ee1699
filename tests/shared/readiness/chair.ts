import type { Dose, PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { microlitres } from '#shared/base/amount.ts'
import { must } from '#shared/base/assert.ts'
import type { Gate } from '#shared/base/rule.ts'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import { decide, findCommandRule } from '#shared/decide.ts'
import type { World } from '#shared/facts.ts'
import type { Member } from '#shared/people/clinic.ts'
import { judgeGate } from '#shared/readiness/gate.ts'
import type { Visit, VisitStage } from '#shared/schedule/appointment.ts'
import {
  ASSISTANT,
  at,
  CLINIC,
  context,
  DENTIST,
  having,
  idOf,
  opened,
  READ_LABEL,
  scene,
  VISITED,
  visit,
  withLabels,
  word,
} from './scene.ts'

/** The scene's patient in the chair at 08:51, everything said and agreed up to the needle. */
export function inChair(stage: VisitStage = 'seated', more: Partial<Visit> = {}): World {
  const readBack = { teeth: ['46' as const], planNumber: 1, by: DENTIST.id, at: at(-6) }
  const world = opened(withLabels(scene(), READ_LABEL))
  const patient = world.patient.map((each) => ({
    ...each,
    historyConfirmed: { by: ASSISTANT.id, at: at(-9) },
  }))
  const occupied = having({ ...world, patient, word: [word()] }, 'occupancy', {
    ...must(world.occupancy[0], 'one room'),
    life: { kind: 'occupied', appointmentId: VISITED, since: at(-9) },
  })
  return having(occupied, 'visit', visit(stage, { readBack, ...more }))
}

/** One cartridge of the lidocaine whose label was read, as a block at 46. */
export const BLOCK: PlannedDose = {
  agent: 'lidocaine',
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
  cartridge: microlitres(1700),
  technique: 'block',
  tooth: '46',
  side: 'right',
  tenthsOfCartridge: 10,
}

/** The same as given at 08:52. */
export const GIVEN: Dose = {
  ...BLOCK,
  clinicId: CLINIC,
  id: idOf(700),
  appointmentId: VISITED,
  patientId: idOf(30),
  by: DENTIST.id,
  at: at(-8),
}

/** Every command makes its ids from its own hundred. */
const ids = { next: 2000 }
/** What comes of a command on the scene's appointment, decided as the server decides it. Minutes count from 09:00. */
export function asks(
  world: World,
  kind: string,
  input: object = {},
  { by = DENTIST, minute = -5 }: { by?: Member; minute?: number } = {},
): Decision {
  const rule = must(findCommandRule(kind), `a command is called ${kind}`)
  const parsed = rule.input.parse({ appointmentId: VISITED, ...input })
  ids.next += 100
  return decide(world, { kind, input: parsed }, context(by, at(minute), ids.next))
}
export const refusals = (...parameters: Parameters<typeof asks>): string[] => {
  const decision = asks(...parameters)
  return decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
}
/** The world after it. The tray stays as the scene has it, opened and without lines of its own. */
export function does(...parameters: Parameters<typeof asks>): World {
  const decision = asks(...parameters)
  if (!decision.ok) throw new Error(`refused: ${decision.reasons.map(({ rule }) => rule).join()}`)
  return { ...applyChange(parameters[0], decision.value.change), tray: parameters[0].tray }
}

/** Rules that keep a gate shut, each once. */
export const shutting = (world: World, gate: Gate, minute = -5): string[] => [
  ...new Set(judgeGate(world, { appointmentId: VISITED, gate, now: at(minute) }).map(({ rule }) => rule)),
]
