import { parentPort, workerData } from 'node:worker_threads'
import { type Job, previewNow } from './preview.ts'
import { readNow } from './read-upload.ts'

const job = workerData as Job
parentPort?.postMessage(
  job.kind === 'read'
    ? readNow(job.bytes, job.fileName, job.options)
    : previewNow(job.world, job.bytes, job.options),
)
