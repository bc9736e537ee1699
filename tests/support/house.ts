import { mkdtempSync, rmSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pino from 'pino'
import { inject } from 'vitest'
import type { Engine } from '#db/database.ts'
import { type House, openHouse } from '#server/house.ts'
import { ROUTES } from '#server/http/routes.ts'
import { addAccount } from '#server/sign-in/accounts.ts'
import type { MemberId } from '#shared/ids.ts'
import { foundClinic, MORNING, newId, type TestClinic } from './clinic.ts'
import { makeDatabase } from './postgres.ts'

export interface TestHouse {
  house: House
  clinic: TestClinic
  address: string
  /** Gives a member an account, signs in, and says the cookie. */
  signIn: (memberId: MemberId) => Promise<string>
  close: () => Promise<void>
}

export const PASSWORD = 'a password of the tests'

/** A whole house with one clinic, served on a port of its own. */
export async function openTestHouse(engine: Engine): Promise<TestHouse> {
  const folder = mkdtempSync(join(tmpdir(), 'weirboard-house-'))
  const house = await openHouse(
    {
      HOST: '127.0.0.1',
      PORT: 3000,
      DATA_FOLDER: folder,
      CLINIC: 'real',
      ...(engine === 'postgresql' ? { DATABASE_URL: await makeDatabase(inject('postgres')) } : {}),
    },
    { wall: () => MORNING, log: pino({ level: 'silent' }) },
  )
  const server = createServer((request, response) => {
    const path = request.url?.split('?')[0] ?? '/'
    const route = ROUTES.find((each) =>
      each.path.endsWith('/') ? path.startsWith(each.path) : path === each.path,
    )
    Promise.resolve(route?.answer(house, request, response)).catch(() => response.destroy())
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  const clinic = await foundClinic(house.database)
  return {
    house,
    clinic,
    address,
    signIn: async (memberId) => {
      const email = `${newId<string>()}@weirboard.invalid`
      await addAccount(house.accounts, house.database.db, {
        name: 'Someone',
        email,
        password: PASSWORD,
        clinicId: clinic.clinicId,
        memberId,
      })
      const answer = await house.accounts.api.signInEmail({
        body: { email, password: PASSWORD },
        asResponse: true,
      })
      return answer.headers
        .getSetCookie()
        .map((cookie) => cookie.split(';')[0])
        .join('; ')
    },
    close: async () => {
      house.hub.close()
      server.closeAllConnections()
      await new Promise((resolve) => server.close(resolve))
      await house.close()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
