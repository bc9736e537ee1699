import { randomUUID } from 'node:crypto'
import { request } from 'node:http'
import { expect, test } from './clinic.ts'
import { type Asker, openDesk, type Said, signInAs } from './desk.ts'

/** What someone may do wrong, over HTTP as any client would; each is answered in three parts and nothing is lost. */
let desk: Awaited<ReturnType<typeof openDesk>>
let assistant: Asker
test.beforeAll(async ({ clinic }) => {
  desk = await openDesk(clinic.address)
  assistant = await signInAs(clinic.address, 'Bea Tornqvist')
})

type Parts = { what: string; why: string; todo: string }
/** The trouble an answer carries, wherever it stands in it. */
function troubleOf({ body }: Said): Parts {
  return body?.error?.data?.trouble ?? body?.error ?? body
}
function expectThreeParts(said: Said): Parts {
  const trouble = troubleOf(said)
  for (const part of [trouble.what, trouble.why, trouble.todo]) expect(part).toMatch(/^\S.{8,}[.!]$/s)
  expect(JSON.stringify(said.body)).not.toMatch(/\bat .*\.(ts|js|mjs):\d/)
  return trouble
}

const importing = (mode: 'preview' | 'take', name: string) =>
  `/api/import?${new URLSearchParams({ mode, name, source: 'bad input' })}`
const send = (path: string, body: string | Uint8Array<ArrayBuffer>): Promise<Said> =>
  desk.ask(path, { method: 'POST', body })

/** All that a preview says of what cannot be taken, as a person reads it. */
const problemsOf = ({ body }: Said): string[] =>
  body.preview.problems.map((problem: { text: string }) => problem.text)

const revision = async (): Promise<number> => {
  const said = await desk.query('board.day', { siteId: desk.site.id, day: desk.today })
  return said.body.result.data.revision
}
/** Runs it and expects that nothing has been changed by it. */
async function changesNothing(run: () => Promise<void>): Promise<void> {
  const before = await revision()
  await run()
  expect(await revision()).toBe(before)
}

for (const [title, name, content] of [
  ['an empty file', 'empty.csv', ''],
  ['a spreadsheet workbook', 'day.xlsx', 'PK\u0003\u0004 and what follows'],
  ['a PDF', 'day.pdf', '%PDF-1.7\n'],
  ['a web page', 'day.html', '<!doctype html><title>day</title>'],
  ['broken JSON', 'day.json', '{"resourceType":"Bundle","entry":[{'],
  [
    'a Bundle of other resource types',
    'labs.json',
    JSON.stringify({
      resourceType: 'Bundle',
      type: 'searchset',
      entry: [{ resource: { resourceType: 'Observation', id: 'a', status: 'final', code: { text: 'x' } } }],
    }),
  ],
] as const) {
  test(`${title} is told in three parts, in the preview as when it is taken`, () =>
    changesNothing(async () => {
      const seen = await send(importing('preview', name), content)
      expect(seen.status).toBe(200)
      const [text, ...more] = problemsOf(seen)
      expect(more).toEqual([])
      expect(text?.match(/[^.]+\./g)?.length, text).toBeGreaterThanOrEqual(3)
      expect(seen.body.preview.counts.new).toBe(0)
    }))
}

test('a file of 50 MB is refused by its size, before it is read', () =>
  changesNothing(async () => {
    const said = await send(importing('take', 'large.csv'), new Uint8Array(50 * 1024 * 1024))
    expect(said.status).toBe(413)
    expect(expectThreeParts(said).what).toBe('This is larger than 40 MB.')
  }))

test('a body that hides its size is cut where it grows too large', async ({ clinic }) => {
  const status = await new Promise<number>((resolve) => {
    const sending = request(
      `${clinic.address}/api/trpc/perform`,
      {
        method: 'POST',
        headers: { cookie: desk.cookie, 'content-type': 'application/json', 'transfer-encoding': 'chunked' },
      },
      (answer) => {
        resolve(answer.statusCode ?? 0)
        answer.destroy()
      },
    )
    sending.on('error', () => resolve(-1))
    for (let part = 0; part < 40; part += 1) sending.write('x'.repeat(64 * 1024))
    sending.end()
  })
  expect([413, -1]).toContain(status)
  expect((await desk.query('me')).status).toBe(200)
})

test('a command larger than any command is refused unread', () =>
  changesNothing(async () => {
    const said = await desk.perform('appointment.book', { note: 'x'.repeat(2 * 1024 * 1024) })
    expect(said.status).toBe(413)
    expectThreeParts(said)
  }))

test('a file without a name and a source is not read', () =>
  changesNothing(async () => {
    for (const path of [
      '/api/import',
      '/api/import?mode=take&name=day.csv',
      `${importing('take', 'day.csv')}&mapping={`,
    ]) {
      const said = await send(path, 'Date,Start\n')
      expect(said.status).toBe(400)
      expectThreeParts(said)
    }
  }))

test('what is no JSON, and JSON that is no command, are refused', () =>
  changesNothing(async () => {
    const post = (body: string, type: string) =>
      desk.ask('/api/trpc/perform', { method: 'POST', body, headers: { 'content-type': type } })
    for (const said of [
      await post('{"id":', 'application/json'),
      await post('[]', 'application/json'),
      await post('kind=x', 'application/x-www-form-urlencoded'),
    ]) {
      expect(said.status).toBeGreaterThanOrEqual(400)
      expect(said.status).toBeLessThan(500)
      expectThreeParts(said)
    }
  }))

test('a command that does not exist, and one with an input of another shape, are named', () =>
  changesNothing(async () => {
    expect(expectThreeParts(await desk.perform('tray.juggle', {})).what).toContain('tray.juggle')
    expect(expectThreeParts(await desk.perform('appointment.arrive', { appointmentId: 7 })).what).toContain(
      'appointmentId',
    )
  }))

test('a command that the role does not allow is refused and says so', () =>
  changesNothing(async () => {
    const said = await assistant.perform('clock.move', { to: 0 })
    expect(said.body.result.data).toMatchObject({ refused: true })
    expect(JSON.stringify(said.body.result.data.findings)).toContain('not-allowed')
  }))

test('an id that nobody knows is refused, never guessed at', () =>
  changesNothing(async () => {
    const said = await desk.perform('appointment.arrive', { appointmentId: randomUUID() })
    expect(said.body.result.data).toMatchObject({
      refused: true,
      findings: [{ rule: 'appointment/unknown' }],
    })
    const page = await desk.ask(`/appointments/${randomUUID()}`)
    expect([404, 307, 200]).toContain(page.status)
  }))

test('a word on a plan number that no longer stands is refused', () =>
  changesNothing(async () => {
    const dentist = await signInAs(desk.address, 'Dr Maeve Corrigan')
    const day = await dentist.query('board.day', { siteId: desk.site.id, day: desk.today })
    const { plan } = day.body.result.data.world
    const mine = plan.find((each: { agreed: { state: string } }) => each.agreed.state === 'planned')
    const said = await dentist.perform('word.give', {
      appointmentId: mine.appointmentId,
      number: mine.number + 7,
    })
    expect(said.body.result.data.refused).toBe(true)
    expect(JSON.stringify(said.body.result.data.findings)).toContain('word/stale-number')
  }))

test('a page of another address cannot act in anybody’s name', () =>
  changesNothing(async () => {
    for (const path of [
      '/api/trpc/perform',
      importing('take', 'day.csv'),
      '/api/auth/sign-out',
      '/api/one-tap',
    ]) {
      const said = await desk.ask(path, {
        method: 'POST',
        body: '{}',
        headers: { origin: 'https://elsewhere.example', 'content-type': 'application/json' },
      })
      expect(said.status).toBe(403)
      expectThreeParts(said)
    }
  }))

test('whoever is not signed in is told to sign in', async ({ clinic }) => {
  const stranger = async (path: string, options: RequestInit = {}): Promise<Said> => {
    const came = await fetch(`${clinic.address}${path}`, options)
    return { status: came.status, body: await came.json() }
  }
  const json = { 'content-type': 'application/json' }
  const command = JSON.stringify({
    id: randomUUID(),
    kind: 'tray.claim',
    input: {},
    sawRevision: 0,
    madeAt: 0,
  })
  for (const said of [
    await stranger(importing('take', 'day.csv'), { method: 'POST', body: 'x' }),
    await stranger('/api/trpc/perform', { method: 'POST', headers: json, body: command }),
    await stranger('/api/changes?window=day/x/2026-11-24&since=0'),
  ]) {
    expect(said.status).toBe(401)
    expectThreeParts(said)
  }
})

test('five wrong passwords rest the account, and say for how long', async ({ clinic }) => {
  const attempt = async (): Promise<Said> => {
    const came = await fetch(`${clinic.address}/api/auth/sign-in/email`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ email: 'zielak@weirboard.invalid', password: 'not this one' }),
    })
    return { status: came.status, body: await came.json() }
  }
  for (let count = 0; count < 5; count += 1) expect((await attempt()).status).toBe(401)
  const rested = await attempt()
  expect(rested.status).toBe(429)
  expect(expectThreeParts(rested).todo).toMatch(/^Wait \d+ min/)
})
