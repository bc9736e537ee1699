import { describe, expect, it } from 'vitest'
import { parseFhir } from '#server/imports/fhir.ts'
import { openEach } from '../exports/validators.ts'
import { OPTIONS } from './small-clinic.ts'

const GOOD = {
  resourceType: 'Appointment',
  id: 'a1',
  status: 'booked',
  start: '2026-11-24T09:00:00Z',
  end: '2026-11-24T09:45:00Z',
  participant: [{ actor: { reference: 'Patient/p1', display: 'Aoife Ashgrove' }, status: 'accepted' }],
}
const without = (key: keyof typeof GOOD) =>
  Object.fromEntries(Object.entries(GOOD).filter(([name]) => name !== key)) as unknown as typeof GOOD

/**
 * What each validator catches, and what we refuse: a truth table found by running all three (READ). Ours lets
 * unknown elements through unread, as the standard asks of a reader.
 */
const TABLE: [
  defect: string,
  resource: typeof GOOD,
  schema: boolean,
  structure: boolean,
  bindings: boolean,
  ours: boolean,
][] = [
  ['nothing', GOOD, false, false, false, false],
  ['a status that is none', { ...GOOD, status: 'maybe' }, true, false, true, true],
  ['no status', without('status'), false, true, true, true],
  ['a time without offset', { ...GOOD, start: '2026-11-24T09:00:00' }, true, true, false, true],
  ['no participant', without('participant'), true, true, true, true],
  ['an empty list of participants', { ...GOOD, participant: [] }, false, true, true, true],
  ['a start without an end', without('end'), false, true, false, true],
  ['a length of 0', { ...GOOD, minutesDuration: 0 } as typeof GOOD, false, true, true, true],
  ['a length of 1.5', { ...GOOD, minutesDuration: 1.5 } as typeof GOOD, false, true, true, true],
  ['the end before the start', { ...GOOD, end: '2026-11-24T08:00:00Z' }, false, false, false, true],
  ['an unknown element', { ...GOOD, colour: 'blue' } as typeof GOOD, true, true, true, false],
]

describe('our narrow schemas against three validators', () => {
  const each = openEach()
  it.each(TABLE)('%s', (_, resource, schema, structure, bindings, ours) => {
    expect({
      schema: each.schema(resource).length > 0,
      structure: each.structure(resource).length > 0,
      bindings: each.bindings(resource).length > 0,
      ours: parseFhir(Buffer.from(JSON.stringify(resource)), OPTIONS).problems.length > 0,
    }).toEqual({ schema, structure, bindings, ours })
  })
})
