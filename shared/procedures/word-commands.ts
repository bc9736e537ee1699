import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { joinChanges, putting, removing } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId, OwnWordId } from '../ids.ts'
import { id } from '../inputs.ts'
import { canTeach, ownWordsIn, plainWords } from './own-words.ts'
import { recogniseWork } from './recognise.ts'
import { type OwnWord, PROCEDURE_KINDS } from './work.ts'

const teachInput = z.object({
  words: z.string().max(200),
  kind: z.enum(PROCEDURE_KINDS),
  /** Appointments whose lines wait for these words: they are read once more. */
  appointmentIds: z.array(id<AppointmentId>()).max(500).default([]),
})

/** Keeps what words mean here. Lines that said nothing so far are read anew; what a person has named stands. */
function decideTeach(world: World, input: z.infer<typeof teachInput>, context: CommandContext): Decision {
  const words = plainWords(input.words)
  if (!canTeach(words)) return refuse({ rule: 'work/words-too-few', level: 'stop', about: 'words', words })
  const known = world.ownWord.find((each) => each.words === words)
  const taught: OwnWord = {
    clinicId: context.clinicId,
    id: known?.id ?? context.newId<OwnWordId>(),
    words,
    kind: input.kind,
    by: context.by.id,
    at: context.now,
  }
  const own = [...world.ownWord.filter(({ id }) => id !== taught.id), taught]
  const notation = world.clinic[0]?.notation ?? 'ask'
  const asked = new Set<string>(input.appointmentIds)
  const renewed = world.work.flatMap((work) => {
    if (work.kind !== 'undetermined' || !asked.has(work.appointmentId)) return []
    if (ownWordsIn(work.text, [taught]).length === 0) return []
    const { kind } = recogniseWork(work.text, notation, own)
    return kind === 'undetermined' ? [] : [{ ...work, kind }]
  })
  return ok({ change: joinChanges(putting('ownWord', taught), putting('work', ...renewed)), findings: [] })
}

export const WORD_COMMANDS = {
  'words.teach': commandRule({
    kind: 'words.teach',
    needs: 'day:import',
    input: teachInput,
    reach: ({ appointmentIds }) => ({ appointments: appointmentIds, ownWords: true }),
    decide: decideTeach,
  }),
  /** What was read by these words stands; from now on they say nothing again. */
  'words.forget': commandRule({
    kind: 'words.forget',
    needs: 'day:import',
    input: z.object({ ownWordId: id<OwnWordId>() }),
    reach: () => ({ ownWords: true }),
    decide: (world, { ownWordId }) => {
      const known = findFact(world, 'ownWord', ownWordId)
      return ok({ change: known ? removing('ownWord', known.id) : putting('ownWord'), findings: [] })
    },
  }),
}
