import { describe, expect, test } from 'vitest'
import type { AllergyRecord } from '#shared/allergies/allergy-record.ts'
import { grams } from '#shared/base/amount.ts'
import { GATES, type Gate } from '#shared/base/rule.ts'
import type { World } from '#shared/facts.ts'
import type { Finding } from '#shared/finding.ts'
import type { Patient } from '#shared/people/patient.ts'
import { ROOM_TASKS, type Visit } from '#shared/schedule/appointment.ts'
import type { Tray } from '#shared/trays/tray.ts'
import { BLOCK, refusals, shutting } from './chair.ts'
import { changed, IN_PLACE, one, PASSING, RECOUNTED, REMOVAL, refusedAt, shutBy } from './in-place.ts'
import {
  AGREED,
  ASSISTANT,
  answered,
  appointment,
  at,
  DENTIST,
  having,
  idOf,
  OTHER_DENTIST,
  plan,
  ROOM,
  scene,
  VISITED,
} from './scene.ts'

/**
 * The table of gates, item by item. In each world everything is in place; one item alone is taken away, and what is
 * asked to pass is refused for that very reason, while every gate before it still opens and none after it does.
 * Each rule's row names its source: identity READ (Joint Commission NPSG.01.01.01), turning over READ (OSAP FAQ 2013,
 * after CDC 2003), the time-out MEMORY (Joint Commission UP.01.03.01), gum and tooth READ (Nusstein, Reader, Drum
 * 2008; Dagher 1997), packs READ (CDC, sterilisation monitoring), the lip warning READ (bites after blocks, 320
 * children). Which gate needs what is our own ordering of them (COMMON).
 */

interface Item {
  item: string
  /** The gate that needs it. */
  gate: Gate
  without: (world: World) => World
  rules: Finding['rule'][]
}

const visiting = (more: Partial<Visit>) => (world: World) => changed(world, 'visit', more)
const patient = (more: Partial<Patient>) => (world: World) => changed(world, 'patient', more)
const tray = (more: Partial<Tray>) => (world: World) => changed(world, 'tray', more)
const record = (more: Partial<AllergyRecord>) => (world: World) => changed(world, 'allergyRecord', more)
const allergy = (substance: string): Partial<AllergyRecord> => ({
  state: 'listed',
  allergies: [
    {
      substance,
      text: substance,
      certainty: 'confirmed',
      severity: 'severe',
      criticality: 'high',
      reaction: null,
      by: ASSISTANT.id,
      at: at(-600),
    },
  ] as unknown as AllergyRecord['allergies'],
})
const containing = (substance: string, line: string) =>
  tray({ contains: [{ substance, line, certainty: 'contains' }] })
const busy = (more: Partial<World['appointment'][number]>) => (world: World) =>
  having(world, 'appointment', appointment(15, { patientId: idOf(39), operatoryId: idOf(9), ...more }))
const numb =
  (...kept: World['numbness']) =>
  (world: World): World => ({ ...world, numbness: kept })

/** Every one of them is judged as long as it is missing, whatever is asked to pass. */
const ITEMS: Item[] = [
  {
    item: 'who the desk was told came with a child',
    gate: 'seat',
    without: patient({ guardian: { relation: 'mother', present: null } }),
    rules: ['guardian/not-recorded'],
  },
  {
    item: 'whether it is a child at all',
    gate: 'seat',
    without: patient({ born: null }),
    rules: ['guardian/age-unknown'],
  },
  {
    item: 'the interpreter',
    gate: 'seat',
    without: patient({ interpreter: { language: 'Italian', present: null } }),
    rules: ['interpreter/not-recorded'],
  },
  { item: 'who treats', gate: 'seat', without: busy({ dentistId: DENTIST.id }), rules: ['dentist/clash'] },
  {
    item: 'a room of its own',
    gate: 'seat',
    without: busy({ operatoryId: ROOM, dentistId: OTHER_DENTIST.id }),
    rules: ['room/clash'],
  },
  {
    item: 'a tray that somebody owns',
    gate: 'seat',
    without: tray({ life: { kind: 'needed' } }),
    rules: ['tray/unowned'],
  },
  {
    item: 'time left for a tray that is owned',
    gate: 'seat',
    without: (world) => ({
      ...tray({ life: { kind: 'claimed', by: ASSISTANT.id, since: at(-12), touched: at(-6) } })(world),
      appointment: world.appointment.map((each) => ({ ...each, start: at(-6) })),
    }),
    rules: ['tray/not-laid-out'],
  },
  {
    item: 'a line of the tray',
    gate: 'seat',
    without: tray({ done: 11, firstMissing: 'floss missing' }),
    rules: ['tray/line-missing'],
  },
  {
    item: 'a tray whose packs are well',
    gate: 'seat',
    without: tray({ life: { kind: 'held', at: at(-6), why: 'spore test', before: 'checked' } }),
    rules: ['tray/held'],
  },
  {
    item: 'a look over the tray by a second pair of eyes',
    gate: 'inject',
    without: tray({ life: { kind: 'laid-out', by: ASSISTANT.id, at: at(-15), recheck: null } }),
    rules: ['tray/not-checked'],
  },
  {
    item: 'tooth and side read back',
    gate: 'inject',
    without: visiting({ readBack: null }),
    rules: ['side/not-read-back'],
  },
  {
    item: 'tooth and side read back for the very plan',
    gate: 'inject',
    without: visiting({ readBack: { teeth: ['46'], planNumber: 2, by: DENTIST.id, at: at(-6) } }),
    rules: ['side/not-read-back'],
  },
  {
    item: 'the history of today',
    gate: 'inject',
    without: patient({ historyConfirmed: { by: ASSISTANT.id, at: at(-1440) } }),
    rules: ['history/not-confirmed'],
  },
  {
    item: 'the allergies asked',
    gate: 'inject',
    without: record({ state: 'not-asked', asked: null }),
    rules: ['allergies/not-asked'],
  },
  {
    item: 'an anaesthetic without what the patient reacts to',
    gate: 'inject',
    without: (world) => containing('sulfites', 'lidocaine cartridge')(record(allergy('sulfites'))(world)),
    rules: ['allergy/conflict', 'dose/barred'],
  },
  {
    item: 'the dentist’s word',
    gate: 'inject',
    without: (world) => ({ ...world, word: [] }),
    rules: ['word/missing'],
  },
  {
    item: 'a mouth that is charted',
    gate: 'inject',
    without: (world) => {
      const draft = plan({ ...AGREED, state: 'draft', open: ['mouth/not-charted'] })
      const chart = { ...one(world.mouthChart), charted: null }
      const word = world.word.map((each) => ({ ...each, planDigest: draft.digest }))
      return having(having({ ...world, word }, 'plan', draft), 'mouthChart', chart)
    },
    rules: ['plan/uncharted'],
  },
  {
    item: 'a weight that still counts, for a light patient',
    gate: 'inject',
    without: (world) => {
      const weight: Patient['weight'] = {
        grams: grams(45_000),
        entered: { value: '45', unit: 'kg' },
        by: ASSISTANT.id,
        at: at(-1440 * 400),
      }
      const anaesthetic = world.anaesthetic.map((each) => ({ ...each, planned: [BLOCK] }))
      return patient({ weight })({ ...world, anaesthetic })
    },
    rules: ['dose/weight-old'],
  },
  {
    item: 'the gum at the anchor, cheek side',
    gate: 'clamp',
    without: (world) =>
      numb(...world.numbness.filter(({ place }) => place.kind === 'tooth' || place.side !== 'cheek'))(world),
    rules: ['numbness/not-tested'],
  },
  {
    item: 'the gum at the anchor, tongue side',
    gate: 'clamp',
    without: (world) =>
      numb(...world.numbness.filter(({ place }) => place.kind === 'tooth' || place.side !== 'tongue'))(world),
    rules: ['numbness/not-tested'],
  },
  {
    item: 'a gum that is not felt',
    gate: 'clamp',
    without: (world) =>
      having(world, 'numbness', {
        ...answered(98, { kind: 'gum', tooth: '46', side: 'tongue' }, 'felt'),
        at: at(-3),
      }),
    rules: ['numbness/felt'],
  },
  {
    item: 'a kit without latex, where latex was not asked',
    gate: 'seat',
    without: (world) =>
      containing('latex', 'gloves')(record({ latex: 'not-asked', latexAsked: null })(world)),
    rules: ['latex/unasked-line'],
  },
  {
    item: 'a kit without latex, where latex is suspected',
    gate: 'seat',
    without: (world) => containing('latex', 'gloves')(record({ latex: 'suspected' })(world)),
    rules: ['latex/suspected-line'],
  },
  {
    item: 'a kit of which all is known, where latex was not asked',
    gate: 'clamp',
    without: (world) =>
      tray({ contains: [{ substance: 'latex', line: 'files', certainty: 'unknown' }] })(
        record({ latex: 'not-asked', latexAsked: null })(world),
      ),
    rules: ['latex/unknown-kit'],
  },
  {
    item: 'rubber chemicals weighed by the dentist',
    gate: 'clamp',
    without: (world) =>
      containing('rubber-chemicals', 'dam sheet')(record(allergy('rubber-chemicals'))(world)),
    rules: ['allergy/rubber-chemicals'],
  },
  {
    item: 'packs proven at opening',
    gate: 'clamp',
    without: tray({ life: { kind: 'checked', by: ASSISTANT.id, at: at(-15), planNumber: 1 } }),
    rules: ['tray/not-opened'],
  },
  {
    item: 'the tooth tested',
    gate: 'start',
    without: (world) => numb(...world.numbness.filter(({ place }) => place.kind !== 'tooth'))(world),
    rules: ['numbness/tooth-not-tested'],
  },
  {
    item: 'teeth counted again through the dam',
    gate: 'start',
    without: visiting({ recounted: { ...RECOUNTED, through: null } }),
    rules: ['teeth/not-recounted'],
  },
  { item: 'the time-out', gate: 'start', without: visiting({ timeOut: null }), rules: ['time-out/missing'] },
  {
    item: 'what went in counted out',
    gate: 'leave',
    without: visiting({ counts: null }),
    rules: ['counts/not-done'],
  },
  {
    item: 'aftercare handed over',
    gate: 'leave',
    without: visiting({ aftercare: null }),
    rules: ['aftercare/not-given'],
  },
]

describe('with everything in place', () => {
  test.each(GATES)('%s: it opens', (gate) => {
    expect(refusedAt(gate, IN_PLACE[gate])).toEqual([])
    expect(shutting(IN_PLACE[gate], gate, PASSING[gate].minute)).toEqual([])
  })
})

describe('one item alone missing shuts its gate and those after it', () => {
  test.each(ITEMS)('$gate: $item', ({ gate, without, rules }) => {
    const world = without(IN_PLACE[gate])
    expect(refusedAt(gate, world)).toEqual(rules)
    const from = GATES.indexOf(gate)
    expect(shutBy(rules, world, PASSING[gate].minute)).toEqual(GATES.slice(from))
    for (const later of GATES.slice(from + 1)) expect(refusedAt(later, world), later).not.toEqual([])
  })

  // What is not there yet keeps nobody out before it is needed.
  test.each(ITEMS.filter(({ gate }) => gate !== 'seat'))(
    'before $gate, without $item: it opens',
    ({ gate, without }) => {
      for (const earlier of GATES.slice(0, GATES.indexOf(gate))) {
        expect(refusedAt(earlier, without(IN_PLACE[earlier])), earlier).toEqual([])
      }
    },
  )
})

/** What is only looked at when the very act is asked for. */
describe('one thing wrong with the act itself', () => {
  const room = (life: World['occupancy'][number]['life']) => changed(IN_PLACE.seat, 'occupancy', { life })

  test('seat: two identifiers', () => {
    expect(refusedAt('seat', visiting({ identity: null })(IN_PLACE.seat))).toEqual(['identity/missing'])
    expect(refusedAt('inject', visiting({ identity: null })(IN_PLACE.inject))).toEqual(['identity/missing'])
  })

  test('seat: a name alert, seen by typing', () => {
    const twin = { ...one(scene().patient), id: idOf<Patient['id']>(39) }
    const alike = having(having(IN_PLACE.seat, 'patient', twin), 'appointment', {
      ...appointment(15, { patientId: twin.id, operatoryId: idOf(9), dentistId: OTHER_DENTIST.id }),
      start: at(120),
      startsAt: '11:00' as never,
    })
    expect(refusedAt('seat', alike)).toEqual(['identity/not-typed'])
  })

  test.each(ROOM_TASKS)('seat: the room turned over, %s', (task) => {
    const done = ROOM_TASKS.filter((each) => each !== task)
    const left = room({ kind: 'turning-over', since: at(-20), done, latexUsed: false })
    expect(refusedAt('seat', left)).toEqual(['room/not-turned-over'])
  })

  test('seat: a room that is free, and known', () => {
    expect(refusedAt('seat', room({ kind: 'occupied', appointmentId: idOf(15), since: at(-40) }))).toEqual([
      'room/occupied',
    ])
    expect(refusedAt('seat', { ...IN_PLACE.seat, occupancy: [] })).toEqual(['room/not-turned-over'])
  })

  test('inject: the label read by one and answered by another', () => {
    const unread = {
      ...IN_PLACE.inject,
      anaesthetic: IN_PLACE.inject.anaesthetic.map((each) => ({ ...each, readings: [] })),
    }
    expect(refusedAt('inject', unread)).toEqual(['cartridge/not-read-back'])
  })

  test('clamp: the clamp tied', () => {
    expect(refusedAt('clamp', IN_PLACE.clamp, { tied: false })).toEqual(['clamp/not-tied'])
  })

  test('start: not before the dam is on', () => {
    expect(refusedAt('start', IN_PLACE.clamp)).toEqual(['visit/wrong-stage'])
  })

  // The gum is looked at as the clamp is counted out: there is no count without it.
  test.each(['clamps', 'ligatures', 'sheetPieces', 'needles', 'files', 'blades', 'gum'])(
    'leave: %s',
    (what) => {
      const { [what as keyof typeof REMOVAL]: _, ...rest } = REMOVAL
      expect(() => refusals(IN_PLACE.leave, 'dam.removed', rest, { minute: 22 })).toThrow()
    },
  )

  test('without an injection the word is needed at the clamp, and gum and tooth are by intent', () => {
    const none = {
      kind: 'none',
      reason: 'necrotic',
      topicalAtClamp: true,
      by: DENTIST.id,
      at: at(-60),
    } as const
    const bare = having(IN_PLACE.inject, 'anaesthetic', { ...one(IN_PLACE.inject.anaesthetic), intent: none })
    expect(refusedAt('clamp', bare)).toEqual([])
    expect(refusedAt('clamp', { ...bare, word: [] })).toEqual(['word/missing'])
    expect(bare.appointment[0]?.id).toBe(VISITED)
  })
})
