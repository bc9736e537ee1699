// A worker thread does not inherit the loader that reads TypeScript, so it registers its own.
import { register } from 'tsx/esm/api'

register()
await import('./import-job.ts')
