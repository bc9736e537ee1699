import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { World } from '#shared/facts.ts'
import { can } from '#shared/people/role.ts'
import { PROCEDURE_COMMANDS } from '#shared/procedures/commands.ts'
import { judgeWork } from '#shared/procedures/judge-work.ts'
import { recogniseWork } from '#shared/procedures/recognise.ts'
import type { ToothMention, Work } from '#shared/procedures/work.ts'
import { TEETH_COMMANDS } from '#shared/teeth/commands.ts'
import { say } from '#shared/words/en.ts'
import {
  ASSISTANT,
  at,
  context,
  DENTIST,
  having,
  idOf,
  scene,
  VISITED,
  visit,
  work,
} from '#tests/shared/readiness/scene.ts'

const dentist = () => context(DENTIST, at(-30))
const done = (world: World, decision: Decision): World => {
  if (!decision.ok) throw new Error(decision.reasons.map(say).join(' '))
  return applyChange(world, decision.value.change)
}
const refusals = (decision: Decision) => (decision.ok ? [] : decision.reasons.map(({ rule }) => rule))
const name = (world: World, more: object) => {
  const rule = PROCEDURE_COMMANDS['work.name']
  const input = rule.input.parse({
    appointmentId: VISITED,
    workId: idOf(11),
    kind: 'root-canal',
    teeth: ['46'],
    ...more,
  })
  return rule.decide(world, input, dentist())
}
const mention = (world: World, more: object) => {
  const rule = PROCEDURE_COMMANDS['work.mention']
  const input = rule.input.parse({
    appointmentId: VISITED,
    workId: idOf(11),
    source: 'consent',
    text: 'LL8',
    ...more,
  })
  return rule.decide(world, input, context(ASSISTANT, at(-30)))
}
const workIn = (world: World): Work =>
  must(
    world.work.find(({ id }) => id === idOf(11)),
    'there',
  )
const asks = (world: World) =>
  judgeWork(workIn(world), { chart: null, ageYears: 34, sideConfirmed: false })
    .filter(({ level }) => level === 'ask')
    .map(({ rule }) => rule)
const open: ToothMention = {
  source: 'booking',
  text: '31',
  notation: 'ask',
  candidates: ['31', '47'],
  mirrored: false,
}

describe('work.name', () => {
  test('an open number is cleared by naming its tooth, and its words stay', () => {
    const world = having(scene(), 'work', work({ teeth: [], text: 'RCT 31', mentions: [open] }))
    expect(asks(world)).toEqual(['tooth/ambiguous'])
    const named = done(world, name(world, { teeth: ['47'] }))
    expect(asks(named)).toEqual([])
    expect(workIn(named)).toMatchObject({
      text: 'RCT 31',
      teeth: ['47'],
      mentions: [{ text: '31', candidates: ['47'] }],
    })
  })
  test('[tooth/unread] what names no tooth asks until the teeth are named, and its words stay', () => {
    const { mentions, teeth } = recogniseWork('comp 46, 49', 'iso')
    const world = having(scene(), 'work', work({ text: 'comp 46, 49', teeth, mentions }))
    expect(asks(world)).toEqual(['tooth/unread'])
    const named = done(world, name(world, { teeth: ['46'] }))
    expect(asks(named)).toEqual([])
    expect(workIn(named).mentions).toMatchObject([{ text: '49', unread: false }])
  })
  test('undetermined work becomes what the dentist names', () => {
    const world = having(
      scene(),
      'work',
      work({ kind: 'undetermined', teeth: [], text: 'broken tooth UR, pain' }),
    )
    const named = done(world, name(world, { teeth: ['16'] }))
    expect(workIn(named)).toMatchObject({ kind: 'root-canal', teeth: ['16'], text: 'broken tooth UR, pain' })
  })
  test('sources that disagree stay open until the dentist says that they are settled', () => {
    const world = done(scene(), mention(scene(), { text: 'LL6' }))
    expect(asks(world)).toEqual(['tooth/sources-disagree'])
    const named = done(world, name(world, {}))
    expect(asks(named)).toEqual(['tooth/sources-disagree'])
    const settled = done(named, name(named, { settles: true }))
    expect(asks(settled)).toEqual([])
    expect(workIn(settled).mentions.map(({ text }) => text)).toEqual(['LL6'])
  })
  test('[tooth/missing-from-plan] a tooth that the booking names and the work leaves out is told', () => {
    const world = having(scene(), 'work', work({ text: 'comp 46 47', teeth: ['46', '47'] }))
    const decision = name(world, { kind: 'direct-composite', teeth: ['46'] })
    expect(decision.ok && decision.value.findings).toMatchObject([
      { rule: 'tooth/missing-from-plan', teeth: ['47'] },
    ])
  })
  test('a further line of work stands behind the others', () => {
    const world = done(
      scene(),
      name(scene(), { workId: null, kind: 'direct-composite', teeth: ['45'], text: 'and 45' }),
    )
    expect(world.work.map(({ position, text }) => [position, text])).toEqual([
      [1, 'RCT 46'],
      [2, 'and 45'],
    ])
  })
  test('[work/surface-elsewhere] surfaces of a tooth that the work does not name are refused', () =>
    expect(refusals(name(scene(), { surfaces: { '47': ['O'] } }))).toEqual(['work/surface-elsewhere']))
  test('[work/unknown] a line that is not there, or of another appointment, is refused', () =>
    expect(refusals(name(scene(), { workId: idOf(999) }))).toEqual(['work/unknown']))
  test('the desk cannot name the tooth, and can add what a source says', () => {
    expect(can(['front-desk'], PROCEDURE_COMMANDS['work.name'].needs)).toBe(false)
    expect(can(['front-desk'], PROCEDURE_COMMANDS['work.mention'].needs)).toBe(true)
    expect(can(['dentist'], PROCEDURE_COMMANDS['work.name'].needs)).toBe(true)
  })
})

/** Who before what: case 18 (READ); two identifiers, Joint Commission NPSG.01.01.01 (READ). */
describe('who before what', () => {
  const askedAt = (minutes: number) => {
    const one = visit('seated')
    return having(scene(), 'visit', { ...one, identity: { ...must(one.identity, 'asked'), at: at(minutes) } })
  }
  test('[work/who-first] another tooth, another kind, a further line: refused until who it is was just asked', () => {
    const longAgo = askedAt(-40)
    const otherwise = [
      { teeth: ['47'] },
      { kind: 'extraction' },
      { workId: null, teeth: ['45'] },
      { teeth: [] },
    ]
    for (const each of otherwise) {
      expect(refusals(name(longAgo, each))).toEqual(['work/who-first'])
      expect(refusals(name(askedAt(-34), each))).toEqual([])
      expect(refusals(name(askedAt(-35), each))).toEqual(['work/who-first'])
    }
    const nobody = having(scene(), 'visit', { ...visit('seated'), identity: null })
    expect(refusals(name(nobody, { teeth: ['47'] }))).toEqual(['work/who-first'])
  })
  test('[work/who-first] before the chair, and where nothing was named before, nothing differs', () => {
    expect(refusals(name(scene(), { teeth: ['47'] }))).toEqual([])
    expect(refusals(name(askedAt(-40), { surfaces: { '46': ['O'] } }))).toEqual([])
    const unnamed = having(
      askedAt(-40),
      'work',
      work({ kind: 'undetermined', teeth: [], text: 'broken tooth' }),
    )
    expect(refusals(name(unnamed, { teeth: ['16'] }))).toEqual([])
  })
})

describe('work.mention', () => {
  test('a source never sets the tooth of the work', () => {
    const bare = having(scene(), 'work', work({ teeth: [] }))
    const world = done(bare, mention(bare, { source: 'referral', text: '46' }))
    expect(workIn(world).teeth).toEqual([])
    expect(workIn(world).mentions).toMatchObject([{ source: 'referral', candidates: ['46'] }])
  })
  test('a statement without a tooth is kept in its words', () => {
    const world = done(scene(), mention(scene(), { source: 'patient', text: 'last one on the top left' }))
    expect(workIn(world).mentions).toMatchObject([{ text: 'last one on the top left', candidates: [] }])
  })
  test('no words are no source', () => {
    const parse = () => mention(scene(), { text: '  ' })
    expect(parse).toThrow()
  })
})

describe('mouth.chart and mouth.stand-as-drawn', () => {
  const chart = (world: World, tooth: string, conditions: string[]) => {
    const rule = TEETH_COMMANDS['mouth.chart']
    return rule.decide(world, rule.input.parse({ appointmentId: VISITED, tooth, conditions }), dentist())
  }
  const stand = (world: World) =>
    TEETH_COMMANDS['mouth.stand-as-drawn'].decide(world, { appointmentId: VISITED, saw: null }, dentist())

  test('one tooth is charted with who and when, and taken back by charting nothing', () => {
    const charted = done(scene(), chart(scene(), '47', ['missing']))
    expect(charted.mouthChart[0]?.teeth['47']).toMatchObject({ conditions: ['missing'], by: DENTIST.id })
    expect(done(charted, chart(charted, '47', [])).mouthChart[0]?.teeth['47']).toBeUndefined()
  })
  test('a mouth nobody has looked at is charted by one touch', () => {
    const bare: World = { ...scene(), mouthChart: [] }
    const one = done(bare, chart(bare, '47', ['missing']))
    expect(one.mouthChart[0]?.charted).toBeNull()
    expect(done(one, stand(one)).mouthChart[0]).toMatchObject({
      charted: { by: DENTIST.id },
      teeth: { '47': {} },
    })
  })
  test('[mouth/contradicts-itself] a tooth is not missing and crowned at once', () =>
    expect(refusals(chart(scene(), '47', ['missing', 'metal-crown']))).toEqual(['mouth/contradicts-itself']))
  test('[mouth/no-patient] an appointment whose patient is not held has no mouth', () =>
    expect(refusals(stand({ ...scene(), patient: [] }))).toEqual(['mouth/no-patient']))
})
