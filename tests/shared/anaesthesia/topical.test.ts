import { describe, expect, test } from 'vitest'
import { answerDose } from '#server/command-line/dose.ts'
import type { Dose } from '#shared/anaesthesia/anaesthetic.ts'
import { ANAESTHESIA_COMMANDS } from '#shared/anaesthesia/commands.ts'
import { isBarred } from '#shared/anaesthesia/gates.ts'
import { cautionsOf } from '#shared/anaesthesia/history.ts'
import { type DoseSight, judgeDose } from '#shared/anaesthesia/judge-dose.ts'
import { grams } from '#shared/base/amount.ts'
import { must } from '#shared/base/assert.ts'
import type { Day, Zone } from '#shared/base/moment.ts'
import { say } from '#shared/words/en.ts'
import { BLOCK, inChair, shutting } from '#tests/shared/readiness/chair.ts'
import { ASSISTANT, at, DENTIST, having, idOf, scene, VISITED } from '#tests/shared/readiness/scene.ts'

const GEL = {
  ...BLOCK,
  agent: 'benzocaine',
  milliPercent: 20_000,
  vasoconstrictor: 'none',
  ratio: null,
  technique: 'topical',
  tenthsOfCartridge: 1,
} as const
const OINTMENT = { ...GEL, agent: 'lidocaine', milliPercent: 5000 } as const
const given = (dose: typeof GEL | typeof OINTMENT): Dose => ({
  ...dose,
  clinicId: must(scene().clinic[0], 'one').clinicId,
  id: idOf(700),
  appointmentId: VISITED,
  patientId: idOf(30),
  by: DENTIST.id,
  at: at(0),
})
const sight = (dose: Dose, born: string, substances: string[] = []): DoseSight => ({
  appointmentId: VISITED,
  anaesthetic: null,
  given: [dose],
  patient: {
    ...must(scene().patient[0], 'one'),
    born: born as Day,
    historyConfirmed: { by: ASSISTANT.id, at: at(-9) },
    weight: { grams: grams(11_000), entered: { value: '11', unit: 'kg' }, by: ASSISTANT.id, at: at(-8) },
  },
  day: '2026-11-24' as Day,
  zone: 'Europe/Dublin' as Zone,
  allergies: {
    ...must(scene().allergyRecord[0], 'one'),
    allergies: substances.map((substance) => ({ substance, certainty: 'confirmed' })),
  } as unknown as DoseSight['allergies'],
  policy: must(scene().policySet[0], 'one'),
  worked: ['46'],
  sedated: false,
})
const rules = (...asked: Parameters<typeof sight>): string[] =>
  judgeDose(sight(...asked)).flatMap(({ rule, level }) => (level === 'note' ? [] : [rule]))

describe('what is laid on', () => {
  // FDA safety communication 2018, methaemoglobinaemia: not under two years (MEMORY).
  test('[dose/age-gate] benzocaine under two years', () => {
    expect(rules(given(GEL), '2025-01-01')).toContain('dose/age-gate')
    expect(rules(given(GEL), '2024-11-25')).toContain('dose/age-gate')
    expect(rules(given(GEL), '2024-11-24')).not.toContain('dose/age-gate')
    const gate = judgeDose(sight(given(GEL), '2025-01-01')).find(({ rule }) => rule === 'dose/age-gate')
    expect(say(must(gate, 'asked'))).toContain('benzocaine is not for those under 2 years')
  })

  // No profile that we hold prints an ester, nor how it counts beside an amide.
  test('[dose/no-row] an ester is never within a profile: the dentist decides', () => {
    expect(rules(given(GEL), '2024-01-01')).toEqual(['dose/no-row'])
    const body = answerDose({
      profile: 'US-LABEL',
      weight: { value: 70, unit: 'kg' },
      ageYears: 40,
      contraindications: [],
      vasoconstrictorCeiling: 'healthy',
      doses: [
        { agent: 'benzocaine', percent: 20, cartridgeMl: 1.7, cartridges: 0.1 },
        {
          agent: 'lidocaine',
          percent: 2,
          vasoconstrictor: 'epinephrine',
          ratio: 100_000,
          cartridgeMl: 1.7,
          cartridges: 1,
        },
      ],
    }).body
    expect(body).toMatchObject({ result: 'cannot-check', perAgent: [{ agent: 'lidocaine' }] })
  })

  // US label of topical lidocaine: all lidocaine counts together (READ).
  test('lidocaine that is laid on counts with what is injected', () => {
    const of = (tenths: number) =>
      judgeDose({
        ...sight({ ...given(OINTMENT), tenthsOfCartridge: tenths }, '2022-01-01'),
        anaesthetic: { ...must(scene().anaesthetic[0], 'one'), planned: [BLOCK] },
      }).map(({ rule }) => rule)
    // 11 kg by 4.4 mg/kg are 48.4 mg. One cartridge of 34 mg and 0.17 mL of 5 % are 42.5 mg, with 0.34 mL 51 mg.
    expect(of(1)).not.toContain('dose/over-maximum')
    expect(of(2)).toContain('dose/over-maximum')
  })

  // Speca, Boynes, Cuddy 2010 (READ): an ester allergy is to what esters break down to, not to amides.
  test('[dose/barred] an allergy bars its own family and no other', () => {
    expect(rules(given(GEL), '1980-01-01', ['ester-anaesthetics'])).toContain('dose/barred')
    expect(rules(given(GEL), '1980-01-01', ['amide-anaesthetics'])).not.toContain('dose/barred')
    expect(rules(given(OINTMENT), '1980-01-01', ['ester-anaesthetics'])).not.toContain('dose/barred')
    expect(rules(given(OINTMENT), '1980-01-01', ['amide-anaesthetics'])).toContain('dose/barred')
    expect(isBarred({ agent: 'tetracaine', vasoconstrictor: 'none' }, 'ester-allergy')).toBe(true)
  })

  test('[dose/barred] planned for who is allergic to esters it shuts the needle’s gate', () => {
    const world = having(inChair(), 'anaesthetic', {
      ...must(inChair().anaesthetic[0], 'one'),
      planned: [BLOCK, GEL],
    })
    const record = { ...must(world.allergyRecord[0], 'one'), state: 'listed' as const }
    const allergies = [{ substance: 'ester-anaesthetics', certainty: 'confirmed', text: 'benzocaine' }]
    const allergic = having(world, 'allergyRecord', { ...record, allergies } as never)
    expect(shutting(allergic, 'inject')).toContain('dose/barred')
    expect(shutting(world, 'inject')).not.toContain('dose/barred')
  })

  // US labels and a maximum-dose review name benzocaine and tetracaine among what raises methaemoglobin (READ).
  test.each(['benzocaine', 'tetracaine'] as const)(
    '[dose/caution] %s beside methaemoglobin in the history',
    (agent) => {
      const history = [{ text: 'methaemoglobinaemia', by: null, at: at(-600) }]
      expect(cautionsOf({ history }, [{ agent, vasoconstrictor: 'none' }])).toEqual([
        { why: 'methaemoglobin', text: 'methaemoglobinaemia' },
      ])
    },
  )

  test('an ester is laid on, never injected', () => {
    const { input } = ANAESTHESIA_COMMANDS['dose.record']
    const asked = (technique: string) =>
      input.safeParse({ appointmentId: VISITED, dose: { ...GEL, technique } })
    expect(asked('topical').success).toBe(true)
    for (const technique of ['infiltration', 'block', 'intraligamentary']) {
      expect(asked(technique).success, technique).toBe(false)
    }
  })
})
