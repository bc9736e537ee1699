import { can } from '#shared/people/role.ts'
import { makeRecallCsv } from '../exports/recall.ts'
import { noteReading } from '../trpc/note-reading.ts'
import { parseRecallAsked } from '../trpc/recall-asked.ts'
import { previewRecall } from '../trpc/sterility-router.ts'
import type { Answer } from './answer.ts'
import { NOT_SIGNED_IN, replyTrouble, type Trouble } from './reply.ts'

const NOT_ALLOWED: Trouble = {
  what: 'Your role does not see recalls.',
  why: 'A recall names patients.',
  todo: 'Ask the steriliser lead or the manager for the list.',
}
const NOTHING_NAMED: Trouble = {
  what: 'This address names nothing to recall from.',
  why: 'A list made from nothing would look complete and miss packs.',
  todo: 'Open the recall on the sterilising page and take the list from there.',
}

/** `?kind=load&loadId=ID` and its like: the recall as a delimited file. It changes nothing; that it was read is kept. */
export const answerRecallList: Answer = async (house, request, response) => {
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  if (!can(session.roles, 'sterility:run')) return replyTrouble(response, 403, NOT_ALLOWED)
  const asked = parseRecallAsked(Object.fromEntries(new URL(request.url ?? '', 'http://here').searchParams))
  if (!asked) return replyTrouble(response, 400, NOTHING_NAMED)
  const { told, zone } = await previewRecall(house, session.clinicId, asked)
  await noteReading(house, session, { page: 'recall', appointmentId: null })
  response.writeHead(200, {
    'content-type': 'text/csv; charset=utf-8',
    'content-disposition': 'attachment; filename="recall.csv"',
    'cache-control': 'no-store',
  })
  response.end(makeRecallCsv(told, zone))
}
