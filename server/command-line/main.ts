import { readFileSync } from 'node:fs'
import { basename } from 'node:path'
import { text } from 'node:stream/consumers'
import { parseArgs } from 'node:util'
import { readEnvironment } from '../environment.ts'
import { parseJson } from '../http/reply.ts'
import { badUsage, type VerbAnswer } from './answer.ts'
import { answerDose } from './dose.ts'
import { previewAlone } from './import.ts'
import { answerPlan } from './plan.ts'
import { askServer } from './socket.ts'
import { answerTeeth } from './teeth.ts'
import type { VerbRequest } from './verbs.ts'

const USAGE = `weirboard <verb> [--json]
  teeth, plan, dose                    a request as JSON on standard input; no database
  import FILE [--preview] [--source NAME] [--mapping FILE]
  board [--day YYYY-MM-DD] [--site NAME]
  forecast [--day YYYY-MM-DD] [--site NAME]
  recall (--load | --pack | --indicator | --steriliser) ID · recall --day YYYY-MM-DD [--steriliser ID]
  --clinic ID --as EMAIL               needed outside the invented clinic`

/** Verbs that open no database. */
const ALONE: Record<string, (request: unknown) => VerbAnswer> = {
  teeth: answerTeeth,
  plan: answerPlan,
  dose: answerDose,
}

async function main(): Promise<VerbAnswer> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      json: { type: 'boolean' },
      preview: { type: 'boolean' },
      source: { type: 'string' },
      mapping: { type: 'string' },
      day: { type: 'string' },
      site: { type: 'string' },
      clinic: { type: 'string' },
      as: { type: 'string' },
      load: { type: 'string' },
      steriliser: { type: 'string' },
      pack: { type: 'string' },
      indicator: { type: 'string' },
    },
  })
  const [verb, file] = positionals
  if (verb === undefined) return badUsage(USAGE)
  const alone = ALONE[verb]
  if (alone) {
    const request = parseJson(Buffer.from(await text(process.stdin)))
    return request === undefined
      ? badUsage('The request on standard input is not JSON. Nothing was checked. Send one JSON object.')
      : alone(request)
  }
  if (verb === 'import' && file === undefined) return badUsage(USAGE)
  const { json: _, ...options } = values
  const upload =
    file === undefined ? null : { name: basename(file), base64: readFileSync(file).toString('base64') }
  const mapping = options.mapping === undefined ? null : parseJson(readFileSync(options.mapping))
  return ask({ ...options, verb, file: upload, mapping })
}

/** Through the running server where there is one, else on the database itself; a preview needs neither. */
async function ask(request: VerbRequest): Promise<VerbAnswer> {
  const environment = readEnvironment(process.env)
  if (!environment.DATABASE_URL) {
    const answered = await askServer(environment.DATA_FOLDER, request)
    if (answered) return answered
  }
  const { answerVerb, isClinicHere } = await import('./verbs.ts')
  if (request.preview && !isClinicHere(environment)) return previewAlone(request)
  const { openHouse } = await import('../house.ts')
  const house = await openHouse(environment)
  try {
    return await answerVerb(house, request)
  } finally {
    await house.close()
  }
}

main()
  .catch((error: unknown) => badUsage(error instanceof Error ? error.message : String(error)))
  .then(({ body, exit }) => {
    process.stdout.write(`${JSON.stringify(body)}\n`, () => process.exit(exit))
  })
