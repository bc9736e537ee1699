import { z } from 'zod'
import { type Grams, grams } from '../base/amount.ts'
import { ok, type Result, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { PatientId } from '../ids.ts'
import { day, id, saw } from '../inputs.ts'
import { judgeShown, shownHistory } from '../readiness/shown.ts'
import type { Patient } from './patient.ts'

const words = z.string().trim().min(1).max(500)
const thePatient = z.object({ patientId: id<PatientId>() })
const ofPatient = ({ patientId }: { patientId: PatientId }) => ({ patients: [patientId] })

/** A decision about a patient who is known here. */
function decideFor<Input extends { patientId: PatientId }>(
  decide: (patient: Patient, input: Input, context: CommandContext) => Result<Patient, Finding>,
) {
  return (world: World, input: Input, context: CommandContext): Decision => {
    const patient = findFact(world, 'patient', input.patientId)
    if (!patient)
      return refuse({ rule: 'patient/unknown', level: 'stop', about: `patient:${input.patientId}` })
    const decided = decide(patient, input, context)
    return decided.ok ? ok({ change: putting('patient', decided.value), findings: [] }) : decided
  }
}

const UNITS = ['kg', 'lb'] as const
const weighing = thePatient.extend({ value: z.string().trim().min(1).max(12), unit: z.enum(UNITS) })
const LIGHTEST_GRAMS = 500
const HEAVIEST_GRAMS = 650_000

/**
 * Whole grams of a weight as it was written, point or comma; rounded down, so that no limit grows by rounding.
 * 1 lb is 453.59237 g exactly. Null where it is not a weight a person can have.
 */
export function readWeight(value: string, unit: (typeof UNITS)[number]): Grams | null {
  const [, whole, part = ''] = /^(\d{1,4})(?:[.,](\d{1,3}))?$/.exec(value.trim()) ?? []
  if (whole === undefined) return null
  const thousandths = Number(whole) * 1000 + Number(part.padEnd(3, '0'))
  const found = unit === 'kg' ? thousandths : Math.floor((thousandths * 45_359_237) / 100_000_000)
  return found < LIGHTEST_GRAMS || found > HEAVIEST_GRAMS ? null : grams(found)
}

const weigh = decideFor<z.infer<typeof weighing>>((patient, { value, unit }, { by, now }) => {
  const weight = readWeight(value, unit)
  if (weight === null) {
    const entered = `${value} ${unit}`
    return refuse({ rule: 'weight/impossible', level: 'stop', about: `patient:${patient.id}`, entered })
  }
  return ok({ ...patient, weight: { grams: weight, entered: { value, unit }, by: by.id, at: now } })
})

/** Today's history was gone through with the patient; what is new is added, what was there stays. */
const confirming = thePatient.extend({ added: z.array(words).max(20).default([]), saw })
const confirmHistory = decideFor<z.infer<typeof confirming>>((patient, { added, saw }, { by, now }) => {
  const about = `patient:${patient.id}`
  const moved = judgeShown(saw, { stands: shownHistory(patient), what: 'history', about })
  if (moved.length > 0) return refuse(...moved)
  return ok({
    ...patient,
    history: [...patient.history, ...added.map((text) => ({ text, by: by.id, at: now }))],
    historyConfirmed: { by: by.id, at: now },
  })
})

/** Who came with the patient. A relative interprets only for a reason, which is kept. */
const companion = z.union([
  z.object({ kind: z.literal('guardian'), relation: words.optional() }),
  z.object({ kind: z.literal('interpreter'), who: z.enum(['professional', 'staff']) }),
  z.object({ kind: z.literal('interpreter'), who: z.literal('relative'), reason: words }),
])
const accompanying = thePatient.extend({ companion })

const recordCompanion = decideFor<z.infer<typeof accompanying>>((patient, input, { by, now }) => {
  const came = input.companion
  const about = `patient:${patient.id}`
  if (came.kind === 'guardian') {
    const relation = patient.guardian?.relation ?? came.relation
    if (relation === undefined) {
      return refuse({ rule: 'patient/no-companion', level: 'stop', about, needs: 'guardian' })
    }
    const present = { relation: came.relation ?? null, by: by.id, at: now }
    return ok({ ...patient, guardian: { relation, present } })
  }
  if (patient.interpreter === null) {
    return refuse({ rule: 'patient/no-companion', level: 'stop', about, needs: 'interpreter' })
  }
  const reason = came.who === 'relative' ? came.reason : ''
  const present = { kind: came.who, reason, by: by.id, at: now }
  return ok({ ...patient, interpreter: { ...patient.interpreter, present } })
})

const changing = thePatient.extend({
  given: z.string().trim().min(1).max(120).optional(),
  family: z.string().trim().min(1).max(120).optional(),
  born: day.nullable().optional(),
  /** Who accompanies and permits; null: comes for themselves. */
  guardian: words.nullable().optional(),
  /** The language an interpreter is needed for; null: none. */
  interpreter: words.nullable().optional(),
})

const changePatient = decideFor<z.infer<typeof changing>>((patient, input) =>
  ok({
    ...patient,
    given: input.given ?? patient.given,
    family: input.family ?? patient.family,
    born: input.born === undefined ? patient.born : input.born,
    guardian: changed(input.guardian, patient.guardian, (relation) => ({ relation, present: null })),
    interpreter: changed(input.interpreter, patient.interpreter, (language) => ({ language, present: null })),
  }),
)

/** Left out: as it was. Null: none. A word: a new one, of whom nothing is recorded yet. */
const changed = <T>(
  asked: string | null | undefined,
  stood: T | null,
  make: (asked: string) => T,
): T | null => {
  if (asked === undefined) return stood
  return asked === null ? null : make(asked)
}

export const PATIENT_COMMANDS = {
  'patient.change': commandRule({
    kind: 'patient.change',
    needs: 'day:change',
    input: changing,
    reach: ofPatient,
    decide: changePatient,
  }),
  'patient.weigh': commandRule({
    kind: 'patient.weigh',
    needs: 'patient:identify',
    input: weighing,
    reach: ofPatient,
    decide: weigh,
  }),
  'history.confirm': commandRule({
    kind: 'history.confirm',
    needs: 'patient:identify',
    input: confirming,
    reach: ofPatient,
    decide: confirmHistory,
  }),
  'companion.record': commandRule({
    kind: 'companion.record',
    needs: 'patient:allergies',
    input: accompanying,
    reach: ofPatient,
    decide: recordCompanion,
  }),
}
