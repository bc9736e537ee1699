import { describe, expect, test } from 'vitest'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { World } from '#shared/facts.ts'
import { ISOLATION_COMMANDS } from '#shared/isolation/commands.ts'
import type { Spacing } from '#shared/isolation/isolation-facts.ts'
import { DEFAULT_PLACING } from '#shared/isolation/placing-policy.ts'
import { DEFAULT_SPACING } from '#shared/isolation/sheet-policy.ts'
import { listPlacement, listRemoval, stepsFor } from '#shared/isolation/steps.ts'
import type { Member } from '#shared/people/clinic.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { sayStep } from '#shared/words/en/plan.ts'
import { say, sayToDesk } from '#shared/words/en.ts'
import {
  type Asked,
  asksOf,
  clampsOf,
  fieldOf,
  holesOf,
  planned,
  rulesOf,
} from '#tests/shared/isolation/asking.ts'
import { ASSISTANT, at, context, DENTIST, scene, VISITED, visit } from '#tests/shared/readiness/scene.ts'

const holeOf = (asked: Asked, tooth: Tooth) =>
  planned(asked).sheets[0]?.holes.find((hole) => hole.tooth === tooth)

/** Geometry COMMON; marking a corner MEMORY. */
test.each([
  ['46', 'left', 'on or below'],
  ['16', 'left', 'above'],
  ['26', 'right', 'above'],
  ['36', 'right', 'on or below'],
] as const)('case 21: %s stands in the viewer’s %s half, %s the middle line', (tooth, half, height) => {
  const hole = holeOf({ kind: 'root-canal', teeth: tooth }, tooth)
  expect((hole?.xMm ?? 75) < 75 ? 'left' : 'right').toBe(half)
  expect((hole?.yMm ?? 0) >= 75 ? 'on or below' : 'above').toBe(height)
})

/** Limits READ; measured how: stated with each. */
describe('case 22: holes too close, or too far', () => {
  const asked = (mm: number, measure: 'edge-to-edge' | 'centre-to-centre'): Asked => ({
    teeth: '35 O',
    policy: 'LIMITED_1D2M',
    clinic: { spacing: { ...DEFAULT_SPACING.value, wanted: { mm, measure } } },
  })
  test.each(['edge-to-edge', 'centre-to-centre'] as const)(
    '1 mm %s is refused: too narrow, it will leak',
    (measure) => {
      const plan = planned(asked(1, measure))
      expect(plan.state).toBe('draft')
      const [finding] = plan.findings.filter(({ rule }) => rule === 'sheet/septum-narrow')
      expect(finding && say(finding)).toMatch(/edge to edge.*too narrow, it will leak/)
    },
  )
  test('the clinic’s own limits say how they are measured, and count so', () => {
    const limited = (least: Spacing, most: Spacing | null): string[] =>
      rulesOf(
        planned({
          teeth: '35 O',
          policy: 'LIMITED_1D2M',
          clinic: { spacing: { wanted: null, least, most } },
        }),
      ).filter((rule) => rule.startsWith('sheet/'))
    const [edge, centre] = [
      { measure: 'edge-to-edge', mm: 6 },
      { measure: 'centre-to-centre', mm: 6 },
    ] as const
    // Neighbours 7 mm apart from centre to centre leave 5.5 mm or less between their edges.
    expect(limited(edge, null)).toContain('sheet/septum-narrow')
    expect(limited(centre, null)).toEqual([])
    const near = { measure: 'edge-to-edge', mm: 0.5 } as const
    expect(limited(near, centre)).toContain('sheet/fold')
    expect(limited(near, { measure: 'centre-to-centre', mm: 12 })).toEqual([])
  })
  test.each(['edge-to-edge', 'centre-to-centre'] as const)('[sheet/fold] 12 mm %s will bunch', (measure) => {
    const [finding] = planned(asked(12, measure)).findings.filter(({ rule }) => rule === 'sheet/fold')
    expect(finding && say(finding)).toMatch(/centre to centre.*will bunch/)
  })
})

/** READ and COMMON. */
test.each([
  { notes: ['41 lingual, rotated'] },
  { mouth: { 41: ['malposed'] } },
  { notes: ['lower front crowded'] },
] satisfies Asked[])('case 23: a tooth out of line is marked in the mouth, not punched ahead: %j', (more) => {
  const plan = planned({ teeth: '42 M, 41 M, 31 M, 32 M', ...more })
  expect(plan.state).toBe('planned')
  expect(rulesOf(plan)).toContain('sheet/mark-in-mouth')
  expect(plan.sheets[0]?.markInMouth).toBe(true)
  const [sheet] = plan.sheets
  expect(sheet && listPlacement(stepsFor(plan, sheet)).map(({ name }) => name)).toContain('mark-in-mouth')
})

/** Nostrils READ; frame MEMORY. */
test('case 24: nostrils clear, the frame’s curve to the chin and its open ends to the eyes', () => {
  const plan = planned({ teeth: '11 M', age: 40 })
  expect(plan.cautions).toContain('nostrils-clear')
  const [sheet] = plan.sheets
  const frame = sheet && listPlacement(stepsFor(plan, sheet)).find(({ name }) => name === 'frame')
  expect(frame && sayStep(frame)).toMatch(/curve to the chin, open ends to the eyes, pins outwards/)
})

/** Over READ in study cards, under READ in Carrotte: the clinic picks, and the step says which. */
test.each(['over', 'under'] as const)(
  'case 24: the step says that this clinic’s frame goes %s the sheet',
  (frame) => {
    const placing = { ...DEFAULT_PLACING.value, frame }
    const plan = planned({ teeth: '11 M', clinic: { placing } })
    const [sheet] = plan.sheets
    const step = sheet && listPlacement(stepsFor(plan, sheet)).find(({ name }) => name === 'frame')
    expect(step && sayStep(step)).toContain(`Frame ${frame} the sheet`)
  },
)

/** Rule and exception READ, choice COMMON. */
describe('case 25: no tooth behind the one being filled', () => {
  const asked: Asked = {
    teeth: '36 O',
    policy: 'ASSIST_RANGE',
    mouth: { 37: ['missing'], 38: ['unerupted'], 35: ['present'], 34: ['present'], 33: ['present'] },
  }
  test('[anchor/working-tooth] the treated tooth is clamped, four holes, the largest on it', () => {
    const plan = planned(asked)
    expect([plan.state, holesOf(plan), clampsOf(plan)]).toEqual([
      'planned',
      '36:5 35:3 34:3 33:3',
      '36 MOLAR_W_PASSIVE',
    ])
    const [finding] = plan.findings.filter(({ rule }) => rule === 'anchor/working-tooth')
    expect(finding && say(finding)).toBe('No tooth stands behind 36. The clamp goes on the treated tooth.')
  })
  test('work on its far side: the dentist chooses the clamp, until then a draft', () => {
    const plan = planned({ ...asked, teeth: '36 DO' })
    expect([plan.state, asksOf(plan)]).toEqual(['draft', ['anchor/distal-of-last']])
    expect(holesOf(plan)).not.toMatch(/37|38/)
  })
})

/** READ. */
test.each([{ notes: ['partly erupted, flap'] }, { mouth: { 46: ['partly-erupted'] } }] satisfies Asked[])(
  'case 27: a half-erupted molar may not hold a clamp; another way is counted instead, not beside: %j',
  (more) => {
    const asked: Asked = { kind: 'resin-sealant', teeth: '46', ...more }
    expect(rulesOf(planned(asked))).toContain('anchor/may-not-hold')
    const other = planned({
      ...asked,
      choice: { alternative: { method: 'cotton-rolls', reason: 'clamp will not hold' } },
    })
    expect([other.state, other.sheets, other.agreed.alternative]).toEqual(['alternative', [], 'cotton-rolls'])
  },
)

/** Obstacle READ, measures MEMORY. */
test('case 28: a fixed wire through the field waits for the dentist', () => {
  const mouth = { 25: ['bracketed'], 24: ['bracketed'] } satisfies Asked['mouth']
  const plan = planned({ teeth: '25 MO', mouth })
  expect([plan.state, asksOf(plan)]).toEqual(['draft', ['field/wire']])
  const slit = planned({ teeth: '25 MO', mouth, answers: [['field/wire', 'field', 'slit']] })
  expect([slit.state, slit.sheets[0]?.slit.length]).toEqual(['planned', slit.sheets[0]?.field.length])
})

/** MEMORY. */
describe('case 30: an implant or a ceramic crown as the anchor', () => {
  test('[anchor/moved] an implant crown is passed over', () => {
    const plan = planned({ teeth: '25 MO', policy: 'LIMITED_1D2M', mouth: { 26: ['implant'] } })
    expect([plan.state, plan.sheets[0]?.anchor]).toEqual(['planned', '27'])
    expect(rulesOf(plan)).toContain('anchor/moved')
  })
  test('with none behind it the treated tooth is clamped', () => {
    const mouth = { 26: ['implant'], 27: ['missing'] } satisfies Asked['mouth']
    const plan = planned({ teeth: '25 MO', policy: 'LIMITED_1D2M', mouth })
    expect([plan.sheets[0]?.anchor, fieldOf(plan)]).toEqual(['25', '25 24 23'])
  })
  test('[anchor/unsuitable] named by a person, the dentist must accept it', () => {
    const asked: Asked = {
      teeth: '25 MO',
      policy: 'LIMITED_1D2M',
      mouth: { 26: ['implant'] },
      anchors: ['26'],
    }
    expect([planned(asked).state, asksOf(planned(asked))]).toEqual(['draft', ['anchor/unsuitable']])
    const accepted = planned({ ...asked, answers: [['anchor/unsuitable', 'tooth:26', 'accept']] })
    expect([accepted.state, clampsOf(accepted)]).toEqual(['planned', '26 NONMETAL'])
  })
  test('a ceramic crown waits for the dentist', () => {
    const plan = planned({ teeth: '25 MO', policy: 'LIMITED_1D2M', mouth: { 26: ['ceramic-crown'] } })
    expect([plan.state, asksOf(plan)]).toEqual(['draft', ['anchor/ceramic-crown']])
  })
})

/** READ. */
describe('case 31: a broken-down tooth', () => {
  const asked: Asked = { kind: 'root-canal', teeth: '46', notes: ['crown gone below gum lingually'] }
  test('[anchor/broken-down] the dentist is asked', () => {
    expect([planned(asked).state, asksOf(planned(asked))]).toEqual(['draft', ['anchor/broken-down']])
  })
  test('a neighbour clamped means a slit over both', () => {
    const plan = planned({ ...asked, answers: [['anchor/broken-down', 'tooth:46', 'clamp-neighbour']] })
    expect([plan.state, plan.sheets[0]?.anchor, plan.sheets[0]?.slit]).toEqual([
      'planned',
      '47',
      ['47', '46'],
    ])
  })
  test('[alternative/needed] not suitable for a dam: another way, with its reason', () => {
    const plan = planned({ ...asked, answers: [['anchor/broken-down', 'tooth:46', 'no-dam']] })
    expect([plan.state, asksOf(plan)]).toEqual(['draft', ['alternative/needed']])
  })
})

/** READ. */
test('case 32 [field/contact-closed]: floss does not pass, so one hole for the pair or a slit', () => {
  const asked: Asked = {
    teeth: '36 MO',
    policy: 'LIMITED_1D2M',
    notes: ['36/37 contact: floss does not pass'],
  }
  expect([planned(asked).state, asksOf(planned(asked))]).toEqual(['draft', ['field/contact-closed']])
  const shared = planned({ ...asked, answers: [['field/contact-closed', 'teeth:36-37', 'one-hole']] })
  expect([shared.state, holesOf(shared), fieldOf(shared)]).toEqual([
    'planned',
    '37:5 35:3 34:3',
    '37 36 35 34',
  ])
  const slit = planned({ ...asked, answers: [['field/contact-closed', 'teeth:36-37', 'slit']] })
  expect([slit.state, slit.sheets[0]?.slit]).toEqual(['planned', ['37', '36']])
})

/** (a), (c) READ; (b) READ rule; (d) COMMON. */
describe('case 33: how many teeth depends on the job', () => {
  test('(a) root canal 46: one hole', () => {
    expect(holesOf(planned({ kind: 'root-canal', teeth: '46' }))).toBe('46:5')
  })
  test('(b) filling 46 distal: 47 clamped, holes 44 to 47', () => {
    expect(holesOf(planned({ teeth: '46 DO', policy: 'LIMITED_1D2M' }))).toBe('47:5 46:4 45:3 44:3')
  })
  test('(c) fillings 11 and 21: canine to canine, no clamp', () => {
    const plan = planned({ teeth: '11 M, 21 M', policy: 'ASSIST_ANT' })
    expect([fieldOf(plan), plan.sheets[0]?.anchor]).toEqual(['13 12 11 21 22 23', null])
  })
  test.each(['exam', 'extraction', 'denture'] as const)('(d) %s: no dam', (kind) => {
    expect(planned({ kind, teeth: '46' })).toMatchObject({ state: 'not-needed', sheets: [] })
  })
  test('(e) a broken tooth: undetermined', () => {
    expect(planned({ kind: 'undetermined', teeth: '16' }).state).toBe('undetermined')
  })
})

const PLACING = {
  appointmentId: VISITED,
  planNumber: 1,
  sheets: [
    {
      field: ['46'],
      clamps: [{ tooth: '46', family: 'MOLAR_W_PASSIVE', role: 'anchor' }],
      sequence: 'together',
    },
  ],
  tied: true,
  inspected: true,
  bow: 'back',
  minutes: 2,
  outcome: { leak: false, tear: false, retries: 0, gum: 'sound' },
}
const seated = (): World => applyChange(scene(), { put: { visit: [visit('seated')] }, remove: {} })
const place = (world: World, input: object, by: Member = DENTIST): Decision => {
  const rule = ISOLATION_COMMANDS['dam.placed']
  return rule.decide(world, rule.input.parse({ ...PLACING, ...input }), context(by, at(0), 900))
}
const refusedBy = (decision: Decision): string[] =>
  decision.ok ? [] : decision.reasons.map(({ rule }) => rule)

/** READ; 45 replaces 85 COMMON. */
test('case 8: the baby molar is planned with the tooth behind it; the tooth under it is asked about', () => {
  const asked: Asked = { age: 10, mouth: { 84: ['present'], 85: ['present'], 46: ['present'] } }
  expect(fieldOf(planned({ ...asked, teeth: '85' }))).toBe('46 85 84')
  const under = planned({ ...asked, teeth: '45' })
  expect([under.state, under.sheets, asksOf(under)]).toEqual(['draft', [], ['field/tooth-not-standing']])
})

/** READ. */
test('case 52 [clamp/not-inspected]: a clamp is looked at and tied, both', () => {
  expect(refusedBy(place(seated(), { inspected: false }))).toEqual(['clamp/not-inspected'])
  expect(refusedBy(place(seated(), { tied: false }))).toEqual(['clamp/untied'])
  expect(place(seated(), {}).ok).toBe(true)
})

/** READ. */
test('case 54: the removal asks for every hole and septum, and the sheet is laid flat', () => {
  const plan = planned({ teeth: '35 MO', policy: 'ASSIST_RANGE' })
  const [sheet] = plan.sheets
  expect(sheet?.holes).toHaveLength(5)
  expect(sheet?.septa).toHaveLength(4)
  const names = sheet ? listRemoval(stepsFor(plan, sheet)).map(({ name }) => name) : []
  expect(names).toEqual(expect.arrayContaining(['cut-septa', 'lay-flat-count', 'look-at-gum']))
})

/** READ. */
test('case 55: bleach under a torn sheet is guarded against in every root-canal plan', () => {
  for (const kind of ['root-canal', 'retreatment', 'root-canal-dressing'] as const) {
    expect(planned({ kind, teeth: '36' }).cautions).toEqual(
      expect.arrayContaining(['leak-test', 'look-under-wings', 'taste-or-burn', 'seal-clamp']),
    )
  }
})

/** READ. */
describe('case 56: “I can’t breathe”', () => {
  test.each(['blocked nose today', 'asthma', 'panics with dam'])(
    '%s: the dentist chooses, the dam is never called off',
    (note) => {
      const plan = planned({ kind: 'root-canal', teeth: '36', notes: [note] })
      expect([plan.state, plan.need.value, plan.sheets.length]).toEqual(['draft', 'required', 1])
      const [finding] = plan.findings.filter(({ rule }) => rule === 'breathing/choice')
      expect(finding && say(finding)).toMatch(
        /Fold or trim the nostril edge.*No hole in the sheet of a root canal/,
      )
      expect(finding && sayToDesk(finding)).toBe('Allow extra time.')
      expect(plan.cautions).toEqual(expect.arrayContaining(['hand-signal', 'no-hole-in-root-canal-sheet']))
    },
  )
  test.each(['no asthma', 'sinus tract at 36', 'never claustrophobic'])('“%s” asks nothing', (note) => {
    expect(planned({ kind: 'root-canal', teeth: '36', notes: [note] }).state).toBe('planned')
  })
})

/** READ; rules vary by place. */
test('case 58 [dam/not-allowed-here]: an assistant places only where the site says so', () => {
  const not: World = {
    ...seated(),
    site: seated().site.map((site) => ({ ...site, assistantPlaces: 'not-set' as const })),
  }
  expect(place(seated(), {}, ASSISTANT).ok).toBe(true)
  expect(refusedBy(place(not, {}, ASSISTANT))).toEqual(['dam/not-allowed-here'])
  expect(place(not, {}, DENTIST).ok).toBe(true)
})
