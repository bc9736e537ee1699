import { z } from 'zod'
import { refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { AllergyRecordId, PatientId } from '../ids.ts'
import { can } from '../people/role.ts'
import { type Allergy, type AllergyRecord, REACTION_SEVERITIES } from './allergy-record.ts'
import { addAllergy, emptyRecord, isLive, lowersLatex } from './record.ts'
import { readStatement } from './statement.ts'
import { SUBSTANCES, type Substance } from './substance.ts'

const patientId = z.uuid().transform((id) => id as PatientId)
const reach = (input: { patientId: PatientId }) => ({ patients: [input.patientId] })
const text = z.string().trim().max(500)

const answer = z.object({
  substance: z.enum(SUBSTANCES),
  certainty: z.enum(['suspected', 'confirmed', 'preference', 'past']),
  severity: z.enum(REACTION_SEVERITIES).default('unknown'),
  criticality: z.enum(['low', 'high', 'unable-to-assess']).nullable().default(null),
  /** The patient's own words. */
  text,
})
const answers = z.object({
  patientId,
  /** Null: allergies in general were not asked now. Listed: those on record and among these answers, and no others. */
  state: z.enum(['asked-unknown', 'none-known', 'listed']).nullable(),
  /** Null: latex was not asked now. "No known drug allergies" says nothing of it. */
  latex: z.enum(['asked-unknown', 'none-known', 'suspected', 'confirmed']).nullable(),
  allergies: z.array(answer).max(50).default([]),
})
type Answers = z.output<typeof answers>

interface At {
  record: AllergyRecord
  context: CommandContext
}

function onRecord(
  { world, context, id }: { world: World; context: CommandContext; id: PatientId },
  decide: (at: At) => Decision,
): Decision {
  if (!findFact(world, 'patient', id)) {
    return refuse({ rule: 'allergies/patient-unknown', level: 'stop', about: `patient:${id}`, id })
  }
  const record =
    world.allergyRecord.find((each) => each.patientId === id) ??
    emptyRecord(context.clinicId, context.newId<AllergyRecordId>(), id)
  return decide({ record, context })
}

const put = (record: AllergyRecord, findings: Finding[] = []): Decision => ({
  ok: true,
  value: { change: putting('allergyRecord', record), findings },
})

const askedBy = ({ context }: At) => ({ by: context.by.id, at: context.now, day: context.today })

/** What the patient answered today. It adds and raises; a suspicion is cleared by a clinician alone. */
function record(at: At, given: Answers): Decision {
  const about = `patient:${given.patientId}`
  const latex = latexOf(given) ?? at.record.latex
  if (lowersLatex(at.record.latex, latex)) {
    return contradict(at, { rule: 'allergies/would-lower', level: 'stop', about, substance: 'latex' })
  }
  const allergies = entriesOf(at, given).reduce(addAllergy, at.record.allergies)
  const listed = allergies.filter(isLive)
  const others = listed.filter(({ substance }) => substance !== 'latex')
  if (given.state === 'none-known' && others.length > 0) {
    const substances = others.map(({ substance }) => substance)
    return contradict(at, { rule: 'allergies/none-but-listed', level: 'stop', about, substances })
  }
  return put({
    ...at.record,
    state: listed.length > 0 ? 'listed' : stateOf(given, at.record),
    // One allergy told is no answer about the others.
    asked: given.state === null ? at.record.asked : askedBy(at),
    latex,
    latexAsked: latexOf(given) === null ? at.record.latexAsked : askedBy(at),
    allergies,
  })
}

/** "Those listed" beside an empty list says that there is something, not what. */
const stateOf = ({ state }: Answers, { state: before }: AllergyRecord): AllergyRecord['state'] =>
  state === 'listed' ? 'asked-unknown' : (state ?? before)

/** Whoever may not read the record is told that it says otherwise, never what it says. */
const contradict = ({ context }: At, finding: Finding): Decision =>
  can(context.by.roles, 'clinical:read')
    ? refuse(finding)
    : refuse({ rule: 'allergies/contradicts-record', level: 'stop', about: finding.about })

/** Latex named among the answers is an answer about latex. */
function latexOf({ latex, allergies }: Answers): AllergyRecord['latex'] | null {
  const named = allergies.filter(({ substance }) => substance === 'latex').map(({ certainty }) => certainty)
  if (latex === 'confirmed' || named.includes('confirmed')) return 'confirmed'
  return named.includes('suspected') ? 'suspected' : latex
}

/** Latex answered by itself stands in the list too, so that its words and date are kept with it. */
function entriesOf(at: At, given: Answers): Allergy[] {
  const recorded = { by: at.context.by.id, at: at.context.now, source: 'asked' }
  const entries = given.allergies.map((each): Allergy => ({ ...each, code: null, recorded }))
  const isAlone = !entries.some(({ substance }) => substance === 'latex')
  return isAlone && (given.latex === 'suspected' || given.latex === 'confirmed')
    ? [...entries, { ...bareEntry('latex', given.latex), recorded }]
    : entries
}

const bareEntry = (substance: Substance, certainty: Allergy['certainty']): Omit<Allergy, 'recorded'> => ({
  substance,
  certainty,
  severity: 'unknown',
  criticality: null,
  text: substance,
  code: null,
})

/** A clinician clears a suspicion; the entry stays, refuted, with who and why in the journal. */
function clear(at: At, substance: Substance): Decision {
  const about = `patient:${at.record.patientId}`
  const latexLive = at.record.latex === 'suspected' || at.record.latex === 'confirmed'
  const live = at.record.allergies.filter((each) => each.substance === substance && isLive(each))
  if (live.length === 0 && !(substance === 'latex' && latexLive)) {
    return refuse({ rule: 'allergies/nothing-to-clear', level: 'stop', about, substance })
  }
  const allergies = at.record.allergies.map((each) =>
    live.includes(each) ? { ...each, certainty: 'refuted' as const } : each,
  )
  return put({
    ...at.record,
    state: allergies.some(isLive) ? at.record.state : unlisted(at.record),
    allergies,
    ...(substance === 'latex' ? { latex: 'none-known' as const, latexAsked: askedBy(at) } : {}),
  })
}

/** Where the last entry falls: "none" as of the day all were asked about, else still not asked. */
const unlisted = ({ state, asked }: AllergyRecord): AllergyRecord['state'] =>
  state !== 'listed' ? state : asked === null ? 'not-asked' : 'none-known'

/**
 * A reaction noted at a visit. Words that ask about a substance make it suspected, at every site, until cleared; what
 * nobody can read is asked of the dentist, at every site, until allergies are asked anew.
 */
function react(at: At, given: { text: string; severity: Allergy['severity'] }): Decision {
  const { context } = at
  const reading = readStatement(given.text)
  const recorded = { by: context.by.id, at: context.now, source: 'visit' }
  const statements = [...at.record.statements, { text: given.text, source: 'visit', at: context.now }]
  if (reading.kind !== 'possible') {
    const about = `patient:${at.record.patientId}`
    const { text } = given
    return put({ ...at.record, statements }, [
      reading.kind === 'unread'
        ? { rule: 'allergy/reaction-unread', level: 'ask', about, text }
        : { rule: 'allergy/words', level: 'note', about, text },
    ])
  }
  const entries = reading.substances.map((substance) => ({
    ...bareEntry(substance, 'suspected'),
    severity: given.severity,
    text: given.text,
    recorded,
  }))
  const raised = reading.substances.includes('latex') && !lowersLatex(at.record.latex, 'suspected')
  return put({
    ...at.record,
    state: 'listed',
    allergies: entries.reduce(addAllergy, at.record.allergies),
    statements,
    ...(raised ? { latex: 'suspected' as const, latexAsked: askedBy(at) } : {}),
  })
}

export const ALLERGY_COMMANDS = {
  'allergies.record': commandRule({
    kind: 'allergies.record',
    needs: 'patient:allergies',
    input: answers,
    reach,
    decide: (world, input, context) =>
      onRecord({ world, context, id: input.patientId }, (at) => record(at, input)),
  }),
  'allergies.clear': commandRule({
    kind: 'allergies.clear',
    needs: 'word:give',
    input: z.object({ patientId, substance: z.enum(SUBSTANCES), reason: text.min(1) }),
    reach,
    decide: (world, input, context) =>
      onRecord({ world, context, id: input.patientId }, (at) => clear(at, input.substance)),
  }),
  'reaction.record': commandRule({
    kind: 'reaction.record',
    needs: 'patient:allergies',
    input: z.object({
      patientId,
      text: text.min(1),
      severity: z.enum(REACTION_SEVERITIES).default('unknown'),
    }),
    reach,
    decide: (world, input, context) =>
      onRecord({ world, context, id: input.patientId }, (at) => react(at, input)),
  }),
}
