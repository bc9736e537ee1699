import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pino from 'pino'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { type House, openHouse } from '#server/house.ts'
import { MORNING } from '#tests/support/clinic.ts'

describe('a real clinic', () => {
  const folder = mkdtempSync(join(tmpdir(), 'weirboard-real-'))
  let house: House
  beforeAll(async () => {
    house = await openHouse(
      { HOST: '127.0.0.1', PORT: 3000, DATA_FOLDER: folder, CLINIC: 'real' },
      { wall: () => MORNING, log: pino({ level: 'silent' }) },
    )
  })
  afterAll(async () => {
    await house.close()
    rmSync(folder, { recursive: true, force: true })
  })

  const form = (more: object = {}) => ({
    code: 'not it',
    clinicName: 'Quay',
    zone: 'Europe/Dublin',
    notation: 'iso' as const,
    name: 'Mina Manager',
    email: 'mina@weirboard.invalid',
    password: 'long enough for this',
    ...more,
  })
  async function printedCode(): Promise<string> {
    const printed = vi.spyOn(console, 'log').mockImplementation(() => {})
    await house.greet('http://127.0.0.1:3000')
    const text = printed.mock.calls.flat().join('\n')
    printed.mockRestore()
    return /^ {2}([0-9a-f]{10})$/m.exec(text)?.[1] ?? ''
  }

  it('begins with nobody, and is founded once by the code that the console shows', async () => {
    const nobody = await house.callerFor(new Headers())
    expect(await nobody.signIn.doors()).toEqual({ clinicName: null, invented: false, people: [] })
    expect(await house.found(form())).toMatchObject({ what: expect.stringContaining('one-time code') })
    const code = await printedCode()
    expect(await house.found(form({ code, zone: 'Mars/Olympus' }))).toMatchObject({
      why: 'No clinic was founded.',
    })
    expect(await house.found(form({ code }))).toBeNull()
    expect(await house.found(form({ code }))).toMatchObject({
      what: expect.stringContaining('founded already'),
    })
    expect(await nobody.signIn.doors()).toEqual({ clinicName: 'Quay', invented: false, people: [] })
    expect(await printedCode()).toBe('')
  })

  it('never has a demo clock', async () => {
    const answer = await house.accounts.api.signInEmail({
      body: { email: form().email, password: form().password },
      asResponse: true,
    })
    const cookie = answer.headers
      .getSetCookie()
      .map((each) => each.split(';')[0])
      .join('; ')
    const mina = await house.callerFor(new Headers({ cookie }))
    const moved = await mina.perform({
      id: '00000000-0000-4000-8000-000000000001' as never,
      kind: 'clock.move',
      input: { to: 0 },
      sawRevision: 1,
      madeAt: MORNING,
    })
    expect(moved).toMatchObject({ refused: true, findings: [{ rule: 'clock/real-clinic' }] })
  })
})
