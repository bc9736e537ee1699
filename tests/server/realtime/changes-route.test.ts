import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { ENGINES } from '#db/database.ts'
import { addPerson } from '#tests/support/clinic.ts'
import { openTestHouse, type TestHouse } from '#tests/support/house.ts'
import { type Heard, parseEvents } from '#tests/support/screen.ts'

const DAY = '2026-11-24'

interface Stream {
  status: number
  heard: () => Heard[]
  ended: () => boolean
  close: () => void
}

describe.each(ENGINES)('GET /api/changes on %s', (engine) => {
  let t: TestHouse
  let manager: string
  let desk: string
  beforeAll(async () => {
    t = await openTestHouse(engine)
    manager = await t.signIn(t.clinic.manager)
    desk = await t.signIn(await addPerson(t.clinic, 'Dora Desk', 'front-desk'))
  })
  afterAll(() => t.close())

  async function openStream(search: string, headers: Record<string, string>): Promise<Stream> {
    const stop = new AbortController()
    const answer = await fetch(`${t.address}/api/changes${search}`, { headers, signal: stop.signal })
    let text = ''
    let ended = false
    const reader = answer.body?.pipeThrough(new TextDecoderStream()).getReader()
    const read = async (): Promise<void> => {
      for (;;) {
        const next = await reader?.read()
        if (!next || next.done) break
        text += next.value
      }
      ended = true
    }
    read().catch(() => {
      ended = true
    })
    return {
      status: answer.status,
      // What is short stands in tests of its own.
      heard: () => parseEvents(text).filter(({ name }) => name !== 'short'),
      ended: () => ended,
      close: () => stop.abort(),
    }
  }
  const dayWindow = () => `?window=day/${t.clinic.siteId}/${DAY}`
  const revision = async () =>
    (
      await t.house.hub.snapshot(t.clinic.clinicId, {
        kind: 'day',
        siteId: t.clinic.siteId,
        day: DAY as never,
      })
    ).revision
  const book = () =>
    t.clinic.done('appointment.book', {
      siteId: t.clinic.siteId,
      day: DAY,
      startsAt: '10:00',
      minutes: 60,
      operatoryId: null,
      dentistId: null,
      patient: { kind: 'new', given: 'Ada', family: 'Kerr', born: '1990-04-02' },
      work: ['RCT 36'],
    })

  it('sends a change as an event whose id is its revision, and resumes by Last-Event-ID without loss or repeat', async () => {
    const since = await revision()
    const first = await openStream(`${dayWindow()}&since=${since}`, { cookie: manager })
    const booked = await book()
    await vi.waitFor(() => expect(first.heard().map((event) => event.revision)).toEqual([booked]))
    first.close()
    const missed = await book()
    const again = await openStream(dayWindow(), { cookie: manager, 'last-event-id': String(booked) })
    const live = await book()
    await vi.waitFor(() => expect(again.heard().map((event) => event.revision)).toEqual([missed, live]))
    again.close()
  })

  it('refuses nobody, a foreign Origin, no window, and a clinical window for the desk', async () => {
    const [appointment] = (await t.clinic.world()).appointment
    const clinical = `?window=appointment/${appointment?.id}&since=0`
    const answers = await Promise.all([
      openStream(`${dayWindow()}&since=0`, {}),
      openStream(`${dayWindow()}&since=0`, { cookie: manager, origin: 'https://elsewhere.example' }),
      openStream('?since=0', { cookie: manager }),
      openStream(clinical, { cookie: desk }),
    ])
    expect(answers.map(({ status }) => status)).toEqual([401, 403, 400, 403])
  })

  it('sends the desk lanes, and a wall nothing more than a wall may see, whoever is signed in', async () => {
    const ofDesk = await openStream(`${dayWindow()}&since=0&audience=clinical`, { cookie: desk })
    const ofWall = await openStream(`${dayWindow()}&since=0&audience=wall`, { cookie: manager })
    for (const stream of [ofDesk, ofWall]) {
      await vi.waitFor(() => expect(stream.heard().map(({ name }) => name)).toEqual(['lanes']))
    }
    expect(JSON.stringify(ofWall.heard())).not.toContain('Kerr')
    ofDesk.close()
    ofWall.close()
  })

  it('ends when the sign-in behind it ends', async () => {
    const since = await revision()
    const stream = await openStream(`${dayWindow()}&since=${since}`, { cookie: manager })
    const session = await t.house.readSession(manager)
    await vi.waitFor(() => expect(t.house.hub.screens()).toBe(1))
    t.house.hub.endSession(session?.sessionId ?? '')
    await vi.waitFor(() => expect(stream.ended()).toBe(true))
  })
})
