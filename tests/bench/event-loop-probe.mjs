// Loaded before a process that is measured: tells how long its event loop was blocked at most, and begins anew.
import { createServer } from 'node:http'
import { monitorEventLoopDelay } from 'node:perf_hooks'
import { isMainThread } from 'node:worker_threads'

if (isMainThread) {
  const delay = monitorEventLoopDelay({ resolution: 1 })
  delay.enable()
  createServer((_request, response) => {
    response.end(JSON.stringify({ longestMs: delay.max / 1e6 }))
    delay.reset()
  })
    .listen(Number(process.env.BENCH_PROBE_PORT), '127.0.0.1')
    .unref()
}
