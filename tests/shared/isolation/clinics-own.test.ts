import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange } from '#shared/change.ts'
import { decide } from '#shared/decide.ts'
import type { World } from '#shared/facts.ts'
import { crownWidth } from '#shared/isolation/arch.ts'
import { judgeStock, rankClamps } from '#shared/isolation/clamp-stock.ts'
import { CLAMPS } from '#shared/isolation/clamps.ts'
import { CLAMP_FAMILIES, type StockClamp } from '#shared/isolation/isolation-facts.ts'
import { planFor } from '#shared/isolation/plan-for.ts'
import type { Member } from '#shared/people/clinic.ts'
import { TEETH } from '#shared/teeth/tooth.ts'
import { ASSISTANT, at, context, DENTIST, scene, VISITED } from '#tests/shared/readiness/scene.ts'

const MANAGER: Member = { ...DENTIST, roles: ['manager'] }
/** The world after a command, or the rules that refused it. */
function told(world: World, kind: string, input: object, by: Member): World | string[] {
  const decision = decide(world, { kind, input }, context(by, at(0), 900))
  return decision.ok ? applyChange(world, decision.value.change) : decision.reasons.map(({ rule }) => rule)
}
const world = (given: World | string[]): World => {
  if (Array.isArray(given)) throw new Error(`refused: ${given.join()}`)
  return given
}
const plan = (given: World) => must(planFor(given, VISITED), 'the scene holds it')

const own = (mark: string, more: Partial<StockClamp> = {}): StockClamp => ({
  mark,
  family: 'MOLAR_W_PASSIVE',
  teeth: ['molar'],
  jaw: 'either',
  metal: true,
  count: 2,
  ...more,
})

/** Forms and their order are common practice (COMMON): ranked by form, jaw and metal, never by a maker's mark. */
describe('the clinic’s own clamps', () => {
  const asked = { tooth: '47', family: 'MOLAR_W_PASSIVE' } as const
  const marks = (...stock: StockClamp[]) =>
    rankClamps(asked, stock).map(({ clamp, why }) => `${clamp.mark} ${why}`)

  test('the planned form stands before one that stands in, this jaw before either', () => {
    expect(
      marks(
        own('either'),
        own('serrated', { family: 'MOLAR_SERR' }),
        own('lower', { jaw: 'lower' }),
        own('active', { family: 'MOLAR_W_ACTIVE' }),
      ),
    ).toEqual(['lower same-form', 'either same-form', 'active stands-in', 'serrated stands-in'])
  })
  test.each<[string, Partial<StockClamp>]>([
    ['none left', { count: 0 }],
    ['made for the upper jaw', { jaw: 'upper' }],
    ['made for premolars', { teeth: ['premolar'] }],
    ['of a form that never stands in', { family: 'PM_W' }],
  ])('a clamp %s is not ranked', (_, more) => {
    expect(marks(own('x', more))).toEqual([])
  })
  test('where no metal may touch the tooth, a metal clamp is never ranked, whatever it is called', () => {
    const stock = CLAMP_FAMILIES.map((family) => own(family, { family, teeth: ['molar'], metal: true }))
    expect(rankClamps({ tooth: '47', family: 'NONMETAL' }, stock)).toEqual([])
    const plastic = own('plastic', { family: 'NONMETAL', metal: false })
    expect(rankClamps({ tooth: '47', family: 'NONMETAL' }, [...stock, plastic])).toHaveLength(1)
  })
  test('law: every ranked clamp is in stock and of the planned form or one that stands in for it', () => {
    const stock = CLAMP_FAMILIES.flatMap((family) => [
      own(`${family} 1`, { family, teeth: ['molar', 'primary-molar'], metal: CLAMPS[family].value.metal }),
      own(`${family} 0`, { family, count: 0 }),
    ])
    for (const tooth of TEETH) {
      for (const family of CLAMP_FAMILIES) {
        for (const { clamp, why } of rankClamps({ tooth, family }, stock)) {
          expect(clamp.count).toBeGreaterThan(0)
          expect(why === 'same-form').toBe(clamp.family === family)
        }
      }
    }
  })

  const clamp = { ...asked, role: 'anchor' } as const
  test('[clamp/none-in-stock] is told where nothing of our own will do', () => {
    expect(judgeStock([clamp], [own('x', { count: 0 })])).toMatchObject([
      { rule: 'clamp/none-in-stock', level: 'note', tooth: '47', family: 'MOLAR_W_PASSIVE' },
    ])
    expect(judgeStock([clamp], [own('x')])).toEqual([])
  })
  test('[clamp/none-in-stock] an unlisted stock is not an empty one: nothing is said', () => {
    expect(judgeStock([clamp], null)).toEqual([])
    expect(judgeStock([clamp], [])).toHaveLength(1)
  })
  test('listing the stock shows beside the plan and leaves what is agreed as it was', () => {
    const before = plan(scene())
    const after = plan(world(told(scene(), 'clamps.list', { clamps: [] }, MANAGER)))
    expect(before.agreed.sheets.flatMap(({ clamps }) => clamps).length).toBeGreaterThan(0)
    expect(after.findings.map(({ rule }) => rule)).toContain('clamp/none-in-stock')
    expect(after.version).toBe(before.version)
  })
})

describe('when the clinic’s own clamps were looked at', () => {
  const listed = (given: World, ...stock: StockClamp[]) =>
    world(told(given, 'clamps.list', { clamps: stock.map(({ looked: _, ...clamp }) => clamp) }, MANAGER))
  test('is kept by mark, also when the list comes anew', () => {
    const stock = listed(scene(), own('B7'), own('C2'))
    const looked = world(told(stock, 'clamp.looked-at', { mark: 'B7' }, ASSISTANT))
    expect(looked.policySet[0]?.clamps).toMatchObject([
      { mark: 'B7', looked: { by: ASSISTANT.id, at: at(0) } },
      { mark: 'C2', looked: null },
    ])
    expect(listed(looked, own('B7', { count: 1 })).policySet[0]?.clamps).toMatchObject([
      { mark: 'B7', count: 1, looked: { by: ASSISTANT.id } },
    ])
  })
  test('[clamp/not-listed] a mark nobody has listed is not noted', () => {
    expect(told(scene(), 'clamp.looked-at', { mark: 'Z9' }, ASSISTANT)).toEqual(['clamp/not-listed'])
  })
})

/** ISO 16635-1:2013, overview (READ): holes of 0.5 to 2.6 mm, length 165 ± 5 mm. */
describe('the clinic’s own punch', () => {
  const set = (plateMicrometres: number[], lengthMm: number | null, measured = false) =>
    told(scene(), 'punch.set', { plateMicrometres, lengthMm, measured }, MANAGER)
  test.each<[string, number[], number | null]>([
    ['a hole of 3.0 mm', [500, 3000], 165],
    ['a hole of 0.4 mm', [400, 2600], 165],
    ['a punch of 158 mm', [500, 2600], 158],
  ])('[punch/not-measured] %s is asked for once more, and taken when it was measured', (_, plate, length) => {
    expect(set(plate, length)).toEqual(['punch/not-measured'])
    expect(world(set(plate, length, true)).policySet[0]?.isolation).toMatchObject({
      plateMicrometres: plate,
      punchLengthMm: length,
    })
  })
  test('[punch/outside-iso] what was measured outside the standard is told', () => {
    const input = { plateMicrometres: [500, 3000], lengthMm: null, measured: true }
    const decision = decide(scene(), { kind: 'punch.set', input }, context(MANAGER, at(0), 900))
    expect(decision.ok && decision.value.findings).toMatchObject([{ rule: 'punch/outside-iso', mm: 3 }])
  })
  test('inside the standard, or with a length nobody has measured, it is kept without a question', () => {
    expect(Array.isArray(set([500, 920, 1340, 1760, 2180, 2600], 170))).toBe(false)
    expect(Array.isArray(set([500, 2600], null))).toBe(false)
  })
  test('holes are drawn by it, and stay when other policies are kept', () => {
    const cut = world(set([600, 1000, 1400, 1800, 2200], 165))
    expect(plan(cut).sheets[0]?.holes.map(({ diameterMm }) => diameterMm)).toContain(2.2)
    const { isolation, anaesthesia, allergies, trays, sterility, schedule, word } = must(
      cut.policySet[0],
      'picks',
    )
    const picks = { isolation, anaesthesia, allergies, trays, sterility, schedule, word }
    expect(world(told(cut, 'policy.set', picks, MANAGER)).policySet[0]?.isolation.plateMicrometres).toEqual(
      isolation.plateMicrometres,
    )
  })
})

describe('a dentist’s own field policies', () => {
  const seen = scene()
  const [appointment] = seen.appointment
  const dentistId = must(appointment, 'booked').dentistId
  const picks = {
    field: { 'root-canal': 'FULL_ARCH', posterior: 'LIMITED_1D2M', 'posterior-small': 'FULL_ARCH' },
  }

  test('the appointment’s dentist is followed, and the plan is another', () => {
    const after = world(told(seen, 'policy.of-dentist', { dentistId, ...picks }, MANAGER))
    expect(plan(after).version).not.toBe(plan(seen).version)
  })
  test('another dentist’s appointments stay as they were', () => {
    const other: Member = { ...DENTIST, id: '00000000-0000-4000-8000-0000000000f0' as Member['id'] }
    const wide = { ...seen, member: [...seen.member, other] }
    const after = world(told(wide, 'policy.of-dentist', { dentistId: other.id, ...picks }, MANAGER))
    expect(plan(after).version).toBe(plan(seen).version)
  })
  test('taken back, the clinic’s own stand again', () => {
    const once = world(told(seen, 'policy.of-dentist', { dentistId, ...picks }, MANAGER))
    const back = world(told(once, 'policy.of-dentist', { dentistId, field: {} }, MANAGER))
    expect(plan(back).version).toBe(plan(seen).version)
    expect(back.policySet[0]?.ofDentists).toEqual([])
  })
  test('[policy/not-a-dentist] an assistant has no field policies of their own', () => {
    expect(told(seen, 'policy.of-dentist', { dentistId: ASSISTANT.id, ...picks }, MANAGER)).toEqual([
      'policy/not-a-dentist',
    ])
  })
})

/** Table: Wheeler, lower first molar 11 mm (MEMORY); the bounds are COMMON. */
describe('one crown measured scales this mouth', () => {
  const measured = (tenthsOfMm: number | null) =>
    told(scene(), 'mouth.measure', { appointmentId: VISITED, tooth: '46', tenthsOfMm }, ASSISTANT)
  const spread = (given: World) => {
    const [sheet] = plan(given).sheets
    return must(sheet, 'a sheet').layout.arcs
  }
  test('every distance along the arch grows with it', () => {
    expect(crownWidth('46')).toBe(11)
    const [by, table] = [spread(world(measured(121))), spread(scene())]
    expect(table.size).toBeGreaterThan(0)
    const single = plan(scene()).sheets[0]?.field.length === 1
    for (const [tooth, arc] of table) {
      // Between several holes a fixed clearance is added; the natural place of a single one scales exactly.
      if (single) expect(by.get(tooth)).toBeCloseTo(arc * 1.1, 3)
      else expect(Math.abs(must(by.get(tooth), tooth))).toBeGreaterThan(Math.abs(arc))
    }
  })
  test('it leaves what is agreed as it was: no coordinate is agreed to', () => {
    expect(plan(world(measured(121))).version).toBe(plan(scene()).version)
  })
  test('the measure is taken back', () => {
    const back = told(
      world(measured(121)),
      'mouth.measure',
      { appointmentId: VISITED, tooth: '46', tenthsOfMm: null },
      ASSISTANT,
    )
    expect(world(back).mouthChart[0]?.measure).toBeNull()
  })
  test.each([1, 40, 76, 150, 300])('[mouth/width-unlikely] %i tenths of a millimetre is a slip', (tenths) => {
    expect(measured(tenths)).toEqual(['mouth/width-unlikely'])
  })
  test.each([77, 95, 110, 125, 148])('%i tenths of a millimetre is a mouth', (tenths) => {
    expect(Array.isArray(measured(tenths))).toBe(false)
  })
})

/** Table: Wheeler, 46 11 and 45 7 mm (MEMORY): 18 mm from the far side of one to the near side of the other. */
describe('a row of crowns measured scales this mouth', () => {
  const measured = (to: string, tenthsOfMm: number) =>
    told(scene(), 'mouth.measure', { appointmentId: VISITED, tooth: '46', to, tenthsOfMm }, ASSISTANT)
  const reach = (given: World) => Math.abs(plan(given).sheets[0]?.layout.arcs.get('46') ?? 0)
  test('by what it measures against the table’s sum, from either end', () => {
    const longer = world(measured('45', 198))
    expect(reach(longer) / reach(scene())).toBeCloseTo(1.1, 1)
    expect(reach(longer)).toBeGreaterThan(reach(scene()))
  })
  test('a row round the front counts across the midline', () => {
    // 46 to 36, all twelve crowns: 2 × (11 + 7 + 7 + 7 + 5.5 + 5) = 85 mm.
    expect(reach(world(measured('36', 850)))).toBeCloseTo(reach(scene()), 6)
  })
  test('[mouth/span-not-there] two jaws are no row', () => {
    expect(measured('16', 200)).toEqual(['mouth/span-not-there'])
    expect(measured('48', 200)).toEqual(['mouth/span-not-there'])
  })
  test('[mouth/width-unlikely] a row far from the table is a slip', () => {
    expect(measured('45', 100)).toEqual(['mouth/width-unlikely'])
  })
})
