import { parentPort, workerData } from 'node:worker_threads'
import { must } from '#shared/base/assert.ts'
import { messagesOf } from './parts.ts'
import { openRunHere, type RunStart, type RunStep } from './run.ts'

const port = must(parentPort, 'this runs in a thread of its own')
const run = openRunHere(workerData as RunStart)
const send = (answer: unknown): void => {
  for (const message of messagesOf(answer)) port.postMessage(message)
}
port.on('message', (step: RunStep) =>
  send(step.kind === 'preview' ? run.preview(step.texts, step.options) : run.decide(step.texts, step.around)),
)
send(run.read)
