import { describe, expect, test } from 'vitest'
import { COMMON, memory, read, type Source } from '#shared/base/source.ts'
import { type Asked, clampsOf, holesOf, planned, rulesOf, workOf } from './asking.ts'

const AAE = read('AAE via ADA News; assisting exam review')
const STURDEVANT = memory('Sturdevant')
const AMALGAM = [workOf('amalgam-removal', '36'), workOf('direct-composite', '36')]

/** Need, state, clamps and what is said of the same cases. */
type Told = [
  name: string,
  asked: Asked,
  told: { need?: string; state: string; clamps?: string; rules?: string[] },
  source: Source,
]

const TOLD: Told[] = [
  [
    'C01 winged, clamp and sheet together',
    { kind: 'root-canal', teeth: '36' },
    { need: 'required', state: 'planned', clamps: '36 MOLAR_W_PASSIVE' },
    AAE,
  ],
  [
    'C02 double bow',
    { kind: 'root-canal', teeth: '11' },
    { need: 'required', state: 'planned', clamps: '11 ANT_DBL' },
    read('clamp study deck'),
  ],
  [
    'C03 premolar clamp',
    { kind: 'root-canal', teeth: '24' },
    { state: 'planned', clamps: '24 PM_W' },
    read('Carrotte 2004'),
  ],
  [
    'C13 [anchor/distal-of-last] far-side work on the last tooth is the dentist’s choice of clamp',
    { teeth: '37 DO', policy: 'LIMITED_1D2M' },
    {
      state: 'draft',
      clamps: '37 MOLAR_EXT',
      rules: ['anchor/distal-of-last', 'anchor/working-tooth', 'anchor/matrix'],
    },
    read('clamp study deck'),
  ],
  [
    'C13 answered: wingless, seated low',
    {
      teeth: '37 DO',
      policy: 'LIMITED_1D2M',
      answers: [['anchor/distal-of-last', 'tooth:37', 'wingless-low']],
    },
    { state: 'planned', clamps: '37 MOLAR_WL' },
    read('clamp study deck'),
  ],
  [
    'C24 a retractor beside the anchor',
    { kind: 'cervical-composite', teeth: '23 V', policy: 'STURDEVANT_WIDE' },
    { need: 'preferred', state: 'planned', clamps: '26 MOLAR_W_PASSIVE, 23 CERV_RETR retractor' },
    STURDEVANT,
  ],
  [
    'C28 [anchor/matrix] the clamped tooth takes a matrix: wingless',
    { teeth: '45 MO', policy: 'STURDEVANT_WIDE', mouth: { 46: ['missing'], 47: ['missing'] } },
    { state: 'planned', clamps: '45 PM_WL', rules: ['anchor/working-tooth', 'anchor/matrix'] },
    read('clamp study deck'),
  ],
  [
    'C29 [anchor/abutment] winged on the abutment, the bridge checked',
    { kind: 'root-canal', teeth: '35', mouth: { 35: ['abutment'], 36: ['pontic'], 37: ['abutment'] } },
    { state: 'planned', clamps: '35 PM_W', rules: ['anchor/abutment'] },
    read('Carrotte 2004, bridges'),
  ],
  [
    'C31 [anchor/ceramic-crown] a draft until the dentist accepts the crown',
    { teeth: '46 MO', policy: 'LIMITED_1D2M', mouth: { 47: ['ceramic-crown'] } },
    { state: 'draft', clamps: '47 NONMETAL', rules: ['anchor/ceramic-crown'] },
    read('open teaching notes'),
  ],
  [
    'C31 moved: the treated tooth is clamped',
    {
      teeth: '46 MO',
      policy: 'LIMITED_1D2M',
      mouth: { 47: ['ceramic-crown'] },
      answers: [['anchor/ceramic-crown', 'tooth:47', 'move']],
    },
    {
      state: 'planned',
      clamps: '46 MOLAR_WL',
      rules: ['anchor/moved', 'anchor/working-tooth', 'anchor/matrix'],
    },
    COMMON,
  ],
  [
    'C34 both ends clamped',
    { kind: 'veneer', teeth: '13, 12, 11, 21, 22, 23', policy: 'VENEER_P2_P2' },
    { need: 'strongly-advised', state: 'planned', clamps: '15 PM_W, 25 PM_W second' },
    read('case report PMC8792124'),
  ],
  [
    'C35 strictest of the work of one tooth',
    { work: AMALGAM, policy: 'MCGEHEE' },
    { need: 'strongly-advised', state: 'planned' },
    read('Nimmo 1990; Berglund & Molin 1997'),
  ],
  [
    'C38 [anchor/may-not-hold] a half-erupted tooth takes an active clamp that may not hold',
    { kind: 'resin-sealant', teeth: '46', mouth: { 46: ['partly-erupted'] } },
    { need: 'preferred', state: 'planned', clamps: '46 MOLAR_W_ACTIVE', rules: ['anchor/may-not-hold'] },
    read('Carrotte 2004; Saltzman'),
  ],
  [
    'C38b or another way, with its reason',
    {
      kind: 'resin-sealant',
      teeth: '46',
      mouth: { 46: ['partly-erupted'] },
      choice: { alternative: { method: 'cotton-rolls', reason: 'clamp failed twice' } },
    },
    { need: 'preferred', state: 'alternative', rules: [] },
    read('Saltzman'),
  ],
  [
    'C39 small molar clamp',
    { kind: 'pulpotomy', teeth: '85' },
    { need: 'strongly-advised', state: 'planned', clamps: '85 PRIM_MOLAR' },
    memory('AAPD best practices, pulp therapy, 2020'),
  ],
  [
    'C45 crown without preparation 74: no sheet is proposed',
    { kind: 'steel-crown-no-preparation', teeth: '74' },
    { need: 'not-needed', state: 'not-needed', clamps: '', rules: [] },
    read('Trials 2016;17:169'),
  ],
  [
    'C47 [breathing/choice] nose blocked: the dentist chooses, the need stays required',
    { kind: 'root-canal', teeth: '36', notes: ['cannot breathe through nose'] },
    { need: 'required', state: 'draft', rules: ['breathing/choice'] },
    read('study cards; Black 1908'),
  ],
  [
    'C48 [field/wire] a wire through the field is asked about',
    { teeth: '35 DO', policy: 'LIMITED_1D2M', mouth: { 35: ['bracketed'] } },
    { state: 'draft', rules: ['field/wire'] },
    read('Saltzman'),
  ],
  [
    'C50 post and core',
    { kind: 'post-and-core', teeth: '12' },
    { need: 'strongly-advised', state: 'planned' },
    read('Goldfein 2013'),
  ],
  [
    'C51 a barrier is needed, a sheet is one',
    { kind: 'in-office-bleaching', teeth: '14, 13, 12, 11, 21, 22, 23, 24' },
    { need: 'barrier', state: 'planned' },
    read('s41894-018-0021-9'),
  ],
  [
    'C52 third molar, half erupted',
    { kind: 'root-canal', teeth: '48', mouth: { 48: ['partly-erupted'] } },
    { need: 'required', state: 'planned', clamps: '48 MOLAR_W_ACTIVE', rules: ['anchor/may-not-hold'] },
    read('study cards'),
  ],
]

describe('worked cases: need, clamps and what is said', () => {
  test.each(TOLD)('%s', (_name, asked, told) => {
    const plan = planned(asked)
    expect(plan.state).toBe(told.state)
    if (told.need !== undefined) expect(plan.need.value).toBe(told.need)
    if (told.clamps !== undefined) expect(clampsOf(plan)).toBe(told.clamps)
    if (told.rules !== undefined) expect(rulesOf(plan)).toEqual(told.rules)
  })

  test.each(['root-canal', 'direct-composite'] as const)(
    'C46 [sheet/made-non-latex] a latex allergy changes the sheet’s material and nothing else of %s',
    (kind) => {
      const asked: Asked = { kind, teeth: '36 MO' }
      const plain = planned(asked)
      const allergic = planned({ ...asked, rest: { latex: 'confirmed' } })
      expect(allergic.sheetMaterial).toBe('non-latex')
      expect(holesOf(allergic)).toBe(holesOf(plain))
      expect(clampsOf(allergic)).toBe(clampsOf(plain))
      expect(rulesOf(allergic)).toContain('sheet/made-non-latex')
      expect(allergic.cautions.includes('gutta-percha-latex')).toBe(kind === 'root-canal')
    },
  )

  test('C46 [sheet/latex-refused] a latex sheet chosen against the allergy is refused', () => {
    const plan = planned({
      kind: 'root-canal',
      teeth: '36',
      rest: { latex: 'confirmed' },
      choice: { sheetMaterial: 'latex' },
    })
    expect(rulesOf(plan)).toContain('sheet/latex-refused')
    expect(plan.state).toBe('draft')
    expect(plan.sheetMaterial).toBe('non-latex')
  })

  test('C49 [sheet/mark-in-mouth] the lingual tooth’s hole moves towards the tongue', () => {
    const asked: Asked = { teeth: '46 MO', policy: 'STURDEVANT_WIDE' }
    const at = (notes: string[]) =>
      planned({ ...asked, notes }).sheets[0]?.holes.find(({ tooth }) => tooth === '45')
    const [usual, lingual] = [at([]), at(['45 lingual, rotated'])]
    expect(lingual?.xMm).toBeGreaterThan(usual?.xMm ?? Number.NaN)
    expect(rulesOf(planned({ ...asked, notes: ['45 lingual, rotated'] }))).toContain('sheet/mark-in-mouth')
  })

  test('C39 a child’s single hole stands in the middle of a 125 mm sheet (Welbury 2005, READ)', () => {
    const [sheet] = planned({ kind: 'pulpotomy', teeth: '85' }).sheets
    expect(sheet).toMatchObject({ widthMm: 125, heightMm: 125, holes: [{ xMm: 62.5, yMm: 62.5 }] })
  })

  test('C43 each primary front tooth is ligated (MEMORY, paediatric texts)', () => {
    const [sheet] = planned({ teeth: '51 MIDB, 61 MIDB', policy: 'PAED_ANT' }).sheets
    expect(sheet?.ligated).toEqual(['53', '52', '51', '61', '62', '63'])
  })
})
