import { describe, expect, test } from 'vitest'
import type { Seen } from '#app/_live/seen.ts'
import { keyed } from '#app/_ui/finding-keys.ts'
import { findingsFor } from '#app/appointments/[appointmentId]/_parts/findings-for.ts'
import type { Finding } from '#shared/finding.ts'
import { ASSISTANT, at, DENTIST } from '#tests/shared/readiness/scene.ts'

const about = 'appointment:1'
const SHELF: Finding = { rule: 'clamp/none-in-stock', level: 'note', about, tooth: '46', family: 'MOLAR_WL' }
const MISSING: Finding = { rule: 'history/not-confirmed', level: 'ask', about }
const STOPPED: Finding = { rule: 'line/not-today', level: 'stop', about, kind: 'glucose', said: '17' }

const listed = (open: Finding[], asked: Finding[], member = ASSISTANT): Finding[] =>
  findingsFor({
    readiness: { open } as unknown as Seen['readiness'],
    isolation: { findings: asked } as unknown as Seen['isolation'],
    member,
  })
const listedFor = (member: Seen['member']): string[] =>
  listed([MISSING, STOPPED, MISSING], [SHELF], member).map(({ rule }) => rule)

test('who treats is told nothing of the shelf; who keeps it is', () => {
  expect(listedFor(DENTIST)).toEqual(['line/not-today', 'history/not-confirmed'])
  expect(listedFor(ASSISTANT)).toEqual(['line/not-today', 'history/not-confirmed', 'clamp/none-in-stock'])
})

describe('of several findings', () => {
  const felt = (side: 'cheek' | 'tongue'): Finding => ({
    rule: 'numbness/felt',
    level: 'ask',
    about,
    place: { kind: 'gum', tooth: '46', side },
    at: at(-4),
  })

  test('[numbness/felt] two places that were felt are two lines, each with a key of its own', () => {
    const both = listed([felt('cheek'), felt('tongue'), felt('cheek')], [])
    expect(both).toEqual([felt('cheek'), felt('tongue')])
    expect(new Set(keyed(both).map(({ key }) => key)).size).toBe(2)
  })

  test('a key stays while the details of its finding move', () => {
    const later = { ...felt('cheek'), at: at(-2) }
    expect(keyed([later]).map(({ key }) => key)).toEqual(keyed([felt('cheek')]).map(({ key }) => key))
  })

  test('what the planner asks of a matter that was judged already is not asked twice', () => {
    const planned: Finding = { ...MISSING, level: 'note' } as unknown as Finding
    expect(listed([MISSING], [planned])).toEqual([MISSING])
  })
})
