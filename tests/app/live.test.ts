import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { joined, openAnnouncer, QUIET_BETWEEN_MS } from '#app/_live/announcer.ts'
import { openEventReader, type StreamEvent } from '#app/_live/event-stream.ts'
import { freshnessAfter, QUIET_MS, STALE_MS, stepBoard, stepDay, stepWorld } from '#app/_live/held.ts'
import { newId } from '#app/_live/new-id.ts'
import { NO_ANSWER, troubleOf } from '#app/_live/trouble.ts'
import { instant } from '#shared/base/moment.ts'
import { emptyWorld } from '#shared/facts.ts'
import { parseId } from '#shared/ids.ts'

const written = (event: StreamEvent): string =>
  [
    `event: ${event.name}`,
    event.id === null ? '' : `id: ${event.id}`,
    ...event.data.split('\n').map((line) => `data: ${line}`),
    '',
    '',
  ]
    .filter((line, index, lines) => line !== '' || index >= lines.length - 2)
    .join('\n')

describe('reading server-sent events', () => {
  test('a comment is no event', () => {
    expect(openEventReader()(': still here\n\n')).toEqual([])
  })
  test('line ends may be CR LF, and one space after the colon is not part of the value', () => {
    expect(openEventReader()('event:change\r\nid: 7\r\ndata:  x\r\n\r\n')).toEqual([
      { name: 'change', id: '7', data: ' x' },
    ])
  })
  test('law: however the text is cut on its way, the same events arrive', () => {
    const line = fc.stringMatching(/^[a-z {}":,]{1,12}$/)
    const event = fc.record({
      name: fc.constantFrom('change', 'lanes', 'resync'),
      id: fc.constantFrom('1', '22', null),
      data: fc.array(line, { minLength: 1, maxLength: 3 }).map((lines) => lines.join('\n')),
    })
    fc.assert(
      fc.property(fc.array(event), fc.array(fc.nat(200)), (events, cuts) => {
        const text = events.map(written).join(': beat\n\n')
        const read = openEventReader()
        const places = [0, ...cuts.filter((cut) => cut < text.length).sort((a, b) => a - b), text.length]
        const came = places.slice(1).flatMap((end, index) => read(text.slice(places[index], end)))
        expect(came).toEqual(events)
      }),
    )
  })
})

describe('what a screen holds', () => {
  const clinic = { id: 'c', name: 'A' }
  const held = { revision: 4, at: instant(1_000), world: emptyWorld() }
  const event = (revision: number): StreamEvent => ({
    name: 'change',
    id: `${revision}`,
    data: JSON.stringify({ revision, at: 2_000, change: { put: { clinic: [clinic] }, remove: {} } }),
  })

  test('what is short is replaced whole and no fact moves; a change leaves it', () => {
    const line = { appointmentId: 'a', at: 3_000, operatory: '4', says: '1 dam set short' }
    const short = { name: 'short', id: '4', data: JSON.stringify({ revision: 4, at: 2_000, short: [line] }) }
    const told = stepDay({ ...held, short: [] }, short)
    expect(told).toEqual({ kind: 'held', held: { ...held, at: 2_000, short: [line] } })
    const changed = told.kind === 'held' ? stepDay(told.held, event(5)) : told
    expect(changed).toMatchObject({ held: { revision: 5, short: [line] } })
    const gone = { ...short, data: JSON.stringify({ revision: 5, at: 3_000, short: [] }) }
    expect(changed.kind === 'held' && stepDay(changed.held, gone)).toMatchObject({
      held: { revision: 5, short: [] },
    })
  })

  test('a change is applied and its revision and moment kept', () => {
    const step = stepWorld(held, event(5))
    expect(step).toMatchObject({
      kind: 'held',
      held: { revision: 5, at: 2_000, world: { clinic: [clinic] } },
    })
  })
  test('a change already held is not applied again', () => {
    expect(stepWorld(held, event(4))).toEqual({ kind: 'held', held })
  })
  test('resync asks for a snapshot', () => {
    expect(stepWorld(held, { name: 'resync', id: null, data: '{}' })).toEqual({ kind: 'resync' })
  })
  test('lanes replace those of the same operatory and leave the others', () => {
    const lane = (operatoryId: string, position: number, name: string) => ({ operatoryId, position, name })
    const board = { lanes: [lane('a', 1, 'one'), lane('b', 2, 'two')], unplaced: [] }
    const step = stepBoard({ revision: 1, at: instant(0), board } as never, {
      name: 'lanes',
      id: '2',
      data: JSON.stringify({ revision: 2, at: 9, lanes: [lane('b', 2, 'TWO')] }),
    })
    expect(step).toMatchObject({
      held: { revision: 2, at: 9, board: { at: 9, lanes: [{ name: 'one' }, { name: 'TWO' }] } },
    })
  })
  test('silence is first told and then not to be relied on', () => {
    expect([0, QUIET_MS, QUIET_MS + 1, STALE_MS, STALE_MS + 1].map(freshnessAfter)).toEqual([
      'fresh',
      'fresh',
      'reconnecting',
      'reconnecting',
      'stale',
    ])
  })
})

describe('speaking politely', () => {
  beforeEach(() => vi.useFakeTimers())
  afterEach(() => vi.useRealTimers())

  test('the first text is said at once, what gathers in five seconds as one', () => {
    const said: string[] = []
    const { say } = openAnnouncer((text) => said.push(text))
    for (const text of ['one', 'two', 'three', 'four']) say(text)
    expect(said).toEqual(['one'])
    vi.advanceTimersByTime(QUIET_BETWEEN_MS)
    expect(said).toEqual(['one', '3 changes. four'])
  })
  test('the same text twice is made different, or a screen reader would pass it over', () => {
    const said: string[] = []
    const { say } = openAnnouncer((text) => said.push(text))
    say('Done.')
    vi.advanceTimersByTime(QUIET_BETWEEN_MS)
    say('Done.')
    expect(said).toHaveLength(2)
    expect(said[0]).not.toBe(said[1])
  })
  test('two texts are both said', () => {
    expect(joined(['a.', 'b.'])).toBe('a. b.')
  })
})

test('a new id is a UUID of version 4 (RFC 9562)', () => {
  for (let n = 0; n < 200; n++) {
    expect(parseId(newId())).not.toBeNull()
    expect(newId()).toMatch(/^.{14}4.{4}[89ab]/)
  }
})

test('an error is found wherever an answer carries it, and what cannot be read still says what to do', () => {
  const trouble = { what: 'a', why: 'b', todo: 'c' }
  expect(troubleOf({ refused: true, error: trouble })).toEqual(trouble)
  expect(troubleOf('<html>')).toBe(NO_ANSWER)
  expect(troubleOf(null)).toBe(NO_ANSWER)
})
