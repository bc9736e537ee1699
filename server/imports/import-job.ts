import { parentPort, workerData } from 'node:worker_threads'
import { must } from '#shared/base/assert.ts'
import { type Job, previewNow } from './preview.ts'
import { readNow } from './read-upload.ts'
import { openRunHere, type RunStart, type RunStep } from './run.ts'

const port = must(parentPort, 'this runs in a thread of its own')
const job = workerData as Job | ({ kind: 'run' } & RunStart)

if (job.kind === 'read') port.postMessage(readNow(job.bytes, job.fileName, job.options))
else if (job.kind === 'preview') port.postMessage(previewNow(job.world, job.bytes, job.options))
else {
  const run = openRunHere(job)
  port.on('message', (step: RunStep) =>
    port.postMessage(
      step.kind === 'preview' ? run.preview(step.world, step.options) : run.decide(step.world, step.around),
    ),
  )
  port.postMessage(run.read)
}
