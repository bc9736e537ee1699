import { describe, expect, it } from 'vitest'
import type { AllergyRecord } from '#shared/allergies/allergy-record.ts'
import { ALLERGY_COMMANDS } from '#shared/allergies/commands.ts'
import { judgeAllergies } from '#shared/allergies/conflicts.ts'
import { judgeLatexRoom } from '#shared/allergies/latex.ts'
import type { AllergySight } from '#shared/allergies/sight.ts'
import { must } from '#shared/base/assert.ts'
import type { Agreed } from '#shared/isolation/isolation-facts.ts'
import { RULES } from '#shared/rules.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { sayToDesk } from '#shared/words/en.ts'
import {
  allergy,
  askedOn,
  askedToday,
  LATEX_TRAY,
  NON_LATEX,
  record,
  said,
  sight,
  trayOfKits,
  trayOfLines,
} from '../support/allergy-facts.ts'
import {
  at,
  bareClinic,
  book,
  linesOf,
  PEOPLE,
  performed,
  redrawn,
  trayOf,
  withTray,
} from '../support/tray-clinic.ts'

const judged = (more: Partial<AllergySight>) => judgeAllergies(sight(more))
const rules = (more: Partial<AllergySight>) => judged(more).map(({ rule }) => rule)
const open = (more: Partial<AllergySight>) => judged(more).filter(({ level }) => level !== 'note')
const none = { state: 'none-known', asked: askedToday, latex: 'none-known', latexAsked: askedToday } as const
const confirmed = record({ ...none, state: 'listed', latex: 'confirmed' })

describe('case 34 it was in the chart and still happened', () => {
  it('the flag stands before anyone touches the patient, dam or no dam', () => {
    for (const tray of [NON_LATEX, trayOfKits('examination'), null]) {
      expect(rules({ record: confirmed, stage: 'expected', tray })).toContain('latex/confirmed')
    }
  })
  it('no tray is ready while a line is latex or unknown, gloves included, at a hygiene visit too', () => {
    const gloves = trayOfLines({ 'examination gloves': { latex: 'contains' } })
    expect(open({ record: confirmed, tray: gloves })).toMatchObject([
      { rule: 'latex/conflict', level: 'stop' },
    ])
    expect(RULES['latex/conflict'].gate).toBe('seat')
    const unknown = trayOfLines({ 'examination gloves': {} })
    expect(open({ record: confirmed, tray: unknown })).toMatchObject([{ rule: 'latex/line-unknown' }])
  })
})

describe('case 35 three visits of itching before anyone asked', () => {
  const fruit = allergy('latex-foods', { text: 'banana, kiwi, avocado' })
  it('visit 1: fruit allergy and latex unknown: use non-latex and ask', () => {
    const first = rules({
      record: record({ state: 'listed', asked: askedToday, allergies: [fruit] }),
      stage: 'seated',
    })
    expect(first).toEqual(expect.arrayContaining(['latex/food-prompt', 'latex/not-asked']))
  })
  it('after the note latex is suspected until a clinician clears it', () => {
    const { world } = book(bareClinic())
    const patientId = world.patient[0]?.id
    const noted = performed(ALLERGY_COMMANDS['reaction.record'], {
      world,
      input: { patientId, text: 'itchy lips under dam', severity: 'mild' },
      by: PEOPLE.ana,
    })
    expect(noted.allergyRecord[0]).toMatchObject({
      latex: 'suspected',
      allergies: [{ substance: 'latex', certainty: 'suspected', text: 'itchy lips under dam' }],
    })
    expect(rules({ record: noted.allergyRecord[0] ?? null, tray: LATEX_TRAY })).toContain(
      'latex/suspected-line',
    )
    const cleared = performed(ALLERGY_COMMANDS['allergies.clear'], {
      world: noted,
      input: { patientId, substance: 'latex', reason: 'specialist letter' },
      by: PEOPLE.dentist,
    })
    expect(cleared.allergyRecord[0]?.latex).toBe('none-known')
  })
})

describe('case 36 blank is not "no"', () => {
  const blanks = [
    null,
    record(),
    record({ statements: said('NKDA') }),
    record({ statements: said('no drug allergies') }),
  ]
  it.each(blanks)('latex is unknown: later with a non-latex kit, asked once seated (%#)', (blank) => {
    expect(open({ record: blank })).toEqual([])
    expect(rules({ record: blank })).toContain('allergies/ask-at-seating')
    expect(rules({ record: blank, stage: 'seated' })).toContain('latex/not-asked')
  })
  it.each(blanks)('held at the clamp only if a line contains or may contain latex (%#)', (blank) => {
    const clampGate = open({ record: blank, stage: 'injected' }).filter(
      ({ rule }) => RULES[rule].gate === 'clamp',
    )
    expect(clampGate).toEqual([])
    const withLatex = open({ record: blank, stage: 'injected', tray: LATEX_TRAY })
    expect(withLatex.map(({ rule }) => rule)).toContain('latex/unasked-line')
    const silent = trayOfLines({ 'files with stops': { latex: 'unknown' } })
    const mayHaveLatex = open({ record: blank, stage: 'injected', tray: silent })
    expect(mayHaveLatex.map(({ rule }) => rule)).toContain('latex/unknown-kit')
    expect(RULES['latex/unknown-kit'].gate).toBe('clamp')
  })
  it('"asked, none" stores who and when, and ages out', () => {
    expect(rules({ record: record(none), stage: 'seated' })).toEqual([])
    const old = { ...none, asked: askedOn('2025-10-01'), latexAsked: askedOn('2025-10-01') }
    expect(rules({ record: record(old), stage: 'seated' })).toEqual(
      expect.arrayContaining(['latex/not-asked', 'allergies/aged-out']),
    )
  })
})

describe('case 37 "sensitive to gloves"', () => {
  it.each(['sensitive to gloves', 'rubber makes her itch', 'lip swelled w/ balloons', "can't wear plasters"])(
    '“%s” is possible latex, asked in its own words',
    (text) => {
      expect(judged({ record: record({ statements: said(text) }) })[0]).toMatchObject({
        rule: 'latex/possible',
        text,
      })
    },
  )
  it('“NO latex allergy” is no alert, and is shown as text', () => {
    const shown = judged({ record: record({ statements: said('NO latex allergy') }) })
    expect(shown.filter(({ level }) => level !== 'note')).toEqual([])
    expect(shown).toContainEqual(
      expect.objectContaining({ rule: 'latex/said-none', text: 'NO latex allergy' }),
    )
  })
  it('“allergic to late fees” is nothing', () => {
    expect(rules({ record: record({ ...none, statements: said('allergic to late fees') }) })).toEqual([])
  })
  it('nothing read out of text is ever confirmed', () => {
    const words = record({ statements: said('latex', 'LATEX ALLERGY!!', 'anaphylaxis to latex') })
    expect(judged({ record: words, tray: LATEX_TRAY }).some(({ level }) => level === 'stop')).toBe(false)
  })
})

describe('case 38 allergic since last time', () => {
  it.each(['surgery x3, catheter', 'spina bifida'])(
    'the old "none" expires, and “%s” is high risk',
    (text) => {
      const old = { ...none, asked: askedOn('2025-09-24'), latexAsked: askedOn('2025-09-24') }
      const patient = { ...sight().patient, history: [{ text, by: null, at: at('08:30') }] }
      const found = rules({ record: record(old), patient, stage: 'seated' })
      expect(found).toEqual(
        expect.arrayContaining(['latex/not-asked', 'latex/high-risk', 'allergies/aged-out']),
      )
    },
  )
})

describe('case 39 not just the dam: walk the whole tray', () => {
  const items = [
    'dam sheet',
    'gloves',
    'elastic stabilising cord',
    'anaesthetic cartridge',
    'polishing cup',
    'bite block',
    'file stops',
    'bite-wing tab',
    'nose mask',
    'BP cuff',
    'gutta-percha points',
  ]
  const tray = trayOfLines(Object.fromEntries(items.map((item) => [item, {}])))
  it('every line is latex-free by label, or asked; gutta-percha is a line of information', () => {
    const unknown = judged({ record: confirmed, tray }).find(({ rule }) => rule === 'latex/line-unknown')
    expect(unknown).toMatchObject({ lines: items.filter((item) => item !== 'gutta-percha points') })
    expect(rules({ record: confirmed, tray })).toContain('latex/related')
  })
  it('a cartridge is amber, read off its label, not red', () => {
    const cartridge = trayOfLines({ 'anaesthetic cartridge': {} })
    expect(open({ record: confirmed, tray: cartridge })).toMatchObject([
      { rule: 'latex/line-unknown', level: 'ask', lines: ['anaesthetic cartridge'] },
    ])
  })
  it.each([
    ['elastic stabilising cord', 'floss'],
    ['polishing cup', 'a brush or a latex-free cup'],
  ])('%s is swapped for %s', (item, swap) => {
    const one = trayOfLines({ [item]: { latex: 'contains' } })
    expect(open({ record: confirmed, tray: one })).toMatchObject([{ lines: [{ line: item, swap }] }])
  })
})

describe('case 39 the tray is laid out from the plan: floss, where the plan bars the cord', () => {
  /** Clamp on 47, loose at 44. MEMORY: cord gives way to floss; LIMITED_1D2M. */
  const quadrant: Partial<Agreed> = {
    sheets: [
      {
        field: ['47', '46', '45', '44'],
        anchor: '47',
        clamps: [{ tooth: '47', family: 'MOLAR_W_ACTIVE', role: 'anchor' }],
        holes: [],
        slit: [],
      },
    ],
  }
  const laidOut = (latex: AllergyRecord['latex'], agreed: Partial<Agreed> = quadrant) => {
    const { world, appointmentId } = book(bareClinic(), { agreed })
    const [patient] = world.patient
    const known = { ...record({ ...none, latex }), patientId: must(patient, 'a patient').id }
    const laid = withTray({ ...world, allergyRecord: [known] }, appointmentId)
    const lines = linesOf(laid, trayOf(laid, appointmentId).id)
    return lines.map(({ item, count }) => [item, count] as const)
  }
  it.each(['confirmed', 'suspected'] as const)('latex %s: floss for the far end, no cord', (latex) => {
    const lines = laidOut(latex)
    expect(lines.map(([item]) => item)).not.toContain('cord')
    expect(lines).toContainEqual(['floss/far-end', 1])
  })
  it.each(['none-known', 'not-asked'] as const)('latex %s: the cord, made without latex', (latex) => {
    const items = laidOut(latex).map(([item]) => item)
    expect(items).toContain('cord')
    expect(items).not.toContain('floss/far-end')
  })
  it('one tooth has no far end: no cord where it is barred, and no floss more than the kit has', () => {
    const items = laidOut('confirmed', {}).map(([item]) => item)
    expect(items).not.toContain('cord')
    expect(items).not.toContain('floss/far-end')
  })
  it('front teeth without a clamp: floss at both ends, whatever is known of latex', () => {
    const front = { field: ['13', '12', '11'] as Tooth[], anchor: null, clamps: [], holes: [], slit: [] }
    expect(laidOut('none-known', { sheets: [front] })).toContainEqual(['floss/far-end', 2])
  })
  it('a slit is held by a wedge (JADA slit: READ)', () => {
    const slit = { ...must(quadrant.sheets?.[0], 'a sheet'), slit: ['47', '46', '45', '44'] as Tooth[] }
    expect(laidOut('none-known', { sheets: [slit] })).toContainEqual(['wedge', 1])
  })
  it('told in the chair that it is latex: the cord leaves the tray and floss comes, the rest stays', () => {
    const { world, appointmentId } = book(bareClinic(), { agreed: quadrant })
    const laid = withTray(world, appointmentId)
    const known = {
      ...record({ ...none, latex: 'confirmed' }),
      patientId: must(world.patient[0], 'a patient').id,
    }
    const { put, remove } = redrawn({ ...laid, allergyRecord: [known] }, appointmentId)
    const lines = linesOf(laid, trayOf(laid, appointmentId).id)
    const added = put.trayLine?.filter((line) => !lines.some(({ id }) => id === line.id))
    expect(added?.map(({ item }) => item)).toEqual(['floss/far-end'])
    const cord = lines.filter(({ item }) => item === 'cord')
    expect(remove.trayLine).toEqual(cord.map(({ id }) => id))
  })
})

describe('case 41 latex-free box, latex room; and a preference that is not an allergy', () => {
  it('the desk is offered the first slot or a latex-free room; the room gets its task', () => {
    const findings = judgeLatexRoom({
      latex: 'confirmed',
      latexSafe: false,
      latexUsed: true,
      isFirst: false,
      about: 'appointment:1',
    })
    expect(findings.map((finding) => [finding.rule, sayToDesk(finding)])).toEqual([
      ['latex/room', 'Offer the first slot of the day, or a room marked latex-free.'],
      ['latex/wipe-down', null],
    ])
  })
  it('“prefers latex-free (not allergic)” is a wish: no flag, no stop', () => {
    const wish = record({ ...none, statements: said('prefers latex-free (not allergic)') })
    expect(judged({ record: wish, tray: LATEX_TRAY })).toMatchObject([
      { rule: 'latex/preference', level: 'note' },
    ])
  })
})
