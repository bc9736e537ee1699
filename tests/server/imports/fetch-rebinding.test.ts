import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { expect, it, vi } from 'vitest'

/** Answers of the name service, in turn: an outside machine at first, this one from then on. */
const answers = vi.hoisted(() => ({ asked: 0, addresses: ['8.8.8.8', '127.0.0.1'] }))
vi.mock('node:dns', () => ({
  lookup: (_: string, __: object, callback: (error: null, found: object[]) => void) => {
    const address = answers.addresses[Math.min(answers.asked, 1)]
    answers.asked += 1
    callback(null, [{ address, family: 4 }])
  },
}))

it('a name whose answer changes after it was judged leads nowhere else', async () => {
  const { fetchCalendar } = await import('#server/imports/fetch-calendar.ts')
  let reached = 0
  const server = createServer((_, response) => {
    reached += 1
    response.end('BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n')
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  const rules = { hosts: ['two-faced.example'], privateHosts: [], within: 700 }
  const fetchOnce = () => fetchCalendar(`http://two-faced.example:${port}/day.ics`, rules)
  // Judged as an outside address, and that one alone is tried.
  expect((await fetchOnce()).ok).toBe(false)
  expect([answers.asked, reached]).toEqual([1, 0])
  // Asked anew it is this machine: refused before anything is connected.
  const again = await fetchOnce()
  expect(again.ok ? '' : again.reasons[0]).toContain('own network')
  expect([answers.asked, reached]).toEqual([2, 0])
  server.close()
})
