import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { House } from '#server/house.ts'
import { answerPunchTemplate, answerTrayCard } from '#server/http/print-route.ts'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import type { Role } from '#shared/people/role.ts'
import { having, STUDENT, scene, VISITED } from '#tests/shared/readiness/scene.ts'

/** As much of a house as printing asks: who is signed in, and the appointment's window. */
const houseOf = (roles: Role[] | null): House =>
  ({
    readSession: async () => roles && { roles, memberId: STUDENT.id },
    environment: { HOST: '127.0.0.1', PORT: 3000 },
    callerFor: async () => ({ appointments: { window: async () => ({ world }) } }),
  }) as unknown as House

let roles: Role[] | null = ['assistant']
let world: World = scene()
const server = createServer(
  (request, response) =>
    void (request.url?.includes('tray-card') ? answerTrayCard : answerPunchTemplate)(
      houseOf(roles),
      request,
      response,
    ),
)
beforeAll(() => new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve)))
afterAll(() => new Promise((resolve) => server.close(resolve)))

const get = (query: string, what = 'punch-template'): Promise<Response> => {
  const { port } = server.address() as AddressInfo
  return fetch(`http://127.0.0.1:${port}/api/print/${what}${query}`)
}

test.each(['punch-template', 'tray-card'])(
  'a clinical role gets the %s as a PDF that is not stored',
  async (what) => {
    roles = ['assistant']
    const answer = await get(`?appointment=${VISITED}&paper=letter`, what)
    expect([answer.status, answer.headers.get('content-type'), answer.headers.get('cache-control')]).toEqual([
      200,
      'application/pdf',
      'no-store',
    ])
    expect(
      Buffer.from(await answer.arrayBuffer())
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-')
  },
)

test.each([
  [null, `?appointment=${VISITED}`, 401],
  [['front-desk'], `?appointment=${VISITED}`, 403],
  [['assistant'], '?appointment=46', 400],
  [['assistant'], `?appointment=${VISITED}&paper=a0`, 400],
  [['assistant'], `?appointment=${VISITED.replace('10', '99')}`, 404],
] as [Role[] | null, string, number][])(
  '%j asking %s is answered %i in three parts',
  async (who, query, status) => {
    roles = who
    const answer = await get(query)
    expect(answer.status).toBe(status)
    expect(await answer.json()).toMatchObject({
      error: { what: expect.any(String), why: expect.any(String), todo: expect.any(String) },
    })
  },
)

test.each(['punch-template', 'tray-card'])(
  'a student who draws first gets no %s of their own appointment; another’s is printed',
  async (what) => {
    roles = ['student']
    const [appointment] = scene().appointment
    const drawing = having(scene(), 'member', { ...STUDENT, drawsFirst: true })
    world = having(drawing, 'appointment', { ...must(appointment, 'one'), studentId: STUDENT.id })
    const refused = await get(`?appointment=${VISITED}`, what)
    world = drawing
    const printed = await get(`?appointment=${VISITED}`, what)
    world = scene()
    expect([refused.status, printed.status]).toEqual([403, 200])
    expect(await refused.json()).toMatchObject({ error: { what: 'You draw your own plan first.' } })
  },
)
