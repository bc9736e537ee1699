import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { COMMON } from '#shared/base/source.ts'
import { applyChange } from '#shared/change.ts'
import { decide } from '#shared/decide.ts'
import type { World } from '#shared/facts.ts'
import type { InstrumentSetId, PackId, TrayId, TrayLineId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import { DEFAULT_POLICY_SET } from '#shared/people/default-policy.ts'
import { indexDay } from '#shared/readiness/day-index.ts'
import { judgeGate } from '#shared/readiness/gate.ts'
import { HELP_KINDS } from '#shared/readiness/help.ts'
import { cardFor, GENERAL_CARDS } from '#shared/readiness/help-cards.ts'
import type { HELP_COMMANDS } from '#shared/readiness/help-commands.ts'
import { judgeAppointment } from '#shared/readiness/readiness.ts'
import {
  ASSISTANT,
  at,
  CLINIC,
  context,
  DENTIST,
  having,
  idOf,
  member,
  SITE,
  scene,
  VISITED,
  visit,
} from './scene.ts'

const asked = (world: World, kind: keyof typeof HELP_COMMANDS, input: object, by: Member = ASSISTANT) =>
  decide(world, { kind, input }, context(by, at(1)))
const performed = (world: World, ...parameters: [keyof typeof HELP_COMMANDS, object, Member?]): World => {
  const decision = asked(world, ...parameters)
  if (!decision.ok) throw new Error(decision.reasons.map(({ rule }) => rule).join())
  return applyChange(world, decision.value.change)
}
const refusedBy = (decision: ReturnType<typeof asked>): string[] =>
  decision.ok ? [] : decision.reasons.map(({ rule }) => rule)

const started = having(scene(), 'visit', visit('started'))
const bleach = { appointmentId: VISITED, kind: 'bleach-on-tissue', drill: false }
const lineOf = (world: World) => must(judgeAppointment(indexDay(world), VISITED, at(2)), 'held')

// Practitioner case 55: READ. One touch by anyone at the chair, and the time runs from it.
test('case 55 the patient tastes or feels burning: one touch holds the chair from that minute, until a dentist closes it', () => {
  const clamped = having(scene(), 'visit', visit('clamped'))
  const asked = { kind: 'help.call', input: { appointmentId: VISITED, kind: 'taste-or-burn', drill: false } }
  const decision = decide(clamped, asked, context(ASSISTANT, at(3), 9000))
  expect(decision.ok && decision.value.change.put.incident).toMatchObject([
    { kind: 'taste-or-burn', at: at(3), by: ASSISTANT.id, life: { kind: 'open' } },
  ])
  const held = decision.ok ? applyChange(clamped, decision.value.change) : clamped
  const line = judgeAppointment(indexDay(held), VISITED, at(4))?.line
  expect(line).toMatchObject({ state: 'hold', missing: { rule: 'help/open', since: at(3) } })
})

describe('help here', () => {
  test('[help/open] a call holds the chair on every screen and keeps the patient from leaving', () => {
    const world = performed(started, 'help.call', bleach)
    expect(lineOf(world).line).toMatchObject({
      state: 'hold',
      missing: { rule: 'help/open' },
      next: 'dentist',
    })
    const shut = judgeGate(world, { appointmentId: VISITED, gate: 'leave', now: at(2) })
    expect(shut.map(({ rule }) => rule)).toContain('help/open')
  })

  test('[help/drill] a drill is told and holds nothing', () => {
    const world = performed(started, 'help.call', { ...bleach, drill: true })
    expect(lineOf(world).open.map(({ rule }) => rule)).toContain('help/drill')
    expect(lineOf(world).line.state).not.toBe('hold')
  })

  test('[help/already-called] a second touch calls nobody twice', () => {
    const world = performed(started, 'help.call', bleach)
    expect(refusedBy(asked(world, 'help.call', bleach))).toEqual(['help/already-called'])
    expect(asked(world, 'help.call', { ...bleach, kind: 'collapse' }).ok).toBe(true)
  })

  test('[help/not-open] every step is stamped, a dentist closes it, and it is kept', () => {
    const world = performed(started, 'help.call', bleach)
    const incidentId = must(world.incident[0], 'one').id
    const stepped = performed(world, 'help.step', { incidentId, text: 'rinsed with saline' })
    expect(stepped.incident[0]?.steps).toEqual([{ text: 'rinsed with saline', at: at(1), by: ASSISTANT.id }])
    const ending = { incidentId, outcome: 'settled', note: '' }
    expect(refusedBy(asked(stepped, 'help.close', ending))).toEqual(['person/not-allowed'])
    const closed = performed(stepped, 'help.close', ending, DENTIST)
    expect(closed.incident[0]?.life).toMatchObject({ kind: 'closed', by: DENTIST.id, outcome: 'settled' })
    expect(lineOf(closed).open.map(({ rule }) => rule)).not.toContain('help/open')
    expect(refusedBy(asked(closed, 'help.step', { incidentId, text: 'late' }))).toEqual(['help/not-open'])
  })

  test('[help/open] a lost clamp marks the dam set of this tray incomplete', () => {
    const setId = idOf<InstrumentSetId>(210)
    const packId = idOf<PackId>(211)
    const world: World = {
      ...started,
      instrumentSet: [
        {
          clinicId: CLINIC,
          id: setId,
          kind: 'dam-set',
          mark: 'D1',
          homeSiteId: SITE,
          place: { kind: 'in-use', siteId: SITE },
          incomplete: false,
        },
      ],
      pack: [
        {
          clinicId: CLINIC,
          id: packId,
          siteId: SITE,
          code: 'D1-1',
          kind: 'dam-set',
          setId,
          loadId: null,
          sterilised: null,
          seen: null,
          life: { kind: 'opened', appointmentId: VISITED, at: at(-5) },
        },
      ],
      trayLine: [
        {
          clinicId: CLINIC,
          id: idOf<TrayLineId>(212),
          trayId: idOf<TrayId>(70),
          position: 0,
          item: 'dam-set',
          name: 'dam set',
          count: 1,
          class: 'reusable-set',
          packKind: 'dam-set',
          contents: { latex: 'free' },
          countedBack: false,
          packId,
          stockLineId: null,
          tick: null,
          fault: null,
          swapped: null,
          omitted: null,
        },
      ],
    }
    const lost = performed(world, 'help.call', { ...bleach, kind: 'lost-clamp' })
    expect(lost.instrumentSet[0]?.incomplete).toBe(true)
    expect(performed(world, 'help.call', { ...bleach, kind: 'collapse' }).instrumentSet[0]?.incomplete).toBe(
      false,
    )
  })

  test('the clinic’s own card takes the general list’s place, kind by kind, and can be taken back', () => {
    const manager = member(26, ['manager'])
    const steps = ['Call Dr Quill', 'Red box from room 2']
    const own = performed(started, 'help.card', { kind: 'collapse', steps }, manager)
    const [policy = null] = own.policySet
    expect(cardFor('collapse', policy)).toEqual({ steps, general: null })
    expect(cardFor('lost-clamp', policy)).toEqual({ steps: GENERAL_CARDS['lost-clamp'], general: COMMON })
    const back = performed(own, 'help.card', { kind: 'collapse', steps: [] }, manager)
    expect(cardFor('collapse', back.policySet[0] ?? null).steps).toEqual(GENERAL_CARDS.collapse)
    expect(refusedBy(asked(started, 'help.card', { kind: 'collapse', steps }))).toEqual([
      'person/not-allowed',
    ])
  })

  test.each(HELP_KINDS)('the general card for %s names no amount and no verdict', (kind) => {
    for (const step of GENERAL_CARDS[kind]) expect(step).not.toMatch(/\d|\bsafe\b|recommended|\bm[lg]\b/i)
  })

  test('setting the other policies leaves the cards as they are', () => {
    const manager = member(26, ['manager'])
    const own = performed(started, 'help.card', { kind: 'collapse', steps: ['Call Dr Quill'] }, manager)
    const { help: _, ...picks } = DEFAULT_POLICY_SET
    const decision = decide(own, { kind: 'policy.set', input: picks }, context(manager, at(1)))
    expect(decision.ok && decision.value.change.put.policySet?.[0]?.help).toEqual({
      collapse: ['Call Dr Quill'],
    })
  })
})
