import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { takeLock } from '#db/lock.ts'
import { openDatabase } from '#db/open.ts'

describe('the lock of a data folder', () => {
  let folder: string
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'weirboard-lock-'))
  })
  afterEach(() => rmSync(folder, { recursive: true, force: true }))
  const file = () => join(folder, 'lock')

  it('refuses a second holder, names the first, and says what to do', () => {
    const release = takeLock(file())
    expect(() => takeLock(file())).toThrow(new RegExp(`\\(${process.pid}\\).*\\n.*lose.*\\n.*Stop the other`))
    release()
    takeLock(file())()
  })

  it('takes over from a process that is gone', async () => {
    const child = spawn(process.execPath, ['-e', ''])
    await new Promise((resolve) => child.once('exit', resolve))
    writeFileSync(file(), JSON.stringify({ ...mine(), pid: child.pid }))
    takeLock(file())()
  })

  it('takes over from before the machine was started anew, though the number lives again', () => {
    writeFileSync(file(), JSON.stringify({ ...mine(), boot: 'another start' }))
    takeLock(file())()
  })

  it('takes over where the number now belongs to another process', () => {
    writeFileSync(file(), JSON.stringify({ ...mine(), started: '1' }))
    takeLock(file())()
  })

  it('takes over a lock that cannot be read', () => {
    writeFileSync(file(), '{"pid":')
    takeLock(file())()
  })

  it('keeps a second process off the same folder, and the folder from others', async () => {
    const database = await openDatabase({ folder })
    await expect(openDatabase({ folder })).rejects.toThrow('Another process')
    expect(statSync(folder).mode & 0o777).toBe(0o700)
    await database.close()
    const again = await openDatabase({ folder })
    await again.close()
  })

  function mine(): object {
    const release = takeLock(join(folder, 'mine'))
    const holder = JSON.parse(readFileSync(join(folder, 'mine'), 'utf8')) as object
    release()
    return holder
  }
})
