import { statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from '@playwright/test'
import { openDesk } from './desk.ts'
import { copySeeded, ended, launch, newFolder, type Product, removeFolder, start } from './product.ts'

/** Of its own, beside those of the stories. */
const PORT = Number(process.env.SCREENS_PORT ?? 3210) + 60
/** A PostgreSQL or a file system may take its time; a person waiting at a terminal will not wait longer. */
const ENDS_WITHIN_MS = 10_000

test.describe.configure({ mode: 'serial' })
let folder: string
let product: Product
test.beforeAll(async () => {
  folder = copySeeded()
  product = await start({ folder, port: PORT })
})
test.afterAll(async () => {
  await product.stop('SIGKILL')
  removeFolder(folder)
})
test.setTimeout(200_000)

/** Three lines for a person, and no trace of where in the code it happened. */
function expectThreeParts(said: string): void {
  const lines = said.trim().split('\n')
  expect(lines).toHaveLength(3)
  expect(said).not.toMatch(/^\s+at /m)
}

/** Every process whose parent is this one (Linux: `/proc`). */
async function childrenOf(pid: number): Promise<number[]> {
  const { readFileSync } = await import('node:fs')
  return readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').split(' ').filter(Boolean).map(Number)
}

test('it says that it is well, on which engine, and what that engine survives', async () => {
  const answer = await fetch(`${product.address}/healthz`)
  expect(answer.status).toBe(200)
  expect(await answer.json()).toEqual({ status: 'ok', database: 'pglite', survives: 'process' })
})

test('its data folder is closed to every other user', () => {
  expect(statSync(folder).mode & 0o777).toBe(0o700)
  expect(statSync(join(folder, 'lock')).mode & 0o077).toBe(0)
})

test('a second process on the same folder is refused with the reason, and the first goes on', async () => {
  const second = launch({ folder, port: PORT + 1 })
  expect(await ended(second.child)).toBe(1)
  expectThreeParts(second.said())
  expect(second.said()).toContain(`Another process (${product.child.pid}) is using this data folder.`)
  expect((await fetch(`${product.address}/healthz`)).status).toBe(200)
})

test('a second process at the same address is refused with the reason and gives its folder back', async () => {
  const other = newFolder()
  const second = launch({ folder: other, port: PORT, variables: { CLINIC: 'real' } })
  expect(await ended(second.child)).toBe(1)
  expect(second.said()).toContain(`Something else is already served at 127.0.0.1:${PORT}.`)
  expect(second.said()).not.toMatch(/^\s+at /m)
  expect(() => statSync(join(other, 'lock'))).toThrow('ENOENT')
  removeFolder(other)
})

test('a setting that cannot be read is named, and nothing starts', async () => {
  const second = launch({ folder: newFolder(), port: 99_999 })
  expect(await ended(second.child)).not.toBe(0)
  expectThreeParts(second.said())
  expect(second.said()).toContain('The setting PORT cannot be used')
  removeFolder(second.folder)
})

test('asked to stop it stops within seconds, leaves no child, no lock and what was acknowledged', async () => {
  const desk = await openDesk(product.address)
  const booked = await desk.book('Ottilie', 'Marchetti')
  expect(booked.refused).toBe(false)
  const stream = await desk.openStream()
  const children = await childrenOf(product.child.pid ?? 0)
  const began = performance.now()
  expect(await product.stop('SIGTERM')).toBe(0)
  expect(performance.now() - began).toBeLessThan(ENDS_WITHIN_MS)
  expect(await stream.untilClosed()).toBe('closed')
  for (const child of children) expect(() => process.kill(child, 0)).toThrow('ESRCH')
  expect(() => statSync(join(folder, 'lock'))).toThrow('ENOENT')

  product = await start({ folder, port: PORT })
  expect(await (await openDesk(product.address)).find('Marchetti')).toEqual(['Ottilie Marchetti'])
})

test('killed without warning it keeps what it acknowledged, and its stale lock is taken over', async () => {
  const desk = await openDesk(product.address)
  const names = ['Aino', 'Bram', 'Ceyda', 'Dario', 'Elif']
  for (const given of names) expect((await desk.book(given, 'Vandermeer')).refused).toBe(false)
  await product.stop('SIGKILL')
  expect(statSync(join(folder, 'lock')).isFile()).toBe(true)

  product = await start({ folder, port: PORT })
  const kept = await (await openDesk(product.address)).find('Vandermeer')
  expect(kept.sort()).toEqual(names.map((given) => `${given} Vandermeer`))
})

test('a lock that another start of this machine left behind is taken over', async () => {
  await product.stop()
  writeFileSync(join(folder, 'lock'), JSON.stringify({ pid: process.pid, boot: 'another start' }))
  product = await start({ folder, port: PORT })
  expect((await fetch(`${product.address}/healthz`)).status).toBe(200)
})
