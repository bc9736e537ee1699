import type { Answer } from './answer.ts'
import { replyJson } from './reply.ts'

/** 200 with the engine and what it survives, 503 with a reason when the database does not answer. */
export const answerHealth: Answer = async (house, _request, response) => {
  const { engine } = house.database
  try {
    await house.database.sql`select 1`
    replyJson(response, 200, {
      status: 'ok',
      database: engine,
      survives: engine === 'pglite' ? 'process' : 'power',
    })
  } catch (error) {
    house.log.error({ err: error }, 'the database does not answer')
    replyJson(response, 503, { status: 'down', database: engine, reason: 'The database does not answer.' })
  }
}
