import { grams, microlitres } from '#shared/base/amount.ts'
import { must } from '#shared/base/assert.ts'
import type { ClockTime, Day } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { DoseId, IncidentId, PackId } from '#shared/ids.ts'
import type { LapseCause } from '#shared/isolation/isolation-facts.ts'
import type { ProcedureKind } from '#shared/procedures/work.ts'
import type { VisitStage } from '#shared/schedule/appointment.ts'
import {
  AGREED,
  ASSISTANT,
  at,
  DENTIST,
  having,
  idOf,
  OTHER_DENTIST,
  plan,
  ROOM,
  scene,
  VISITED,
  visit,
  word,
} from './scene.ts'

/** The scene with the word given and the visit at a stage. */
export const agreed = (stage: VisitStage = 'seated'): World =>
  having(having(scene(), 'word', word()), 'visit', visit(stage))
export const first = <T>(facts: readonly T[]): T => must(facts[0], 'the scene holds one')
const weighed = (value: number) => ({
  grams: grams(value),
  entered: { value: String(value / 1000), unit: 'kg' as const },
  by: ASSISTANT.id,
  at: at(-3),
})
const consent = (text: string, teeth: ('46' | '47')[], kind: ProcedureKind = 'root-canal') => ({
  text,
  teeth,
  work: [{ kind, teeth }],
  by: DENTIST.id,
  at: at(-3),
})
const planned = (tenthsOfCartridge: number, agent: 'lidocaine' | 'articaine' = 'lidocaine') => ({
  agent,
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine' as const,
  ratio: 100_000,
  cartridge: microlitres(1700),
  technique: 'block' as const,
  tooth: '46' as const,
  side: 'right' as const,
  tenthsOfCartridge,
})
const dosed = (world: World, tenths: number, agent?: 'lidocaine' | 'articaine'): World =>
  having(world, 'anaesthetic', { ...first(world.anaesthetic), planned: [planned(tenths, agent)] })
const given = (world: World, tenths: number): World =>
  having(world, 'dose', {
    ...planned(tenths),
    clinicId: first(world.clinic).id,
    id: idOf<DoseId>(95),
    appointmentId: VISITED,
    patientId: first(world.patient).id,
    by: DENTIST.id,
    at: at(-2),
  })

/** Dental set and pack of the tray, released and on its line. */
const packed =
  (life: World['pack'][number]['life']) =>
  (stage: VisitStage): World => {
    const pack: World['pack'][number] = {
      clinicId: first(scene().clinic).id,
      id: idOf(72),
      siteId: first(scene().site).id,
      code: 'D7',
      kind: 'dam-set',
      setId: null,
      loadId: null,
      sterilised: '2026-11-23' as Day,
      seen: null,
      life,
    }
    const line: World['trayLine'][number] = {
      clinicId: pack.clinicId,
      id: idOf(71),
      trayId: idOf(70),
      position: 0,
      item: 'dam-set',
      name: 'dam set',
      count: 1,
      class: 'reusable-set',
      packKind: 'dam-set',
      contents: { latex: 'free' },
      countedBack: false,
      packId: pack.id,
      stockLineId: null,
      tick: null,
      fault: null,
      swapped: null,
      omitted: null,
    }
    return having(having(agreed(stage), 'pack', pack), 'trayLine', line)
  }

export interface Row {
  change: string
  from?: (stage: VisitStage) => World
  to: (world: World, stage: VisitStage) => World
  why: LapseCause
  /** Why it cannot come once the work has begun; left out: it can. */
  notAfter?: string
}

const stop = (world: World): World =>
  having(world, 'incident', {
    clinicId: first(world.clinic).id,
    id: idOf<IncidentId>(90),
    appointmentId: VISITED,
    operatoryId: ROOM,
    kind: 'stop-check-side',
    at: at(-1),
    by: ASSISTANT.id,
    drill: false,
    steps: [],
    life: { kind: 'open' },
  })
const booked = (more: Partial<World['appointment'][number]>) => (world: World) =>
  having(world, 'appointment', { ...first(world.appointment), ...more })
const patient = (more: Partial<World['patient'][number]>) => (world: World) =>
  having(world, 'patient', { ...first(world.patient), ...more })
const record = (more: Partial<World['allergyRecord'][number]>) => (world: World) =>
  having(world, 'allergyRecord', { ...first(world.allergyRecord), ...more })
const SHEET = first(AGREED.sheets)
const CLAMP = first(SHEET.clamps)
const replanned = (more: Partial<typeof AGREED>) => (world: World) =>
  having(world, 'plan', plan({ ...AGREED, ...more }, 2))

/**
 * The table of the design: patient, tooth, side, procedure, consent, field, anchor, sheet material, dentist, day,
 * stop; allergy state, history, weight, agent, dose beyond the plan, limit profile; left the chair, interrupted,
 * longer ago than the limit; indicator failed, pack recalled. Interruption READ (US Naval Hospital pre-procedure
 * checklist), hand-over READ (AAOS after the Joint Commission), mismatch READ (correct-site policy 2011–12); the
 * rest follows from them or is COMMON.
 */
export const LAPSING: Row[] = [
  { change: 'the patient', to: booked({ patientId: idOf(33) }), why: 'patient-changed' },
  {
    change: 'the tooth',
    to: replanned({ work: [{ kind: 'root-canal', teeth: ['47'], surfaces: {} }] }),
    why: 'plan-changed',
  },
  {
    change: 'the side',
    to: replanned({ work: [{ kind: 'root-canal', teeth: ['36'], surfaces: {} }] }),
    why: 'plan-changed',
  },
  {
    change: 'the procedure',
    to: replanned({ work: [{ kind: 'pulpotomy', teeth: ['46'], surfaces: {} }] }),
    why: 'plan-changed',
  },
  {
    change: 'the field',
    to: replanned({
      sheets: [{ ...SHEET, field: ['46', '45'], holes: [...SHEET.holes, { tooth: '45', size: 4 }] }],
    }),
    why: 'plan-changed',
  },
  { change: 'the policy of the field', to: replanned({ policy: 'QUADRANT_POST' }), why: 'plan-changed' },
  {
    change: 'the anchor',
    to: replanned({
      sheets: [{ ...SHEET, anchor: '47', clamps: [{ ...CLAMP, tooth: '47' }] }],
    }),
    why: 'plan-changed',
  },
  {
    change: 'the family of the clamp',
    to: replanned({ sheets: [{ ...SHEET, clamps: [{ ...CLAMP, family: 'MOLAR_WL' }] }] }),
    why: 'plan-changed',
  },
  {
    change: 'another way than a dam',
    to: replanned({ state: 'alternative', sheets: [] }),
    why: 'plan-changed',
  },
  { change: 'the sheet material', to: replanned({ sheetMaterial: 'latex' }), why: 'plan-changed' },
  { change: 'the dentist', to: booked({ dentistId: OTHER_DENTIST.id }), why: 'dentist-changed' },
  { change: 'the day', to: booked({ day: '2026-11-25' as Day }), why: 'day-changed' },
  { change: 'a stop', to: stop, why: 'stopped' },
  {
    change: 'a consent for another tooth',
    to: (world, stage) => having(world, 'visit', visit(stage, { consent: consent('root canal', ['47']) })),
    why: 'consent-changed',
  },
  {
    change: 'the procedure of the consent',
    from: (stage) => having(agreed(stage), 'visit', visit(stage, { consent: consent('signed', ['46']) })),
    to: (world, stage) =>
      having(world, 'visit', visit(stage, { consent: consent('signed', ['46'], 'extraction') })),
    why: 'consent-changed',
  },
  {
    change: 'the words of the consent',
    from: (stage) => having(agreed(stage), 'visit', visit(stage, { consent: consent('root canal', ['46']) })),
    to: (world, stage) => having(world, 'visit', visit(stage, { consent: consent('filling only', ['46']) })),
    why: 'consent-changed',
  },
  { change: 'the allergy state', to: record({ state: 'listed' }), why: 'allergies-changed' },
  { change: 'the latex answer', to: record({ latex: 'suspected' }), why: 'allergies-changed' },
  {
    change: 'the history',
    to: patient({ history: [{ text: 'spina bifida', by: ASSISTANT.id, at: at(-4) }] }),
    why: 'history-changed',
  },
  { change: 'the weight', to: patient({ weight: weighed(61_000) }), why: 'weight-changed' },
  {
    change: 'the agent',
    from: (stage) => dosed(agreed(stage), 10),
    to: (world) => dosed(world, 10, 'articaine'),
    why: 'dose-changed',
  },
  {
    change: 'more planned',
    from: (stage) => dosed(agreed(stage), 10),
    to: (world) => dosed(world, 11),
    why: 'dose-changed',
  },
  {
    change: 'more given than planned',
    from: (stage) => dosed(agreed(stage), 10),
    to: (world) => given(world, 11),
    why: 'dose-changed',
  },
  {
    change: 'the limit profile',
    to: (world) => having(world, 'anaesthetic', { ...first(world.anaesthetic), profile: 'CANADA' }),
    why: 'dose-changed',
  },
  {
    change: 'the patient leaving the chair',
    to: (world) => having(world, 'visit', visit('arrived')),
    why: 'left-chair',
    notAfter: 'work that was left is begun anew',
  },
  {
    change: 'an interruption that blanks the read-back',
    from: (stage) =>
      having(
        agreed(stage),
        'visit',
        visit(stage, { readBack: { teeth: ['46'], planNumber: 1, by: DENTIST.id, at: at(-4) } }),
      ),
    to: (world, stage) => having(world, 'visit', visit(stage)),
    why: 'interrupted',
    notAfter: 'only what comes before the start is said again',
  },
  {
    change: 'a pack on the tray that is recalled',
    from: packed({ kind: 'reserved', trayId: idOf(70), at: at(-40), place: 'A1' }),
    to: (world) =>
      having(world, 'pack', {
        ...first(world.pack),
        life: { kind: 'held', why: 'spore test', at: at(-1) },
      }),
    why: 'pack-failed',
  },
  {
    change: 'an inner indicator that has not changed',
    from: packed({ kind: 'reserved', trayId: idOf(70), at: at(-40), place: 'A1' }),
    to: (world) =>
      having(world, 'pack', {
        ...first(world.pack),
        seen: { outside: 'sound', outer: 'changed', inner: 'not-changed', by: ASSISTANT.id, at: at(-1) },
      }),
    why: 'pack-failed',
  },
]

export const KEEPING: Omit<Row, 'why'>[] = [
  { change: 'nothing', to: (world) => world },
  { change: 'the operatory', to: booked({ operatoryId: idOf(5) }) },
  { change: 'the start time', to: booked({ start: at(30), startsAt: '09:30' as ClockTime }) },
  { change: 'less planned', from: (stage) => dosed(agreed(stage), 10), to: (world) => dosed(world, 9) },
  {
    change: 'as much given as planned',
    from: (stage) => dosed(agreed(stage), 10),
    to: (world) => given(world, 10),
  },
  {
    change: 'a first consent for the very teeth',
    to: (world, stage) => having(world, 'visit', visit(stage, { consent: consent('root canal', ['46']) })),
  },
  { change: 'history confirmed', to: patient({ historyConfirmed: { by: ASSISTANT.id, at: at(-4) } }) },
  {
    change: 'an equal pack swapped in',
    from: packed({ kind: 'reserved', trayId: idOf(70), at: at(-40), place: 'A1' }),
    to: (world) => {
      const other = { ...first(world.pack), id: idOf<PackId>(73), code: 'D8' }
      const line = { ...first(world.trayLine), packId: other.id }
      return having(having(world, 'pack', other), 'trayLine', line)
    },
  },
  {
    change: 'another clamp of the same family on the tray',
    from: packed({ kind: 'reserved', trayId: idOf(70), at: at(-40), place: 'A1' }),
    to: (world) =>
      having(world, 'trayLine', {
        ...first(world.trayLine),
        item: 'clamp',
        name: 'clamp, another of its family',
      }),
  },
  {
    change: 'the stage moving on',
    to: (world) => having(world, 'visit', visit('injected')),
    notAfter: 'it is where it is',
  },
]
