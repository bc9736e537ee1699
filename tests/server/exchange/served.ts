import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Engine } from '#db/database.ts'
import { ROUTES } from '#server/http/routes.ts'
import { takeBrought } from '#server/imports/take.ts'
import { addOperatory, addPerson } from '#tests/support/clinic.ts'
import { openTestHouse, type TestHouse } from '#tests/support/house.ts'

export interface Served extends TestHouse {
  /** Where the process's own routes are answered. */
  at: string
  /** Brings a file as the manager. */
  bring: (file: string | Buffer, source?: string) => ReturnType<typeof takeBrought>
}

/** A house with two operatories and a dentist, its own routes served. */
export async function openServed(engine: Engine): Promise<Served> {
  const test = await openTestHouse(engine)
  const server = createServer((request, response) => {
    const path = (request.url ?? '').split('?')[0] ?? ''
    const route = ROUTES.find((each) =>
      each.path.endsWith('/') ? path.startsWith(each.path) : path === each.path,
    )
    Promise.resolve(route?.answer(test.house, request, response)).catch(() => response.destroy())
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  for (const name of ['1', '2']) await addOperatory(test.clinic, name)
  await addPerson(test.clinic, 'Dr Corrigan', 'dentist')
  const by = { clinicId: test.clinic.clinicId, memberId: test.clinic.manager, station: 'test' }
  return {
    ...test,
    at: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    bring: (file, source = 'front desk') =>
      takeBrought(test.house, by, {
        bytes: Buffer.from(file),
        fileName: 'day list.csv',
        source,
        mapping: {},
        dateOrder: null,
        notation: 'iso',
        zone: null,
      }),
    close: async () => {
      server.closeAllConnections()
      await new Promise((resolve) => server.close(resolve))
      await test.close()
    },
  }
}
