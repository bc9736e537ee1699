import type { AppointmentId, ClinicId, WorkId } from '../ids.ts'
import { type RecognisedWork, recogniseWork } from '../procedures/recognise.ts'
import type { OwnWord, ToothMention, Work } from '../procedures/work.ts'
import { findNamings } from '../teeth/namings.ts'
import type { Notation } from '../teeth/notation-names.ts'
import { dentitionOf, positionOf, TEETH, type Tooth } from '../teeth/tooth.ts'
import { agreesWith, saysSomething } from '../teeth/tooth-words.ts'
import type { IncomingTooth, IncomingWork } from './incoming.ts'

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

/**
 * The lines of work of an appointment after an import. What a person has named since stands while the words do,
 * wherever among the lines the source gives them now: a line is known by its words, else by its place.
 */
export function reconcileWork(
  standing: readonly Work[],
  incoming: readonly IncomingWork[],
  context: WorkContext,
): WorkAfter {
  const ordered = [...standing].sort((one, other) => one.position - other.position)
  const same = pair(ordered, incoming, saysTheSame)
  const worded = pair(same.left, same.rest, hasTheSameWords)
  const placed = pair(worded.left, worded.rest, () => true)
  const changed = [...worded.pairs, ...placed.pairs].map(({ before: { id, position }, work }) =>
    makeWork(work, { ...context, id, position }),
  )
  const last = Math.max(0, ...standing.map(({ position }) => position))
  const added = placed.rest.map((work, index) =>
    makeWork(work, { ...context, id: context.newId(), position: last + index + 1 }),
  )
  return { put: [...changed, ...added], gone: placed.left.map(({ id }) => id) }
}

/** Each line that came with the first of those standing that it is like; and what is left of either. */
function pair(
  standing: readonly Work[],
  incoming: readonly IncomingWork[],
  isLike: (before: Work, work: IncomingWork) => boolean,
) {
  const left = [...standing]
  const pairs: { before: Work; work: IncomingWork }[] = []
  const rest: IncomingWork[] = []
  for (const work of incoming) {
    const at = left.findIndex((before) => isLike(before, work))
    const [before] = at < 0 ? [] : left.splice(at, 1)
    if (before) pairs.push({ before, work })
    else rest.push(work)
  }
  return { pairs, left, rest }
}

const hasTheSameWords = (work: Work, incoming: IncomingWork): boolean =>
  plainWords(work.text) === plainWords(incoming.text)

/** The same words, and no coded tooth that the standing line does not know. */
const saysTheSame = (work: Work, incoming: IncomingWork): boolean =>
  hasTheSameWords(work, incoming) &&
  incoming.teeth.every(
    ({ text, candidates }) =>
      candidates.some((tooth) => work.teeth.includes(tooth)) ||
      work.mentions.some((mention) => mention.text === text || mention.text === bothTexts(incoming)),
  )

/** Not every format can carry white space as it stands. */
const plainWords = (text: string): string => text.replace(/\s+/g, ' ').trim()

function makeWork(
  incoming: IncomingWork,
  { clinicId, appointmentId, notation, own, id, position }: WorkContext & { id: WorkId; position: number },
): Work {
  const words = recogniseWork(incoming.text, notation, own)
  const coded = codedTeeth(incoming)
  return {
    clinicId,
    id,
    appointmentId,
    position,
    text: incoming.text,
    kind: words.kind,
    ...(coded.length === 0
      ? { teeth: words.teeth, surfaces: surfacesOf(incoming, words.teeth, words), mentions: words.mentions }
      : teethOfBoth(incoming, { coded, words, notation })),
  }
}

/** Teeth that a source gives apart from its words and that are clear. */
const codedTeeth = ({ teeth }: IncomingWork): Tooth[] => [
  ...new Set(
    teeth.flatMap(({ candidates: [tooth, ...others] }) => (tooth && others.length === 0 ? [tooth] : [])),
  ),
]

type Teeth = Pick<Work, 'teeth' | 'surfaces' | 'mentions'>

/** A tooth given apart from the words is clear where the words name the same, or none. Else nobody chooses. */
function teethOfBoth(
  incoming: IncomingWork,
  { coded, words, notation }: { coded: Tooth[]; words: RecognisedWork; notation: Notation },
): Teeth {
  const rivals = rivalsOf(incoming, coded, words)
  if (rivals.length > 0) {
    const candidates = [...new Set([...coded, ...rivals])]
    const open: ToothMention = {
      source: 'booking',
      text: bothTexts(incoming),
      notation,
      candidates,
      mirrored: false,
    }
    return { teeth: [], surfaces: {}, mentions: [open, ...words.mentions.filter(({ unread }) => unread)] }
  }
  const mentions = incoming.teeth.map(mentionOf)
  return {
    teeth: coded,
    surfaces: surfacesOf(incoming, coded, words),
    mentions: [...mentions, ...words.mentions],
  }
}

const mentionOf = ({ text, notation, candidates }: IncomingTooth): ToothMention => ({
  source: 'booking',
  text,
  notation,
  candidates,
  mirrored: false,
})

/** The words, with what is given apart from them and does not stand in them. */
function bothTexts({ text, teeth }: IncomingWork): string {
  const apart = [...new Set(teeth.map((tooth) => tooth.text))].filter((tooth) => !text.endsWith(tooth))
  return apart.length === 0 ? text : `${text} · ${apart.join(' ')}`
}

/** The teeth that the words can mean instead: they name others, some of them only, or another side or arch. */
function rivalsOf(incoming: IncomingWork, coded: readonly Tooth[], words: RecognisedWork): Tooth[] {
  if (incoming.text === incoming.teeth.map(({ text }) => text).join(' ')) return []
  const isSame =
    words.teeth.every((tooth) => coded.includes(tooth)) && coded.every((tooth) => words.teeth.includes(tooth))
  const named = words.teeth.length === 0 || isSame ? [] : words.teeth
  const open = words.mentions
    .filter(({ candidates }) => candidates.length > 0 && !candidates.some((tooth) => coded.includes(tooth)))
    .flatMap(({ candidates }) => candidates)
  return [...named, ...open, ...placedElsewhere(incoming.text, coded)]
}

/** `RCT lower left` with tooth 46: words without a number, which place it somewhere else. */
function placedElsewhere(text: string, coded: readonly Tooth[]): Tooth[] {
  return findNamings(text).flatMap(({ from, words }) => {
    if (from !== null || !saysSomething(words) || coded.some((tooth) => agreesWith(tooth, words))) return []
    const meant = TEETH.filter((tooth) => agreesWith(tooth, words))
    const alike = meant.filter((tooth) => coded.some((other) => isAlike(tooth, other)))
    return alike.length > 0 ? alike : meant
  })
}
const isAlike = (one: Tooth, other: Tooth): boolean =>
  positionOf(one) === positionOf(other) && dentitionOf(one) === dentitionOf(other)

/** Surfaces given apart from the words are those of a tooth that is alone. */
function surfacesOf(
  { surfaces }: IncomingWork,
  teeth: readonly Tooth[],
  words: RecognisedWork,
): Work['surfaces'] {
  const [only, ...more] = teeth
  if (surfaces.length > 0 && only !== undefined && more.length === 0) return { [only]: surfaces }
  return Object.fromEntries(
    teeth.flatMap((tooth) => (words.surfaces[tooth] ? [[tooth, words.surfaces[tooth]]] : [])),
  )
}
