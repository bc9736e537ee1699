import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId, WorkId } from '../ids.ts'
import { id, saw } from '../inputs.ts'
import { judgeShown, shownWork } from '../readiness/shown.ts'
import { NOTATIONS } from '../teeth/notation-names.ts'
import { parseTeeth } from '../teeth/parse-teeth.ts'
import { SURFACES, TEETH, type Tooth } from '../teeth/tooth.ts'
import { asksWhoFirst, isNamedOtherwise } from './who-first.ts'
import { WORD_COMMANDS } from './word-commands.ts'
import { PROCEDURE_KINDS, TOOTH_SOURCES, type ToothMention, type Work } from './work.ts'

const nameInput = z.object({
  appointmentId: id<AppointmentId>(),
  /** Null: a further line of work. */
  workId: id<WorkId>().nullable(),
  kind: z.enum(PROCEDURE_KINDS),
  teeth: z.array(z.enum(TEETH)).max(52).default([]),
  surfaces: z.partialRecord(z.enum(TEETH), z.array(z.enum(SURFACES)).min(1).max(7)).default({}),
  text: z.string().trim().max(500).default(''),
  /** The dentist has looked: sources that name another tooth no longer count, their words stay. */
  settles: z.boolean().default(false),
  saw,
})
type NameInput = z.infer<typeof nameInput>

function decideName(world: World, input: NameInput, context: CommandContext): Decision {
  const appointment = findFact(world, 'appointment', input.appointmentId)
  if (!appointment) return unknownAppointment(input.appointmentId)
  const elsewhere = TEETH.filter((tooth) => input.surfaces[tooth] && !input.teeth.includes(tooth))
  if (elsewhere.length > 0) {
    return refuse({
      rule: 'work/surface-elsewhere',
      level: 'stop',
      about: `appointment:${appointment.id}`,
      teeth: elsewhere,
    })
  }
  const known = input.workId === null ? newWork(world, input, context) : findFact(world, 'work', input.workId)
  if (!known || known.appointmentId !== appointment.id) return unknownWork(input.workId ?? '')
  if (input.workId !== null) {
    const about = `appointment:${appointment.id}`
    const moved = judgeShown(input.saw, { stands: shownWork([known]), what: 'work', about })
    if (moved.length > 0) return refuse(...moved)
  }
  const teeth = [...new Set(input.teeth)]
  const visit = world.visit.find((each) => each.appointmentId === appointment.id) ?? null
  const isOtherwise = isNamedOtherwise(input.workId === null ? null : known, { kind: input.kind, teeth })
  if (isOtherwise && asksWhoFirst(visit, context.now)) {
    return refuse({ rule: 'work/who-first', level: 'stop', about: `appointment:${appointment.id}` })
  }
  const named: Work = {
    ...known,
    kind: input.kind,
    teeth,
    surfaces: input.surfaces,
    mentions: known.mentions.map((mention) => clearMention(mention, { teeth, settles: input.settles })),
  }
  return ok({ change: putting('work', named), findings: judgeLeftOut(world, named) })
}

const unknownAppointment = (appointmentId: AppointmentId): Decision =>
  refuse({
    rule: 'appointment/unknown',
    level: 'stop',
    about: `appointment:${appointmentId}`,
    id: appointmentId,
  })
const unknownWork = (workId: string): Decision =>
  refuse({ rule: 'work/unknown', level: 'stop', about: `work:${workId}`, id: workId })

function newWork(world: World, input: NameInput, context: CommandContext): Work {
  const others = world.work.filter((work) => work.appointmentId === input.appointmentId)
  return {
    clinicId: context.clinicId,
    id: context.newId<WorkId>(),
    appointmentId: input.appointmentId,
    position: Math.max(0, ...others.map((work) => work.position)) + 1,
    text: input.text,
    kind: input.kind,
    teeth: [],
    surfaces: {},
    mentions: [],
  }
}

/** An open naming becomes the tooth that was named; its words stay. A clear source gives way only when settled. */
function clearMention(mention: ToothMention, by: { teeth: Tooth[]; settles: boolean }): ToothMention {
  const meant = mention.candidates.filter((tooth) => by.teeth.includes(tooth))
  if (by.teeth.length === 0 || mention.source === 'patient') return mention
  if (mention.unread) return { ...mention, unread: false }
  if (mention.candidates.length > 1) return { ...mention, candidates: meant.slice(0, 1) }
  return by.settles || mention.source === 'booking' ? { ...mention, candidates: meant } : mention
}

/** A tooth that the booking clearly names and the work now leaves out is told, once. */
function judgeLeftOut(world: World, work: Work) {
  const said = parseTeeth(work.text, world.clinic[0]?.notation ?? 'ask')
  const clear = said.mentions.flatMap((mention) => (mention.result === 'tooth' ? mention.teeth : []))
  const teeth = clear.filter((tooth) => !work.teeth.includes(tooth))
  if (teeth.length === 0) return []
  const about = `work:${work.id}`
  return [{ rule: 'tooth/missing-from-plan', level: 'note', about, text: work.text, teeth } as const]
}

const mentionInput = z.object({
  appointmentId: id<AppointmentId>(),
  workId: id<WorkId>(),
  source: z.enum(TOOTH_SOURCES),
  text: z.string().trim().min(1).max(500),
  /** How this source counts; left out: as the clinic does. */
  notation: z.enum(NOTATIONS).optional(),
  mirrored: z.boolean().default(false),
})
type MentionInput = z.infer<typeof mentionInput>

/** What a source says is added beside the rest: it can raise a question, never answer one. */
function decideMention(world: World, input: MentionInput, { by, now }: CommandContext): Decision {
  const work = findFact(world, 'work', input.workId)
  if (!work || work.appointmentId !== input.appointmentId) return unknownWork(input.workId)
  const said = mentionsIn(input, input.notation ?? world.clinic[0]?.notation ?? 'ask')
  const noted = { by: by.id, at: now }
  const mentions = [...work.mentions, ...said.map((mention) => ({ ...mention, noted }))]
  return ok({ change: putting('work', { ...work, mentions }), findings: [] })
}

function mentionsIn(input: MentionInput, notation: ToothMention['notation']): ToothMention[] {
  const { source, text, mirrored } = input
  const mentionOf = (candidates: Tooth[], words = text): ToothMention => ({
    source,
    text: words,
    notation,
    candidates,
    mirrored,
  })
  const said = parseTeeth(text, notation).mentions.flatMap((mention) =>
    mention.result === 'tooth'
      ? mention.teeth.map((tooth) => mentionOf([tooth]))
      : mention.teeth.length > 0
        ? [mentionOf(mention.teeth, mention.text)]
        : [],
  )
  return said.length > 0 ? said : [mentionOf([])]
}

const reach = (input: { appointmentId: AppointmentId }) => ({ appointments: [input.appointmentId] })

export const PROCEDURE_COMMANDS = {
  ...WORD_COMMANDS,
  'work.name': commandRule({
    kind: 'work.name',
    needs: 'plan:choose',
    input: nameInput,
    reach,
    decide: decideName,
  }),
  'work.mention': commandRule({
    kind: 'work.mention',
    // Whoever may stop may say what a source says: it only ever raises a question.
    needs: 'word:stop',
    input: mentionInput,
    reach,
    decide: decideMention,
  }),
}
