import { describe, expect, test } from 'vitest'
import { answerPlan } from '#server/command-line/plan.ts'

interface Printed {
  need: { level: string; source: string }
  state: string
  version: string
  sheets: {
    field: string[]
    anchor: string | null
    clamps: { tooth: string; family: string; role: string }[]
    holes: { tooth: string; size: number; xMm: number; yMm: number }[]
  }[]
  alternative: unknown
  assumed: string[]
  findings: { rule: string; level: string; about: string; text: string }[]
}
const ask = (request: object): { plan: Printed; exit: number } => {
  const { body, exit } = answerPlan(request)
  return { plan: JSON.parse(JSON.stringify(body)), exit }
}

describe('plan on the command line', () => {
  test('answers in the shape outsiders rely on', () => {
    const { plan, exit } = ask({
      procedure: 'root-canal',
      text: 'RCT 36',
      teeth: ['36'],
      surfaces: ['M', 'O'],
      ageYears: 34,
      mouth: { 37: ['missing'], 35: ['pontic'] },
      policy: 'ENDO_SINGLE',
      holeScheme: 'S5',
      anchorHole: 'fixed-5',
      sheet: { widthMm: 150, heightMm: 150 },
      allergies: { latex: 'none-known' },
    })
    expect(exit).toBe(0)
    expect(plan).toMatchObject({
      need: { level: 'required', source: expect.stringContaining('AAE') },
      state: 'planned',
      version: expect.stringMatching(/^sha256:[0-9a-f]{64}$/),
      sheets: [
        {
          field: ['36'],
          anchor: '36',
          clamps: [{ tooth: '36', family: 'MOLAR_W_PASSIVE', role: 'anchor' }],
          holes: [{ tooth: '36', size: 5, xMm: 100.9, yMm: 75 }],
        },
      ],
      alternative: null,
      assumed: [],
    })
  })

  test('takes work of several kinds with surfaces by tooth', () => {
    const work = [
      { procedure: 'direct-composite', teeth: ['84', '85'], surfaces: { 84: ['D', 'O'], 85: ['M', 'O'] } },
    ]
    const { plan } = ask({ work, mouth: {}, anchorHole: 'fixed-5' })
    expect(plan.sheets[0]?.holes.map(({ tooth, size }) => `${tooth}:${size}`)).toEqual([
      '85:5',
      '84:4',
      '83:3',
    ])
  })

  test('recognises text, and leaves what it does not recognise undetermined', () => {
    expect(ask({ text: 'comp 46 MO', mouth: {} }).plan.sheets[0]?.anchor).toBe('47')
    expect(ask({ text: 'broken tooth UR' }).plan).toMatchObject({ state: 'undetermined', sheets: [] })
    expect(ask({ text: 'check-up' }).plan).toMatchObject({ state: 'not-needed', sheets: [], findings: [] })
  })

  test('a number legal in two systems is asked when the notation is', () => {
    const { plan } = ask({ text: 'Root canal, tooth 31', notation: 'ask' })
    expect(plan.sheets).toEqual([])
    expect(plan.findings.map(({ rule }) => rule)).toContain('tooth/ambiguous')
  })

  test('speaks another notation where it is named', () => {
    const request = {
      procedure: 'root-canal',
      teeth: ['30'],
      mouth: { 31: ['missing'] },
      notation: 'universal',
    }
    expect(ask(request).plan.sheets[0]?.field).toEqual(['46'])
  })

  test('[mouth/not-charted] without a mouth several teeth stay a draft, with {} all stand', () => {
    const request = { procedure: 'direct-composite', teeth: ['46'], surfaces: ['M', 'O'], ageYears: 34 }
    expect(ask(request).plan.findings.map(({ rule }) => rule)).toContain('mouth/not-charted')
    expect(ask(request).plan.state).toBe('draft')
    expect(ask({ ...request, mouth: {} }).plan.state).toBe('planned')
    expect(ask({ procedure: 'root-canal', teeth: ['46'] }).plan.state).toBe('planned')
  })

  test('[field/tooth-not-standing] a treated tooth charted as not there is asked about, and gets no hole', () => {
    const { plan } = ask({ procedure: 'root-canal', teeth: ['46'], mouth: { 46: ['missing'] } })
    expect([plan.state, plan.sheets]).toEqual(['draft', []])
    expect(plan.findings.map(({ rule }) => rule)).toContain('field/tooth-not-standing')
  })

  test('[field/no-tooth] work that names no tooth is asked about', () => {
    const { plan } = ask({ procedure: 'root-canal', teeth: [], mouth: {} })
    expect([plan.state, plan.sheets]).toEqual(['draft', []])
    expect(plan.findings.map(({ rule }) => rule)).toContain('field/no-tooth')
  })

  test('[field/policy-silent] a policy that says nothing of the tooth is not stretched in silence', () => {
    const request = {
      procedure: 'direct-composite',
      teeth: ['46'],
      surfaces: ['M', 'O'],
      mouth: {},
      policy: 'ASSIST_ANT',
    }
    const { plan } = ask(request)
    expect(plan.state).toBe('draft')
    expect(plan.findings.map(({ rule }) => rule)).toContain('field/policy-silent')
  })

  test('[field/pontic] a bridge inside the field is one slit, and the pontic gets no hole', () => {
    const mouth = { 36: ['pontic'], 35: ['abutment'], 37: ['abutment'] }
    const { plan } = ask({
      procedure: 'direct-composite',
      teeth: ['34'],
      surfaces: ['O', 'D'],
      mouth,
      policy: 'STURDEVANT_WIDE',
    })
    expect(plan.sheets[0]?.holes.map(({ tooth }) => tooth)).not.toContain('36')
    expect(plan.findings.map(({ rule }) => rule)).toContain('field/pontic')
  })

  test.each([
    {},
    { procedure: 'root-canal', teeth: ['99'] },
    { procedure: 'bridge-building', teeth: ['36'] },
    { procedure: 'root-canal', teeth: ['36'], mouth: { 99: ['missing'] } },
    { procedure: 'root-canal', teeth: ['36'], sheet: { widthMm: 5, heightMm: 5 } },
    'RCT 36',
    null,
  ])('bad usage is refused in three parts, with exit 2: %j', (request) => {
    const { body, exit } = answerPlan(request)
    expect(exit).toBe(2)
    expect(body).toMatchObject({ refused: true, findings: [{ level: 'stop' }] })
    expect(JSON.stringify(body).split('. ').length).toBeGreaterThanOrEqual(3)
  })
})
