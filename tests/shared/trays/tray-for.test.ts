import { expect, it } from 'vitest'
import { applyChange, isEmpty } from '#shared/change.ts'
import { PROCEDURE_KINDS } from '#shared/procedures/work.ts'
import { KIT_LINES, makeKits } from '#shared/trays/kits.ts'
import { summaryOf } from '#shared/trays/summary.ts'
import { KIT_KEYS } from '#shared/trays/tray.ts'
import {
  at,
  bareClinic,
  book,
  CLINIC,
  dammed,
  linesOf,
  nextId,
  PEOPLE,
  redrawn,
  trayOf,
  withTray,
} from '../../support/tray-clinic.ts'

const items = (world: ReturnType<typeof bareClinic>, id: Parameters<typeof trayOf>[1]) =>
  linesOf(world, trayOf(world, id).id).map((line) => line.item)

it('twelve kits, and every line of each says what it knows of latex', () => {
  expect(makeKits(CLINIC, nextId).map((kit) => kit.key)).toEqual([...KIT_KEYS])
  const silent = KIT_KEYS.flatMap((key) => KIT_LINES[key].lines).filter((line) => !line.contents.latex)
  expect(silent).toEqual([])
})

it('every kind of work has a tray, and its summary is that of its lines', () => {
  for (const kind of PROCEDURE_KINDS) {
    const { world, appointmentId } = book(bareClinic(), { kind })
    const laid = withTray(world, appointmentId)
    const tray = trayOf(laid, appointmentId)
    const lines = linesOf(laid, tray.id)
    expect(lines.length, kind).toBeGreaterThan(2)
    expect({ ...tray, ...summaryOf(lines) }).toEqual(tray)
  }
})

it('a planned dam brings its sheet by material, one to spare, its clamps by family and a spare of each', () => {
  const { world, appointmentId } = book(bareClinic())
  const laid = withTray(world, appointmentId)
  const lines = linesOf(laid, trayOf(laid, appointmentId).id)
  const sheet = lines.find((line) => line.item === 'sheet')
  expect(sheet).toMatchObject({ name: 'non-latex sheet', count: 2, contents: { latex: 'free' } })
  expect(lines.map((line) => line.name)).toContain('winged molar clamp, active jaws for 46')
  expect(lines.map((line) => line.name)).toContain('spare winged molar clamp, active jaws')
})

it('a sheet whose material nobody chose is unknown of latex, never free', () => {
  const { world, appointmentId } = book(bareClinic(), { agreed: { sheetMaterial: null } })
  const laid = withTray(world, appointmentId)
  expect(trayOf(laid, appointmentId).contains).toContainEqual({
    substance: 'latex',
    line: 'sheet',
    certainty: 'unknown',
  })
})

it('isolation without a dam lays out its own kit instead of the dam kit', () => {
  const { world, appointmentId } = book(bareClinic(), { agreed: { state: 'alternative', sheets: [] } })
  const laid = withTray(world, appointmentId)
  expect(trayOf(laid, appointmentId).kits).toContain('no-dam-isolation')
  expect(items(laid, appointmentId)).not.toContain('sheet')
})

it('no injection by intent lays out no needle and no cartridge', () => {
  const none = {
    kind: 'none',
    reason: 'r',
    topicalAtClamp: true,
    by: PEOPLE.dentist.id,
    at: at('08:00'),
  } as const
  const { world, appointmentId } = book(bareClinic(), { intent: none })
  const laid = withTray(world, appointmentId)
  expect(items(laid, appointmentId)).toContain('topical')
  expect(items(laid, appointmentId)).not.toContain('needle')
  expect(items(laid, appointmentId)).not.toContain('cartridge')
})

it('planned cartridges are counted whole and say what they contain', () => {
  const { world, appointmentId } = book(bareClinic())
  const solution = {
    agent: 'lidocaine',
    milliPercent: 2000,
    vasoconstrictor: 'epinephrine',
    ratio: 100_000,
    cartridge: 1700,
    technique: 'block',
    tooth: '46',
    side: 'right',
    tenthsOfCartridge: 12,
  } as unknown as (typeof world)['anaesthetic'][number]['planned'][number]
  const intent = { kind: 'injection', by: PEOPLE.dentist.id, at: at('08:00') } as const
  const planned = withTray(
    {
      ...world,
      anaesthetic: [
        {
          clinicId: CLINIC,
          id: nextId(),
          appointmentId,
          intent,
          planned: [solution],
          profile: null,
          readings: null,
        },
      ],
    },
    appointmentId,
  )
  const line = linesOf(planned, trayOf(planned, appointmentId).id).find(({ item }) =>
    item.startsWith('cartridge'),
  )
  expect(line).toMatchObject({
    name: 'cartridge lidocaine 2 % with epinephrine 1:100000',
    count: 2,
    contents: { sulfites: 'contains', 'amide-anaesthetics': 'contains' },
  })
})

it('a tray whose needs have not changed is left as it is', () => {
  const { world, appointmentId } = book(bareClinic())
  const laid = withTray(world, appointmentId)
  expect(isEmpty(redrawn(laid, appointmentId))).toBe(true)
})

it('a changed plan brings the difference only: ticks of lines that stay are kept', () => {
  const { world, appointmentId } = book(bareClinic())
  const laid = withTray(world, appointmentId)
  const tick = { by: PEOPLE.ana.id, at: at('08:30'), inspected: true }
  const ticked = { ...laid, trayLine: laid.trayLine.map((line) => ({ ...line, tick })) }
  const [sheet] = dammed().sheets
  const moved = dammed({
    sheets: [
      { ...(sheet ?? dammed().sheets[0]), clamps: [{ tooth: '47', family: 'MOLAR_WL', role: 'anchor' }] },
    ] as never,
  })
  const changed = { ...ticked, plan: ticked.plan.map((plan) => ({ ...plan, number: 2, agreed: moved })) }
  const after = applyChange(changed, redrawn(changed, appointmentId))
  const lines = linesOf(after, trayOf(after, appointmentId).id)
  const untouched = lines.filter((line) => line.tick === null).map((line) => line.item)
  expect(untouched).toEqual(['clamp/47', 'clamp-spare/MOLAR_WL'])
  expect(trayOf(after, appointmentId).planNumber).toBe(2)
})

it('a sheet more for a second field is a difference even where the plan number stands', () => {
  const { world, appointmentId } = book(bareClinic())
  const laid = withTray(world, appointmentId)
  const [sheet] = dammed().sheets
  const two = dammed({ sheets: [sheet, sheet] as never })
  const changed = { ...laid, plan: laid.plan.map((plan) => ({ ...plan, agreed: two })) }
  const after = applyChange(changed, redrawn(changed, appointmentId))
  expect(linesOf(after, trayOf(after, appointmentId).id).find(({ item }) => item === 'sheet')?.count).toBe(3)
})
