import { expect, test } from 'vitest'
import type { Seen } from '#app/_live/seen.ts'
import { findingsFor } from '#app/appointments/[appointmentId]/_parts/findings-for.ts'
import type { Finding } from '#shared/finding.ts'
import { ASSISTANT, DENTIST } from '#tests/shared/readiness/scene.ts'

const about = 'appointment:1'
const SHELF: Finding = { rule: 'clamp/none-in-stock', level: 'note', about, tooth: '46', family: 'MOLAR_WL' }
const MISSING: Finding = { rule: 'history/not-confirmed', level: 'ask', about }
const STOPPED: Finding = { rule: 'line/not-today', level: 'stop', about, kind: 'glucose', said: '17' }

const listedFor = (member: Seen['member']): string[] =>
  findingsFor({
    readiness: { open: [MISSING, STOPPED, MISSING] } as unknown as Seen['readiness'],
    isolation: { findings: [SHELF] } as unknown as Seen['isolation'],
    member,
  }).map(({ rule }) => rule)

test('who treats is told nothing of the shelf; who keeps it is', () => {
  expect(listedFor(DENTIST)).toEqual(['line/not-today', 'history/not-confirmed'])
  expect(listedFor(ASSISTANT)).toEqual(['line/not-today', 'history/not-confirmed', 'clamp/none-in-stock'])
})
