import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange } from '#shared/change.ts'
import { decide } from '#shared/decide.ts'
import type { World } from '#shared/facts.ts'
import type { Member } from '#shared/people/clinic.ts'
import type { ClinicLine } from '#shared/people/policy-set.ts'
import { indexDay } from '#shared/readiness/day-index.ts'
import { judgeGate } from '#shared/readiness/gate.ts'
import { LINE_COMMANDS } from '#shared/readiness/line-commands.ts'
import { LINES } from '#shared/readiness/lines.ts'
import { judgeAppointment } from '#shared/readiness/readiness.ts'
import { say, sayToDesk } from '#shared/words/en.ts'
import {
  ASSISTANT,
  at,
  context,
  DENTIST,
  having,
  member,
  OTHER_DENTIST,
  scene,
  VISITED,
  visit,
} from './scene.ts'

/** What a clinic asks is its own (COMMON); what is printed beside it, with its sources, stands in `LINES`. */
const PRESSURE: ClinicLine = {
  kind: 'blood-pressure',
  when: 'everyone',
  words: 'the dentist is asked from 160/100',
}
const THINNERS: ClinicLine = {
  kind: 'anticoagulants',
  when: 'by-history',
  words: 'latest INR, within 24 hours',
}
const MANAGER = member(29, ['manager'], 'M. Wren')

const withLines = (lines: ClinicLine[] | null, history: string[] = []): World => {
  const seated = having(scene(), 'visit', visit('seated'))
  const patient = must(seated.patient[0], 'one')
  const noted = history.map((text) => ({ text, by: null, at: at(-600) }))
  return having(having(seated, 'patient', { ...patient, history: noted }), 'policySet', {
    ...must(seated.policySet[0], 'one'),
    lines,
  })
}
const ask = (world: World, kind: string, input: object, by: Member = ASSISTANT) =>
  decide({ ...world, member: [...world.member, MANAGER] }, { kind, input }, context(by, at(0), 7000))
const does = (world: World, ...asked: [kind: string, input: object, by?: Member]): World => {
  const decision = ask(world, ...asked)
  if (!decision.ok) throw new Error(decision.reasons.map(say).join(' '))
  return applyChange(world, decision.value.change)
}
const refusals = (world: World, ...asked: [kind: string, input: object, by?: Member]): string[] => {
  const decision = ask(world, ...asked)
  return decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
}
const open = (world: World) =>
  must(judgeAppointment(indexDay(world), VISITED, at(0)), 'held').open.filter(({ rule }) =>
    rule.startsWith('line/'),
  )
const shut = (world: World): string[] =>
  judgeGate(world, { appointmentId: VISITED, gate: 'inject', now: at(0) }).map(({ rule }) => rule)
const told = { appointmentId: VISITED, kind: 'blood-pressure' }

describe('the clinic’s own lines before the needle', () => {
  test('none is asked that the clinic has not set', () => {
    expect(open(withLines(null, ['hypertension']))).toEqual([])
    expect(refusals(withLines(null), 'line.record', { ...told, said: '120/80', forDentist: false })).toEqual([
      'line/not-here',
    ])
  })

  test('[line/not-asked] one set for everyone is a step that keeps the needle, in the clinic’s own words', () => {
    const world = withLines([PRESSURE])
    const [finding] = open(world)
    expect(finding).toMatchObject({ rule: 'line/not-asked', level: 'ask' })
    expect(finding && say(finding)).toContain('from 160/100')
    expect(finding && sayToDesk(finding)).toBeNull()
    expect(shut(world)).toContain('line/not-asked')
    const within = does(world, 'line.record', { ...told, said: '124/78', forDentist: false })
    expect(open(within)).toEqual([])
  })

  test('a line by history is asked of those whose history speaks of it, and of nobody else', () => {
    expect(open(withLines([THINNERS]))).toEqual([])
    expect(open(withLines([THINNERS], ['takes Warfarin since 2019']))).toMatchObject([
      { rule: 'line/not-asked' },
    ])
  })

  test('[line/for-dentist] beyond the line the dentist of this appointment is asked, nobody else, and no verdict is given', () => {
    const asked = does(withLines([PRESSURE]), 'line.record', { ...told, said: '165/95', forDentist: true })
    const [finding] = open(asked)
    expect(finding).toMatchObject({ rule: 'line/for-dentist', said: '165/95' })
    expect(finding && say(finding)).toMatch(/165\/95.*Ask the dentist/)
    expect(shut(asked)).toContain('line/for-dentist')
    const settling = { ...told, how: 'go-on' }
    expect(refusals(asked, 'line.settle', settling, ASSISTANT)).toEqual(['person/not-allowed'])
    expect(refusals(asked, 'line.settle', settling, OTHER_DENTIST)).toEqual(['word/not-booked-dentist'])
    const settled = does(asked, 'line.settle', settling, DENTIST)
    expect(open(settled)).toEqual([])
    const again = does(settled, 'line.record', { ...told, said: '180/110', forDentist: true })
    expect(open(again)).toMatchObject([{ rule: 'line/for-dentist', said: '180/110' }])
  })

  test('[line/not-today] the dentist wants another day: the needle is shut, and the desk is told to move it', () => {
    const asked = does(withLines([PRESSURE]), 'line.record', { ...told, said: '190/115', forDentist: true })
    const not = does(asked, 'line.settle', { ...told, how: 'not-today' }, DENTIST)
    const [finding] = open(not)
    expect(finding).toMatchObject({ rule: 'line/not-today', level: 'stop' })
    expect(finding && sayToDesk(finding)).toBe('The dentist asks for another day: move the appointment.')
    expect(shut(not)).toContain('line/not-today')
    expect(open(does(not, 'line.settle', { ...told, how: 'go-on' }, DENTIST))).toEqual([])
  })

  test('[line/not-here] nothing waits for the dentist, nothing is settled', () =>
    expect(refusals(withLines([PRESSURE]), 'line.settle', { ...told, how: 'go-on' }, DENTIST)).toEqual([
      'line/not-here',
    ]))

  test('lines are the manager’s to set, each kind once; none left is none asked', () => {
    const world = withLines(null)
    expect(refusals(world, 'lines.set', { lines: [PRESSURE] }, ASSISTANT)).toEqual(['person/not-allowed'])
    const set = does(world, 'lines.set', { lines: [PRESSURE, THINNERS] }, MANAGER)
    expect(set.policySet[0]?.lines).toEqual([PRESSURE, THINNERS])
    const twice = { lines: [PRESSURE, PRESSURE] }
    expect(LINE_COMMANDS['lines.set'].input.safeParse(twice).success).toBe(false)
    expect(does(set, 'lines.set', { lines: [] }, MANAGER).policySet[0]?.lines).toBeNull()
  })

  test('each kind says what is printed, and where it stands', () => {
    for (const { printed } of Object.values(LINES)) {
      expect(printed.length).toBeGreaterThan(0)
      for (const { source } of printed) expect(source.where).not.toBe('')
    }
  })
})
