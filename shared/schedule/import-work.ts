import type { AppointmentId, ClinicId, WorkId } from '../ids.ts'
import { recogniseWork } from '../procedures/recognise.ts'
import type { OwnWord, ToothMention, Work } from '../procedures/work.ts'
import type { Notation } from '../teeth/notation-names.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { IncomingWork } from './incoming.ts'

interface WorkContext {
  clinicId: ClinicId
  appointmentId: AppointmentId
  notation: Notation
  own: readonly OwnWord[]
  newId: () => WorkId
}

export interface WorkAfter {
  put: Work[]
  gone: WorkId[]
}

/** The lines of work of an appointment after an import. What a person has named since stands while the words do. */
export function reconcileWork(
  standing: readonly Work[],
  incoming: readonly IncomingWork[],
  context: WorkContext,
): WorkAfter {
  const ordered = [...standing].sort((one, other) => one.position - other.position)
  const put = incoming.flatMap((work, index) => {
    const before = ordered[index]
    if (before && saysTheSame(before, work)) return []
    return [makeWork(work, { ...context, id: before?.id ?? context.newId(), position: index + 1 })]
  })
  return { put, gone: ordered.slice(incoming.length).map(({ id }) => id) }
}

/** The same words, and no coded tooth that the standing line does not know. */
const saysTheSame = (work: Work, incoming: IncomingWork): boolean =>
  plainWords(work.text) === plainWords(incoming.text) &&
  incoming.teeth.every(
    ({ text, candidates }) =>
      candidates.some((tooth) => work.teeth.includes(tooth)) ||
      work.mentions.some((mention) => mention.text === text),
  )

/** Not every format can carry white space as it stands. */
const plainWords = (text: string): string => text.replace(/\s+/g, ' ').trim()

function makeWork(
  incoming: IncomingWork,
  { clinicId, appointmentId, notation, own, id, position }: WorkContext & { id: WorkId; position: number },
): Work {
  const words = recogniseWork(incoming.text, notation, own)
  const coded = incoming.teeth.map(
    ({ text, notation: system, candidates }): ToothMention => ({
      source: 'booking',
      text,
      notation: system,
      candidates,
      mirrored: false,
    }),
  )
  const codedTeeth = incoming.teeth.flatMap(({ candidates: [tooth, ...others] }) =>
    tooth && others.length === 0 ? [tooth] : [],
  )
  // A coded tooth is clear; what the words say of teeth stays beside it and is compared with it by the rules.
  const teeth: Tooth[] = codedTeeth.length > 0 ? [...new Set(codedTeeth)] : words.teeth
  const [only, ...more] = teeth
  const surfaces =
    incoming.surfaces.length > 0 && only !== undefined && more.length === 0
      ? { [only]: incoming.surfaces }
      : codedTeeth.length > 0
        ? Object.fromEntries(
            Object.entries(words.surfaces).filter(([tooth]) => teeth.includes(tooth as Tooth)),
          )
        : words.surfaces
  return {
    clinicId,
    id,
    appointmentId,
    position,
    text: incoming.text,
    kind: words.kind,
    teeth,
    surfaces,
    mentions: [...coded, ...words.mentions],
  }
}
