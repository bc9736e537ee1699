import { describe, expect, test } from 'vitest'
import { answerTeeth } from '#server/command-line/teeth.ts'
import { must } from '#shared/base/assert.ts'
import { applyChange } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import { can } from '#shared/people/role.ts'
import { needOf } from '#shared/procedures/catalogue.ts'
import { PROCEDURE_COMMANDS } from '#shared/procedures/commands.ts'
import { fieldClassOf } from '#shared/procedures/field-class.ts'
import { judgeWork } from '#shared/procedures/judge-work.ts'
import { recogniseWork } from '#shared/procedures/recognise.ts'
import type { Work } from '#shared/procedures/work.ts'
import { judgeGate } from '#shared/readiness/gate.ts'
import { mouthFrom } from '#shared/teeth/mouth.ts'
import type { ToothCondition } from '#shared/teeth/mouth-chart.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import { parseTeeth } from '#shared/teeth/parse-teeth.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { say } from '#shared/words/en.ts'
import {
  ASSISTANT,
  at,
  context,
  DENTIST,
  having,
  idOf,
  NINE,
  scene,
  VISITED,
  visit,
  word,
  work,
} from '#tests/shared/readiness/scene.ts'

/** A booking as it comes in, under a clinic's notation. */
const booked = (text: string, notation: Notation, more: Partial<Work> = {}): Work =>
  work({ text, ...recogniseWork(text, notation), ...more })
const judged = (
  booking: Work,
  around: { teeth?: Partial<Record<Tooth, ToothCondition[]>>; ageYears?: number } = {},
) => {
  const [chart] = scene().mouthChart
  const entry = (conditions: ToothCondition[]) => ({ conditions, by: DENTIST.id, at: NINE })
  const teeth = Object.fromEntries(
    Object.entries(around.teeth ?? {}).map(([tooth, each]) => [tooth, entry(each)]),
  )
  return judgeWork(booking, {
    chart: chart ? { ...chart, teeth } : null,
    ageYears: around.ageYears ?? 34,
    sideConfirmed: false,
  })
}
const asked = (booking: Work, around: Parameters<typeof judged>[1] = {}) =>
  judged(booking, around)
    .filter(({ level }) => level === 'ask')
    .map(({ rule }) => rule)
const mention = (world: World, more: object): World => {
  const rule = PROCEDURE_COMMANDS['work.mention']
  const input = rule.input.parse({ appointmentId: VISITED, workId: idOf(11), ...more })
  const decision = rule.decide(world, input, context(ASSISTANT, at(-30)))
  if (!decision.ok) throw new Error('refused')
  return applyChange(world, decision.value.change)
}
const bookedIn = (booking: Work): World => having(scene(), 'work', booking)
const workOf = (world: World): Work => must(world.work[0], 'booked')

describe('which tooth', () => {
  test('case 01 the same two digits, two different teeth: asked, with both in words', () => {
    const booking = booked('Root canal, tooth 31', 'ask')
    expect(booking).toMatchObject({ kind: 'root-canal', teeth: [] })
    const [found] = judged(booking)
    expect(found).toMatchObject({ rule: 'tooth/ambiguous', candidates: ['31', '47'] })
    expect(found && say(found)).toContain('31 (Univ 24), lower left central incisor')
    expect(found && say(found)).toContain('47 (Univ 31), lower right second molar')
    const ambiguous = Array.from({ length: 52 }, (_, n) => String(n + 1)).filter(
      (number) => parseTeeth(number, 'ask').teeth.length === 2 && Number(number) > 8,
    )
    // Arithmetic (COMMON): 11–18, 21–28, 31, 32.
    expect(ambiguous).toHaveLength(18)
  })

  test('case 01 the command line shows system, code and words', () => {
    const { body, exit } = answerTeeth({ text: 'Root canal, tooth 31', notation: 'ask' })
    expect(exit).toBe(0)
    expect(body).toMatchObject({
      result: 'ask',
      teeth: [
        { iso: '31', universal: '24', words: 'lower left central incisor' },
        { iso: '47', universal: '31', words: 'lower right second molar' },
      ],
    })
    expect(answerTeeth({ text: 16 })).toMatchObject({ exit: 2, body: { refused: true } })
    expect(answerTeeth({ text: '16', notation: 'zsigmondy' }).exit).toBe(2)
  })

  test('case 02 the look-alike neighbour is named, and nothing starts before the teeth are counted again through the dam', () => {
    const of41 = judged(work({ teeth: ['41'] })).find(({ rule }) => rule === 'tooth/look-alike')
    expect(of41).toMatchObject({ alike: ['42', '31'] })
    expect(of41 && say(of41)).toContain('41 (Univ 25), lower right central incisor')
    const readBack = { teeth: ['46' as const], planNumber: 1, by: DENTIST.id, at: at(-6) }
    const clamped = having(
      { ...scene(), word: [word()] },
      'visit',
      visit('clamped', { readBack, timeOut: readBack }),
    )
    const shut = judgeGate(clamped, { appointmentId: VISITED, gate: 'start', now: at(1) })
    expect(shut.map(({ rule }) => rule)).toContain('teeth/not-recounted')
  })

  test('case 04 a note that mislabels a tooth gives three candidates and chooses none', () => {
    for (const notation of ['ask', 'iso', 'universal'] as const) {
      const booking = booked('14, upper left first premolar', notation)
      expect(booking.teeth).toEqual([])
      expect([...(booking.mentions[0]?.candidates ?? [])].sort()).toEqual(['14', '24', '26'])
      expect(asked(booking)).toContain('tooth/words-contradict')
    }
  })

  test('case 05 “ext 5”, “4 on upper right”, “UR4”: one tooth may be meant, and the desk cannot settle it', () => {
    expect(parseTeeth('UR4', 'ask').teeth).toEqual(['14'])
    expect(parseTeeth('ext 5 for ortho', 'ask')).toMatchObject({ result: 'ask' })
    expect(parseTeeth('ext 5 for ortho', 'ask').teeth).toContain('14')
    expect(parseTeeth('ext 5 for ortho', 'universal')).toMatchObject({ result: 'tooth', teeth: ['14'] })
    // As Universal it is ISO 15, as the fourth of the quadrant 14, what A and C say. Taken for 15 it would clear itself,
    // and no note of the desk may: so the first candidate is the case's own, and it is asked.
    expect(parseTeeth('4 on upper right', 'universal')).toMatchObject({ result: 'ask', teeth: ['15', '14'] })
    expect(parseTeeth('4 on upper right', 'ask')).toMatchObject({ result: 'ask' })
    const order = bookedIn(booked('ext 5 for ortho', 'universal'))
    const noted = mention(order, { source: 'words', text: '4 on upper right', notation: 'universal' })
    expect(asked(workOf(noted))).toContain('tooth/ambiguous')
    expect(can(['front-desk'], PROCEDURE_COMMANDS['work.name'].needs)).toBe(false)
  })

  test('case 06 one letter, two baby teeth: asked; a bare letter counts only where the clinic counts by letters', () => {
    const booking = booked('pulpotomy, UR E', 'ask')
    expect(booking).toMatchObject({ kind: 'pulpotomy', teeth: [] })
    expect([...(booking.mentions[0]?.candidates ?? [])].sort()).toEqual(['51', '55'])
    expect(booked('pulpotomy K', 'universal').teeth).toEqual(['75'])
    expect(asked(booked('pulpotomy K', 'ask'), { ageYears: 5 })).toEqual(['tooth/ambiguous'])
  })

  test('case 08 a baby molar and the tooth under it', () => {
    const teeth = { '84': ['present'], '85': ['present'], '46': ['present'] } satisfies Partial<
      Record<Tooth, ToothCondition[]>
    >
    expect(asked(booked('filling 85', 'iso'), { teeth, ageYears: 10 })).toEqual([])
    expect(mouthFrom(teeth, { ageYears: 10, worked: ['85'] }).distalTo('85')[0]).toBe('46')
    const [found] = judged(booked('filling 45', 'iso'), { teeth, ageYears: 10 })
    expect(found).toMatchObject({ rule: 'tooth/predecessor-present', tooth: '45', predecessor: '85' })
    expect(found && say(found)).toContain(
      '45 (Univ 29), lower right second premolar is not charted as erupted',
    )
  })

  test('case 09 two molars left: which is absent is said, or asked', () => {
    const charted = {
      '45': ['present'],
      '46': ['missing'],
      '47': ['present'],
      '48': ['present'],
    } satisfies Partial<Record<Tooth, ToothCondition[]>>
    const booking = work({ teeth: ['47'] })
    expect(asked(booking, { teeth: charted })).toEqual([])
    const told = judged(booking, { teeth: charted }).find(({ rule }) => rule === 'tooth/first-standing-molar')
    expect(told && say(told)).toMatch(/first standing molar \(46 missing; standing 47, 48\)/)
    expect(asked(booking, { teeth: { '45': ['present'], '47': ['present'], '48': ['present'] } })).toEqual([
      'tooth/which-molar',
    ])
  })

  test('case 10 record says right, consent and film say left: nobody wins by number', () => {
    let world = bookedIn(work({ kind: 'extraction', text: 'XLA LR8', teeth: ['48'] }))
    world = mention(world, { source: 'consent', text: 'LL8' })
    world = mention(world, { source: 'image', text: 'LL8' })
    const found = judged(workOf(world), { teeth: { '48': ['present'], '38': ['present'] } }).find(
      ({ level }) => level === 'ask',
    )
    expect(found).toMatchObject({ rule: 'tooth/sources-disagree' })
    expect(found && say(found)).toContain('booking 48, consent 38, image label 38')
    expect(workOf(world).teeth).toEqual(['48'])
  })

  test('case 11 a mirrored image sets no side: it asks for the side on the patient', () => {
    const world = mention(scene(), { source: 'image', text: 'panoramic, 36', mirrored: true })
    expect(workOf(world).teeth).toEqual(['46'])
    expect(workOf(world).mentions.at(-1)).toMatchObject({ noted: { by: ASSISTANT.id, at: at(-30) } })
    expect(asked(workOf(world))).toEqual(['tooth/image-mirrored'])
  })

  test('case 12 “the last one on the top left” is kept as a statement and names no tooth', () => {
    const world = mention(bookedIn(work({ kind: 'extraction', text: 'extraction', teeth: [] })), {
      source: 'patient',
      text: 'last tooth upper left',
    })
    expect(workOf(world)).toMatchObject({
      teeth: [],
      mentions: [{ source: 'patient', text: 'last tooth upper left', candidates: [] }],
    })
    expect(asked(workOf(world))).toEqual(['tooth/referral-missing'])
  })

  test('case 15 what is not to be touched is said with the work', () => {
    const found = judged(work({ kind: 'extraction', teeth: ['25'] })).find(
      ({ rule }) => rule === 'tooth/look-alike',
    )
    expect(found && say(found)).toBe('Work on 25 (Univ 13), upper left second premolar only; not 24, 15.')
  })

  test('case 33 how many teeth hangs on the job: work and its class of field', () => {
    const classOf = (text: string) => {
      const { kind, teeth, surfaces } = recogniseWork(text, 'iso')
      return fieldClassOf(kind, teeth, surfaces)
    }
    expect(classOf('root canal 46')).toBe('root-canal')
    expect(classOf('filling 46 distal')).toBe('posterior')
    expect(classOf('two fillings 11 and 21')).toBe('anterior')
    for (const text of ['check-up', 'extraction 46', 'denture try-in']) {
      const { kind, teeth } = recogniseWork(text, 'iso')
      expect(needOf(kind, teeth).value).toBe('not-needed')
    }
    expect(recogniseWork('broken tooth', 'iso').kind).toBe('undetermined')
  })

  test('case 73 “broken tooth” could be anything: nothing is invented, and the dentist names it', () => {
    const booking = booked('broken tooth UR, pain', 'iso')
    expect(booking).toMatchObject({ kind: 'undetermined', teeth: [], mentions: [] })
    expect(needOf(booking.kind, []).value).toBe('undetermined')
    expect(asked(booking)).toEqual(['work/undetermined'])
    const rule = PROCEDURE_COMMANDS['work.name']
    const input = rule.input.parse({
      appointmentId: VISITED,
      workId: idOf(11),
      kind: 'root-canal',
      teeth: ['16'],
    })
    const decision = rule.decide(bookedIn(booking), input, context(DENTIST, at(0)))
    expect(decision.ok && decision.value.change.put.work?.[0]).toMatchObject({
      kind: 'root-canal',
      teeth: ['16'],
      text: 'broken tooth UR, pain',
    })
  })
})
