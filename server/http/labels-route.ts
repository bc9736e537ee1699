import { type LoadId, parseId } from '#shared/ids.ts'
import { can } from '#shared/people/role.ts'
import { KIND_WORDS } from '#shared/words/en/sterility.ts'
import { makeLabelSheet } from '../exports/label-sheet.ts'
import type { Answer } from './answer.ts'
import { NOT_SIGNED_IN, replyTrouble, type Trouble } from './reply.ts'

const NOT_ALLOWED: Trouble = {
  what: 'Your role does not print pack labels.',
  why: 'A label on the wrong pack breaks every recall it is in.',
  todo: 'Ask the steriliser lead.',
}
const NO_LABELS: Trouble = {
  what: 'There is no label to print under this address.',
  why: 'A load that failed, or has no pack, gets none: nothing of it may be used.',
  todo: 'Open the load on the sterilising page and print from there.',
}

/** `?load=ID`: the labels of a load's packs at true size. */
export const answerLabels: Answer = async (house, request, response) => {
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  if (!can(session.roles, 'sterility:run')) return replyTrouble(response, 403, NOT_ALLOWED)
  const loadId = parseId<LoadId>(new URL(request.url ?? '', 'http://here').searchParams.get('load') ?? '')
  if (!loadId) return replyTrouble(response, 400, NO_LABELS)
  const caller = await house.callerFor(new Headers({ cookie: request.headers.cookie ?? '' }))
  const [me, labels] = await Promise.all([caller.me(), caller.sterility.labels({ loadId })])
  if (labels.length === 0) return replyTrouble(response, 404, NO_LABELS)
  const told = labels.map(({ mark, kind, ...label }) => ({ ...label, what: mark ?? KIND_WORDS[kind] }))
  const pdf = await makeLabelSheet(told, me?.clinic.name ?? '')
  response.writeHead(200, {
    'content-type': 'application/pdf',
    'content-disposition': 'inline; filename="pack-labels.pdf"',
    'cache-control': 'no-store',
  })
  response.end(Buffer.from(pdf))
}
